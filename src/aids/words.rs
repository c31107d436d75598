//! The words of one language: labels, sentence patterns and the rules by which names agree with them.
//!
//! In: the language that a policy names. Out: a [`Words`]. Must never hold a word of a policy, nor know what a step does.
//!
//! To add a language: a file beside `words/en-GB.json` with the same keys and one line in [`LANGUAGES`].

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::pattern::{fill, names};
use super::plan::Labels;
use crate::policy::{Cleaner, Day, Seconds};
use crate::translation::Lexicon;

/// A table of patterns by their keys.
pub type Patterns = BTreeMap<String, String>;

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    /// The language in which the program is written, which prevails.
    pub original: bool,
    /// Who has approved these words, a person who speaks the language; until then what is printed with them is a draft.
    pub approved_by: Option<String>,
    pub right_to_left: bool,
    pub counting: Counting,
    pub agreement: Agreement,
    /// What a translated aid says of its translation.
    pub translation: Patterns,
    /// The policy's own words in this language, with their forms; none where the policy is printed as written.
    #[serde(skip)]
    pub lexicon: Lexicon,
    pub kinds: Patterns,
    pub labels: Labels,
    /// What the faces of an edition are marked with that is not in force.
    pub marks: Patterns,
    pub signals: Patterns,
    pub control: Patterns,
    pub intro: Patterns,
    pub nouns: Nouns,
    pub acts: Patterns,
    pub voices: Patterns,
    pub areas: Patterns,
    pub details: Patterns,
    /// Words in the policy's own prompt after which a detail of ours would only say the same again.
    pub said_already: BTreeMap<String, Vec<String>>,
    pub when: Patterns,
    pub hold: Patterns,
    pub still_on: String,
    pub none_on: String,
    pub now_on: String,
    pub kit: Patterns,
    /// What forms, logs and records ask.
    pub forms: Patterns,
    pub sign: Patterns,
    /// What a change slip says of what is done otherwise.
    pub slip: Patterns,
    pub area: Patterns,
    pub choice: Patterns,
    pub chart: Patterns,
    /// The areas of the body, as a chart names them.
    pub chart_areas: Patterns,
    pub time: Time,
    /// Said to whoever prints, in the original only.
    #[serde(default)]
    pub not_made: Patterns,
    /// The alternative texts of act pictograms.
    pub alt: Patterns,
}

/// By which rule a number chooses among the forms of a word; after the plural rules of Unicode's CLDR.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Counting {
    /// 1; others.
    English,
    /// 1; 2 to 4 but not 12 to 14; others.
    Polish,
    /// 1; 2; those that end in 03 to 10; those that end in 11 to 99; others.
    Arabic,
}

impl Counting {
    /// The place of the form among the forms.
    pub fn form(self, count: u32) -> usize {
        match (self, count, count % 100) {
            (_, 1, _) => 0,
            (Counting::English, ..) => 1,
            (Counting::Polish, _, 12..=14) => 2,
            (Counting::Polish, ..) => {
                if matches!(count % 10, 2..=4) {
                    1
                } else {
                    2
                }
            }
            (Counting::Arabic, 2, _) => 1,
            (Counting::Arabic, _, 3..=10) => 2,
            (Counting::Arabic, _, 11..=99) => 3,
            (Counting::Arabic, ..) => 4,
        }
    }
}

/// How a language's names change with the sentence around them. English asks for nothing.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Agreement {
    /// What a word file can say of a name: `masculine`. The patterns of [`Agreement::nouns`] turn on it.
    pub classes: Vec<String>,
    /// The forms that a word file can give of a name: `acc`.
    pub forms: Vec<String>,
    /// In place of a pattern of [`Nouns`], by its key and a class: `the masculine`.
    pub nouns: Patterns,
    /// What is written of a name without the form that is asked for, so that no wrong form is: by kind of thing and form,
    /// `item:acc`.
    pub unformed: Patterns,
}

/// How names are joined to sentences.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Nouns {
    pub the: String,
    pub the_place: String,
    pub your: String,
    pub your_own: String,
    pub whose: String,
    pub fresh_one: String,
    pub fresh_many: String,
    pub you: String,
    pub yourself: String,
    pub the_person: String,
    pub part_of: String,
    pub it_one: String,
    pub it_many: String,
    pub its_one: String,
    pub its_many: String,
    pub hands: String,
    pub your_hands: String,
    pub gloved_hands: String,
    pub your_gloved_hands: String,
    pub area: String,
    pub list_comma: String,
    pub list_and: String,
    pub list_or: String,
    /// A name whose last word ends so is of many things, but for `singular_endings`.
    pub plural_ending: String,
    pub singular_endings: Vec<String>,
    /// Where the words that only describe begin: `powered hood with bib` is a hood.
    pub name_ends_before: Vec<String>,
}

