//! Titles in quotes: of sequences, contingencies, parts and holds, by which lines refer to them.
//!
//! In: the titles that are borne. Out: what a written title stands for. Case and spacing make no difference.

use std::collections::BTreeMap;

use super::near::near;
use crate::policy::SequenceId;
use crate::syntax::problem::{Problem, ProblemKind};
use crate::syntax::tree::Quote;
use crate::text::Span;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bearer {
    Sequence(SequenceId),
    Contingency(usize),
    /// A sequence or contingency that could not be resolved, and was told.
    Unresolved,
}

#[derive(Debug, Default)]
pub struct Titles {
    borne: BTreeMap<String, (Bearer, Span, String)>,
    /// What an exception may name besides: parts, holds, levels, the policy itself; by folded title.
    places: BTreeMap<String, String>,
    /// How many unknown titles were compared with the known ones.
    compared: usize,
}

/// Unknown titles that are compared with all the known ones.
const MOST_COMPARED: usize = 200;

impl Titles {
    /// The problem, if the title is borne already.
    pub fn add(&mut self, title: &Quote, bearer: Bearer) -> Option<Problem> {
        if let Some((first_bearer, first, _)) = self.borne.get(&fold(&title.text)) {
            let what = if matches!(first_bearer, Bearer::Contingency(_)) { "a contingency" } else { "a sequence" };
            let kind = ProblemKind::Twice { written: title.text.clone(), what };
            let related = vec![(*first, "It is used here first.".to_owned())];
            return Some(Problem { kind, span: title.span, related });
        }
        self.borne.insert(fold(&title.text), (bearer, title.span, title.text.clone()));
        None
    }

    pub fn add_place(&mut self, title: &str) {
        self.places.entry(fold(title)).or_insert_with(|| title.to_owned());
    }

    pub fn find(&self, title: &str) -> Option<Bearer> {
        self.borne.get(&fold(title)).map(|(bearer, ..)| *bearer)
    }

    pub fn place_of(&self, title: &str) -> Option<Span> {
        self.borne.get(&fold(title)).map(|&(_, span, _)| span)
    }

    /// Whether one more unknown title may be compared, which costs as much as there are titles.
    pub fn may_compare(&mut self) -> bool {
        self.compared += 1;
        self.compared <= MOST_COMPARED
    }

    /// The nearest title of a sequence, or of anything that an exception may name.
    pub fn near_sequence(&mut self, title: &str) -> Option<String> {
        if !self.may_compare() {
            return None;
        }
        let sequences = self.borne.iter().filter(|(_, (bearer, ..))| !matches!(bearer, Bearer::Contingency(_)));
        let folded = fold(title);
        let found = near(&folded, sequences.map(|(key, _)| key.as_str()))?;
        self.borne.get(found.name).map(|(.., written)| written.clone())
    }

    pub fn near_any(&mut self, title: &str) -> Option<String> {
        if !self.may_compare() {
            return None;
        }
        let folded = fold(title);
        let found = near(&folded, self.borne.keys().map(String::as_str))?;
        self.borne.get(found.name).map(|(.., written)| written.clone())
    }

    pub fn knows_place(&self, title: &str) -> bool {
        self.find(title).is_some() || self.places.contains_key(&fold(title))
    }

    pub fn near_place(&mut self, title: &str) -> Option<String> {
        if !self.may_compare() {
            return None;
        }
        let folded = fold(title);
        let found = near(&folded, self.borne.keys().chain(self.places.keys()).map(String::as_str))?;
        let borne = self.borne.get(found.name).map(|(.., written)| written);
        borne.or_else(|| self.places.get(found.name)).cloned()
    }
}

/// A title as it is compared.
pub fn fold(title: &str) -> String {
    super::outline::folded(title).replace('\u{2019}', "'")
}
