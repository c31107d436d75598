//! The aids in another language than the policy's: its words, and why they may be printed only as a draft.
//!
//! In: a checked policy and a word file. Out: a [`Translation`]. Must never let stale, unsigned or unfinished words pass as
//! words in force, nor leave out that the original prevails.

use super::marking;
use super::plan::Marking;
use super::words::{Words, say};
use crate::policy::Policy;
use crate::session::Checked;
use crate::translation::{Lacks, WordFile, translated};

pub struct Translation {
    pub policy: Policy,
    pub words: Words,
    /// Its reasons are in both languages.
    pub marking: Option<Marking>,
    /// Who answers for it, and what prevails; in the language of the aid.
    pub signed: String,
    pub told: Told,
}

/// What is said of a translation to whoever prints, each a sentence.
pub struct Told {
    /// What its aids are marked with, in the program's own language.
    pub marking: Option<Marking>,
    /// What the word file lacks, has too much of, or does not say understandably.
    pub lines: Vec<String>,
}

impl Translation {
    pub fn of(checked: &Checked, language: &str, file: &WordFile) -> Translation {
        let original = &checked.reading.policy;
        let own = Words::of(language).0;
        let translated = translated(original, file);
        let lacks = Lacks::of(file, &translated, &checked.fingerprint);
        let words = Words { lexicon: translated.lexicon, ..own.clone() };
        let unapproved = are_own_words_unapproved(&words);
        let told = |words: &Words| {
            let own = unapproved.then(|| own_words_unapproved(words));
            std::iter::once(prevails(original, words)).chain(lacking_in(lacks, words)).chain(own).collect::<Vec<_>>()
        };
        let is_draft = unapproved || lacks != Lacks::default();
        let of_translation = |words: &Words| if is_draft { told(words) } else { Vec::new() };
        let marking = marking::of(checked, &words, of_translation);
        let lacks = translated.missing.iter().map(|(kind, text)| format!("No words for: {} \"{text}\".", kind.word()));
        let idle = translated.idle.iter();
        let idle = idle.map(|line| format!("Line {line} translates a text that the policy does not have."));
        let mistakes = file.mistakes.iter().map(|mistake| format!("Line {}: {}", mistake.line, mistake.why));
        let told = Told {
            marking: marking::of(checked, Words::english(), of_translation),
            lines: mistakes.chain(lacks).chain(idle).collect(),
        };
        let signed = format!("{} {}", signed(&words, file), prevails(original, &words));
        Translation { policy: translated.policy, marking, signed: signed.trim().to_owned(), told, words }
    }
}

/// What a word file lacks, in the program's own language, each a sentence.
pub fn lacking(lacks: Lacks) -> Vec<String> {
    lacking_in(lacks, Words::english())
}

fn lacking_in(lacks: Lacks, words: &Words) -> Vec<String> {
    let lacks = [
        (lacks.stale, "stale", 0),
        (lacks.unsigned, "unsigned", 0),
        (lacks.unchecked, "unchecked", 0),
        (lacks.missing > 0, "missing", lacks.missing),
        (lacks.mistaken > 0, "mistaken", lacks.mistaken),
    ];
    let told = |key: &str, count: usize| say(&words.translation, key, &[("count", &count.to_string())]);
    lacks.into_iter().filter(|(is_so, ..)| *is_so).map(|(_, key, count)| told(key, count)).collect()
}

/// Words that nobody has approved print a draft; the original needs nobody.
pub fn are_own_words_unapproved(words: &Words) -> bool {
    !words.original && words.approved_by.is_none()
}

pub fn own_words_unapproved(words: &Words) -> String {
    say(&words.translation, "words_unapproved", &[])
}

/// `Translation of edition 3; the English text prevails.`
fn prevails(policy: &Policy, words: &Words) -> String {
    match policy.paper.edition {
        Some(number) => say(&words.translation, "prevails", &[("number", &number.to_string())]),
        None => say(&words.translation, "prevails_unnumbered", &[]),
    }
}

/// `Translated by … on …, checked back by … on ….`
fn signed(words: &Words, file: &WordFile) -> String {
    let Some(by) = &file.translated else { return String::new() };
    let (checker, checked) = match &file.checked_back {
        Some(checked) => (checked.by.clone(), words.day(checked.on)),
        None => (String::new(), String::new()),
    };
    let date = words.day(by.on);
    let slots = [("by", by.by.as_str()), ("date", &date), ("checker", &checker), ("checked", &checked)];
    format!("{}.", say(&words.translation, "signed", &slots))
}
