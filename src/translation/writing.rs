//! A word file with every text of a policy, to be filled in.
//!
//! In: a policy and what a word file says already. Out: the text of the file. Must never lose what somebody has written,
//! nor sign anything.

use std::collections::BTreeSet;
use std::fmt::Write;

use super::texts_of;
use super::word_file::{Entry, Signed, WordFile};
use crate::policy::Policy;

/// `fingerprint`: of the policy, for a file that names none yet. What a file names stays until a person changes it.
pub fn written(policy: &Policy, language: &str, fingerprint: &str, known: &WordFile) -> String {
    let title = policy.paper.title.as_deref().unwrap_or_default();
    let mut text = format!("words for \"{title}\" in {language}\n");
    signed(&mut text, "translated by", &known.translated);
    signed(&mut text, "checked back by", &known.checked_back);
    let _ = writeln!(text, "of fingerprint {}", known.fingerprint.as_deref().unwrap_or(fingerprint));
    if !known.notes.is_empty() {
        text.push('\n');
        known.notes.iter().for_each(|note| line(&mut text, note));
    }
    let mut before = None;
    let mut kept = BTreeSet::new();
    for (kind, source) in texts_of(policy) {
        if before.replace(kind) != Some(kind) {
            text.push('\n');
        }
        match known.entry(kind, &source) {
            Some(entry) => {
                kept.insert(entry.line);
                put(&mut text, entry);
            }
            None => line(&mut text, &format!("{} \"{source}\" is \"\"", kind.word())),
        }
    }
    let mut idle = known.entries.iter().filter(|entry| !kept.contains(&entry.line)).peekable();
    if idle.peek().is_some() {
        text.push('\n');
    }
    idle.for_each(|entry| put(&mut text, entry));
    text
}

fn line(text: &mut String, line: &str) {
    text.push_str(line);
    text.push('\n');
}

fn signed(text: &mut String, words: &str, signed: &Option<Signed>) {
    if let Some(Signed { by, on }) = signed {
        let _ = writeln!(text, "{words} \"{by}\" on {on}");
    }
}

fn put(text: &mut String, entry: &Entry) {
    entry.notes.iter().for_each(|note| line(text, note));
    let _ = write!(text, "{} \"{}\" is \"{}\"", entry.kind.word(), entry.source, entry.target);
    if let Some(class) = &entry.class {
        let _ = write!(text, ", {class}");
    }
    for (form, words) in &entry.forms {
        let _ = write!(text, ", {form} \"{words}\"");
    }
    text.push('\n');
}