#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Time {
    pub date: String,
    /// The first of a month: `1er octobre 2026`.
    pub date_first: String,
    pub months: [String; 12],
    /// A pattern for each form of [`Counting`].
    pub hour: Vec<String>,
    pub minute: Vec<String>,
    pub second: Vec<String>,
}

/// The languages that the aids speak, the original first; by primary BCP 47 tag.
#[rustfmt::skip]
static LANGUAGES: [(&str, LazyLock<Words>); 6] = [
    ("en", LazyLock::new(|| read(include_str!("words/en-GB.json")))),
    ("fr", LazyLock::new(|| read(include_str!("words/fr.json")))),
    ("cy", LazyLock::new(|| read(include_str!("words/cy.json")))),
    ("pl", LazyLock::new(|| read(include_str!("words/pl.json")))),
    ("ar", LazyLock::new(|| read(include_str!("words/ar.json")))),
    ("hi", LazyLock::new(|| read(include_str!("words/hi.json")))),
];

fn read(text: &str) -> Words {
    serde_json::from_str(text).expect("the built-in words are tested")
}

impl Words {
    /// The words of a BCP 47 language, and whether they are those that were asked for.
    pub fn of(language: &str) -> (&'static Words, bool) {
        let primary = language.split('-').next().unwrap_or_default();
        let found = LANGUAGES.iter().find(|(tag, _)| primary.eq_ignore_ascii_case(tag));
        (found.map_or_else(Words::english, |(_, words)| words), found.is_some())
    }

    /// The original: what prevails, and what the program says to whoever prints.
    pub fn english() -> &'static Words {
        &LANGUAGES[0].1
    }

    /// The primary tags of all languages.
    pub fn languages() -> Vec<&'static str> {
        LANGUAGES.iter().map(|(tag, _)| *tag).collect()
    }

    /// A name as a sentence takes it: by the pattern of `kind` (a key of [`Nouns`], or of its class's own), in the form that
    /// the sentence asks for. `thing`: of what kind its name is, where the name has no such form.
    pub fn noun(&self, kind: &str, usual: &str, thing: &str, form: &str, slots: &[(&str, &str)]) -> String {
        let main = slots.first().map(|&(_, name)| name).unwrap_or_default();
        let class = self.lexicon.word(main).map(|word| word.class.as_str()).unwrap_or_default();
        let own = self.agreement.nouns.get(&format!("{kind} {class}")).map(String::as_str);
        if let Some(phrase) = self.formed(own.unwrap_or(usual), form, slots) {
            return phrase;
        }
        let unformed = &self.agreement.unformed;
        let pattern = unformed.get(&format!("{thing}:{form}")).or_else(|| unformed.get(thing));
        pattern.map_or_else(|| main.to_string(), |pattern| fill(pattern, &[("name", main)]))
    }

    /// None where a name has not the form that the pattern asks for. `{name:*}`: in the form that is asked for around it.
    fn formed(&self, pattern: &str, form: &str, slots: &[(&str, &str)]) -> Option<String> {
        let pattern = if form.is_empty() { pattern.replace(":*", "") } else { pattern.replace('*', form) };
        let mut filled: Vec<(&str, &str)> = slots.to_vec();
        for name in names(&pattern) {
            let Some((slot, form)) = name.split_once(':') else { continue };
            let (_, words) = slots.iter().find(|(known, _)| *known == slot)?;
            filled.push((name, self.lexicon.word(words)?.forms.get(form)?));
        }
        Some(fill(&pattern, &filled))
    }

    pub fn is_soap(&self, cleaner: &Cleaner) -> bool {
        Cleaner { printed: self.original(&cleaner.printed).to_owned(), ..cleaner.clone() }.is_soap()
    }

    /// What the policy says where this is a translation of it; otherwise the words themselves.
    pub fn original<'t>(&'t self, text: &'t str) -> &'t str {
        self.lexicon.word(text).map_or(text, |word| word.source.as_str())
    }

    /// `2 November 2026`
    pub fn day(&self, day: Day) -> String {
        let date = day.0;
        let month = &self.time.months[(date.month() as usize - 1).min(11)];
        let (day, year) = (date.day().to_string(), date.year().to_string());
        let pattern = if date.day() == 1 { &self.time.date_first } else { &self.time.date };
        fill(pattern, &[("day", &day), ("month", month), ("year", &year)])
    }

    /// `1 minute 30 seconds`
    pub fn duration(&self, seconds: Seconds) -> String {
        let parts = [
            (seconds.0 / 3600, &self.time.hour),
            (seconds.0 / 60 % 60, &self.time.minute),
            (seconds.0 % 60, &self.time.second),
        ];
        let told: Vec<String> = parts
            .into_iter()
            .filter(|(count, _)| *count > 0)
            .map(|(count, forms)| self.counted(count, forms))
            .collect();
        if told.is_empty() { self.counted(0, &self.time.second) } else { told.join(" ") }
    }

    fn counted(&self, count: u32, forms: &[String]) -> String {
        let pattern = forms.get(self.counting.form(count)).or(forms.last());
        pattern.map(|pattern| fill(pattern, &[("count", &count.to_string())])).unwrap_or_default()
    }

    /// `a, b and c`
    pub fn all_of(&self, names: &[String]) -> String {
        self.joined(names, &self.nouns.list_and)
    }

    /// `a, b or c`
    pub fn any_of(&self, names: &[String]) -> String {
        self.joined(names, &self.nouns.list_or)
    }

    fn joined(&self, names: &[String], last: &str) -> String {
        match names {
            [] => String::new(),
            [one] => one.clone(),
            [most @ .., end] => format!("{}{last}{end}", most.join(&self.nouns.list_comma)),
        }
    }

    /// Whether a prompt says what a detail of ours would say.
    pub fn is_said(&self, detail: &str, prompts: &[String]) -> bool {
        let said = |prompt: &String| {
            let prompt = prompt.to_lowercase();
            self.said_already.get(detail).is_some_and(|marks| marks.iter().any(|mark| prompt.contains(mark.as_str())))
        };
        prompts.iter().any(said)
    }

    /// Whether a name is of many things, as sentences treat it: gloves, goggles, boots.
    pub fn is_many(&self, name: &str) -> bool {
        if let Some(word) = self.lexicon.word(name) {
            return Words::english().is_many(&word.source);
        }
        let name = name.to_lowercase();
        let end = self.nouns.name_ends_before.iter().filter_map(|mark| name.find(mark.as_str())).min();
        let last = name[..end.unwrap_or(name.len())].split_whitespace().last().unwrap_or_default();
        !self.nouns.plural_ending.is_empty()
            && last.ends_with(&self.nouns.plural_ending)
            && !self.nouns.singular_endings.iter().any(|ending| last.ends_with(ending.as_str()))
    }
}

