//! The words of a translation with their forms, by the words themselves.
//!
//! In: entries of a word file. Out: the class and the forms of a word. Must never guess a form.

use std::collections::BTreeMap;

use super::word_file::Entry;

#[derive(Clone, Debug, Default)]
pub struct Lexicon {
    words: BTreeMap<String, Word>,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Word {
    /// What the policy says.
    pub source: String,
    /// `masculine`; empty where the word file says nothing.
    pub class: String,
    pub forms: BTreeMap<String, String>,
}

impl Word {
    pub(super) fn of(source: &str, entry: &Entry) -> Word {
        let forms = entry.forms.iter().cloned().collect();
        Word { source: source.to_owned(), class: entry.class.clone().unwrap_or_default(), forms }
    }
}

impl Lexicon {
    pub fn is_empty(&self) -> bool {
        self.words.is_empty()
    }

    /// The first of two words that look alike stands, with whatever forms the other adds.
    pub(super) fn add(&mut self, target: &str, word: Word) {
        let known = self.words.entry(target.to_owned()).or_insert_with(|| word.clone());
        if known.class.is_empty() {
            known.class = word.class;
        }
        for (form, words) in word.forms {
            known.forms.entry(form).or_insert(words);
        }
    }

    pub fn word(&self, target: &str) -> Option<&Word> {
        self.words.get(target)
    }

    /// What a text of the policy is in this language; the text itself where the lexicon has none.
    pub fn translated<'t>(&'t self, source: &'t str) -> &'t str {
        self.words.iter().find(|(_, word)| word.source == source).map_or(source, |(target, _)| target.as_str())
    }
}
