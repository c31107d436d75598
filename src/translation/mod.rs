//! A policy's own words in another language: what a word file beside the policy says, and what it leaves unsaid.
//!
//! In: a policy and a word file. Out: the same policy in other words, a [`Lexicon`] of their forms, and what is missing.
//! Must never change what the policy decides, nor let a text that is not translated pass as one that is.

mod lacks;
mod lexicon;
mod word_file;
mod writing;

use std::collections::BTreeSet;

pub use lacks::Lacks;
pub use lexicon::{Lexicon, Word};
pub use word_file::{Allowed, Mistake, Signed, WordFile, is_tag};
pub use writing::written;

use crate::policy::Policy;
use crate::policy::texts::{self, TextKind};

/// A policy in another language.
pub struct Translated {
    pub policy: Policy,
    pub lexicon: Lexicon,
    /// Texts without a translation, each once, in the policy's order.
    pub missing: Vec<(TextKind, String)>,
    /// Texts of the word file that the policy does not have, by their lines.
    pub idle: Vec<usize>,
}

/// What a text is printed as where the word file has no words for it: marked, so that nobody takes it for a translation.
fn untranslated(text: &str) -> String {
    format!("[en: {text}]")
}

pub fn translated(policy: &Policy, file: &WordFile) -> Translated {
    let mut policy = policy.clone();
    let mut lexicon = Lexicon::default();
    let (mut missing, mut told, mut used) = (Vec::new(), BTreeSet::new(), BTreeSet::new());
    texts::each(&mut policy, &mut |kind, text| {
        if text.trim().is_empty() {
            return;
        }
        let entry = file.entry(kind, text);
        used.extend(entry.map(|entry| entry.line));
        let (target, word) = match entry.filter(|entry| !entry.target.trim().is_empty()) {
            Some(entry) => (entry.target.clone(), Word::of(text, entry)),
            None => {
                if told.insert((kind, text.clone())) {
                    missing.push((kind, text.clone()));
                }
                (untranslated(text), Word { source: text.clone(), ..Word::default() })
            }
        };
        lexicon.add(&target, word);
        *text = target;
    });
    let idle = file.entries.iter().map(|entry| entry.line).filter(|line| !used.contains(line)).collect();
    Translated { policy, lexicon, missing, idle }
}

/// Every text of a policy, each once, in the order of a word file: by kind, then as the policy has them.
pub fn texts_of(policy: &Policy) -> Vec<(TextKind, String)> {
    let mut found: Vec<(TextKind, String)> = Vec::new();
    let mut known = BTreeSet::new();
    texts::each(&mut policy.clone(), &mut |kind, text| {
        if !text.trim().is_empty() && known.insert((kind, text.clone())) {
            found.push((kind, text.clone()));
        }
    });
    found.sort_by_key(|(kind, _)| *kind);
    found
}