/// A pattern of a table, filled; empty where the table has none of that key, which a test of the tables rules out.
pub fn say(table: &Patterns, key: &str, slots: &[(&str, &str)]) -> String {
    table.get(key).map(|pattern| fill(pattern, slots)).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn english() -> &'static Words {
        Words::english()
    }

    #[test]
    fn things_that_come_in_pairs_are_many() {
        for name in
            ["inner gloves", "goggles", "washable boots", "boot covers", "boots for the bath", "gloves, long cuff"]
        {
            assert!(english().is_many(name), "{name}");
        }
        for name in ["apron", "powered hood with ties", "harness", "one-piece suit", "breathing apparatus", "lens"] {
            assert!(!english().is_many(name), "{name}");
        }
    }

    #[test]
    fn times_and_days_are_told_in_words() {
        assert_eq!(english().duration(Seconds(30)), "30 seconds");
        assert_eq!(english().duration(Seconds(61)), "1 minute 1 second");
        assert_eq!(english().duration(Seconds(14400)), "4 hours");
        assert_eq!(english().day(Day::new(2026, 12, 1).unwrap()), "1 December 2026");
    }

    /// The plural rules of Unicode's CLDR for cardinal numbers: Polish, Arabic; from memory.
    #[test]
    fn numbers_choose_their_forms() {
        for (count, polish, arabic) in
            [(1, 0, 0), (2, 1, 1), (4, 1, 2), (5, 2, 2), (11, 2, 3), (12, 2, 3), (22, 1, 3), (30, 2, 3), (100, 2, 4)]
        {
            assert_eq!(Counting::Polish.form(count), polish, "{count}");
            assert_eq!(Counting::Arabic.form(count), arabic, "{count}");
            assert_eq!(Counting::English.form(count), usize::from(count != 1), "{count}");
        }
    }

    #[test]
    fn lists_end_in_and() {
        let names = ["a", "b", "c"].map(String::from);
        assert_eq!(english().all_of(&names), "a, b and c");
        assert_eq!(english().any_of(&names[..2]), "a or b");
        assert_eq!(english().all_of(&[]), "");
    }
}
