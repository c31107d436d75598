//! The words of one language: labels, sentence patterns and the rules by which names agree with them.
//!
//! In: the language that a policy names. Out: a [`Words`]. Must never hold a word of a policy, nor know what a step does.
//!
//! To add a language: a file beside `words/en-GB.json` with the same keys and one line in [`Words::of`].

use std::collections::BTreeMap;
use std::sync::LazyLock;

use serde::Deserialize;

use super::pattern::fill;
use super::plan::Labels;
use crate::policy::{Day, Seconds};

/// A table of patterns by their keys.
pub type Patterns = BTreeMap<String, String>;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Words {
    pub right_to_left: bool,
    pub kinds: Patterns,
    pub labels: Labels,
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
    pub area: Patterns,
    pub choice: Patterns,
    pub chart: Patterns,
    /// The areas of the body, as a chart names them.
    pub chart_areas: Patterns,
    pub time: Time,
    pub not_made: Patterns,
    /// The alternative texts of act pictograms.
    pub alt: Patterns,
}

/// How names are joined to sentences.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Nouns {
    pub the: String,
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

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Time {
    pub date: String,
    pub months: [String; 12],
    pub hour: [String; 2],
    pub minute: [String; 2],
    pub second: [String; 2],
}

static EN_GB: LazyLock<Words> =
    LazyLock::new(|| serde_json::from_str(include_str!("words/en-GB.json")).expect("the built-in words are tested"));

impl Words {
    /// The words of a BCP 47 language, and whether they are those that were asked for.
    pub fn of(language: &str) -> (&'static Words, bool) {
        let primary = language.split('-').next().unwrap_or_default();
        (&EN_GB, primary.eq_ignore_ascii_case("en"))
    }

    /// `2 November 2026`
    pub fn day(&self, day: Day) -> String {
        let date = day.0;
        let month = &self.time.months[(date.month() as usize - 1).min(11)];
        let (day, year) = (date.day().to_string(), date.year().to_string());
        fill(&self.time.date, &[("day", &day), ("month", month), ("year", &year)])
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
            .map(|(count, [one, many])| format!("{count} {}", if count == 1 { one } else { many }))
            .collect();
        if told.is_empty() { format!("0 {}", self.time.second[1]) } else { told.join(" ") }
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
        let name = name.to_lowercase();
        let end = self.nouns.name_ends_before.iter().filter_map(|mark| name.find(mark.as_str())).min();
        let last = name[..end.unwrap_or(name.len())].split_whitespace().last().unwrap_or_default();
        last.ends_with(&self.nouns.plural_ending)
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
        Words::of("en-GB").0
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

    #[test]
    fn lists_end_in_and() {
        let names = ["a", "b", "c"].map(String::from);
        assert_eq!(english().all_of(&names), "a, b and c");
        assert_eq!(english().any_of(&names[..2]), "a or b");
        assert_eq!(english().all_of(&[]), "");
    }
}
