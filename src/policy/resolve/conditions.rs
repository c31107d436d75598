//! Conditions: what they speak of, and when the steps beneath them happen.
//!
//! In: conditions as written. Out: facts, shared by all conditions of the same words, and guards over them.

use super::Resolution;
use super::names::{ITEM, QUESTION, TARGET, Wanted};
use crate::policy::{Area, Fact, FactId, FactKind, Guard, ItemId, Literal, QuestionId};
use crate::syntax::declared::Thing;
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Claim, Condition, Name, When};
use crate::text::Span;

/// No step depends on more alternatives than these: nobody could read them, and the checker must come to an end.
const MOST_ALTERNATIVES: usize = 64;

/// Nor on more answers in one alternative.
const MOST_ANSWERS: usize = 24;

/// What a condition or an event may be about.
const SUBJECT: Wanted =
    Wanted { kinds: &[Thing::Item, Thing::Role, Thing::Surface, Thing::Container, Thing::Place], what: "an item" };

impl Resolution<'_> {
    /// The guard of a clause at the end of a sentence, none where a name in it stands for nothing.
    pub(super) fn when(&mut self, when: &When) -> Option<Guard> {
        match when {
            When::Always => Some(Guard::always()),
            When::If(condition) => self.condition(condition),
            When::Unless(condition) => {
                let guard = self.condition(condition)?;
                self.negated(&guard, condition.span)
            }
        }
    }

    pub(super) fn condition(&mut self, condition: &Condition) -> Option<Guard> {
        let mut guard = Guard { any: Vec::new() };
        let mut whole = true;
        for alternative in &condition.any {
            let mut all = Guard::always();
            for claim in alternative {
                match self.claim(claim) {
                    Some(fact) => {
                        let literal = Literal { fact, holds: !claim.denied };
                        all = all.and(&Guard { any: vec![vec![literal]] });
                    }
                    None => whole = false,
                }
            }
            for alternative in all.any {
                if !guard.any.contains(&alternative) {
                    guard.any.push(alternative);
                }
            }
            if guard.any.len() > MOST_ALTERNATIVES {
                return self.too_many(condition.span);
            }
        }
        whole.then_some(guard)
    }

    pub(super) fn both(&mut self, outer: &Guard, inner: &Guard, span: Span) -> Option<Guard> {
        if outer.any.len().saturating_mul(inner.any.len()) > MOST_ALTERNATIVES {
            return self.too_many(span);
        }
        let both = outer.and(inner);
        if both.any.iter().any(|all| all.len() > MOST_ANSWERS) { self.too_many(span) } else { Some(both) }
    }

    pub(super) fn negated(&mut self, guard: &Guard, span: Span) -> Option<Guard> {
        let most = guard.any.iter().fold(1_usize, |product, all| product.saturating_mul(all.len().max(1)));
        if most > MOST_ALTERNATIVES { self.too_many(span) } else { Some(guard.not()) }
    }

    fn too_many(&mut self, span: Span) -> Option<Guard> {
        self.names.failed += 1;
        self.problem(ProblemKind::Branch { said: "more alternatives than can be looked at" }, span);
        None
    }

    fn claim(&mut self, claim: &Claim) -> Option<FactId> {
        let words = alike(&claim.words.text);
        let question = self.question(&words);
        if let Some(question) = question {
            let words = self.policy.choice.as_ref()?.questions.get(question.index())?.name.to_lowercase();
            return self.fact(words, FactKind::Asked(question));
        }
        let (Some(subject), Some(state)) = (&claim.subject, &claim.state) else {
            if self.speaks_of_a_thing(&words) && !self.names.nearest(&words, QUESTION).is_some_and(|near| near.sure) {
                let wanted = vec!["a thing, “is” or “are”, and what is so"];
                self.names.failed += 1;
                self.problem(ProblemKind::Line { seems: Some("if gown is soiled".into()), wanted }, claim.words.span);
                return None;
            }
            return self.find(&claim.words, QUESTION).map(QuestionId::new).and_then(|question| {
                let words = self.policy.choice.as_ref()?.questions.get(question.index())?.name.to_lowercase();
                self.fact(words, FactKind::Asked(question))
            });
        };
        if state.text == "supplied" {
            let item = self.find(subject, ITEM).map(ItemId::new)?;
            return self.fact(claim.words.text.clone(), FactKind::Supplied(item));
        }
        if self.names.peek(&subject.text, SUBJECT).is_none()
            && self.names.nearest(&claim.words.text, QUESTION).is_some_and(|near| near.sure)
        {
            let question = self.find(&claim.words, QUESTION).map(QuestionId::new)?;
            return self.fact(claim.words.text.clone(), FactKind::Asked(question));
        }
        let item = self.subject(subject)?;
        let state = &self.state(state);
        if state.text == "supplied"
            && let Some(item) = item
        {
            return self.fact(claim.words.text.clone(), FactKind::Supplied(item));
        }
        let kind = FactKind::Found { item, subject: bare(&subject.text).to_owned(), state: state.text.clone() };
        self.fact(claim.words.text.clone(), kind)
    }

    /// `mask does not fit`: begins with a thing of the policy, and is no question.
    fn speaks_of_a_thing(&self, words: &str) -> bool {
        let words = bare(words);
        words.match_indices(' ').any(|(at, _)| self.names.peek(&words[..at], SUBJECT).is_some())
    }

    /// What befalls a thing, in any words; one letter amiss in a word that the checks know is told and put right.
    fn state(&mut self, state: &Name) -> Name {
        const KNOWN: [&str; 5] = ["soiled", "visibly soiled", "clean to see", "supplied", "damaged"];
        let Some(meant) = KNOWN.into_iter().find(|known| strsim::osa_distance(known, &state.text) == 1) else {
            return state.clone();
        };
        let kind = ProblemKind::Word {
            written: state.text.clone(),
            what: "a state that the checks know",
            known: KNOWN.map(str::to_owned).to_vec(),
            near: Some(meant.to_owned()),
        };
        self.names.tell((state.text.clone(), "a state"), state.span, kind);
        Name { text: meant.to_owned(), span: state.span }
    }

    /// A question by its words, `is` and `are` alike.
    fn question(&self, words: &str) -> Option<QuestionId> {
        let choice = self.policy.choice.as_ref()?;
        let at = choice.questions.iter().position(|question| alike(&question.name.to_lowercase()) == words)?;
        Some(QuestionId::new(at))
    }

    /// The item that a condition or an event is about, if it is one. None: the subject is a mistyped name that stands for
    /// nothing. What is no name at all (`skin`, `the patient`) is taken as it is written.
    pub(super) fn subject(&mut self, subject: &Name) -> Option<Option<ItemId>> {
        if let Some((kind, index)) = self.names.peek(&subject.text, SUBJECT) {
            return Some((kind == Thing::Item).then(|| ItemId::new(index)));
        }
        if Area::from_word(bare(&subject.text)).is_some() {
            return Some(None);
        }
        if self.names.nearest(&subject.text, TARGET).is_some_and(|near| near.sure) {
            let (kind, index) = self.names.find(subject, TARGET)?;
            return Some((kind == Thing::Item).then(|| ItemId::new(index)));
        }
        Some(None)
    }

    /// The fact of a kind: the same one wherever the same words stand.
    fn fact(&mut self, words: String, kind: FactKind) -> Option<FactId> {
        let key = format!("{kind:?}");
        if let Some(&known) = self.facts.get(&key) {
            return Some(known);
        }
        if self.policy.facts.len() >= usize::from(u16::MAX) {
            return None;
        }
        let id = FactId::new(self.policy.facts.len());
        self.policy.facts.push(Fact { words, kind });
        self.facts.insert(key, id);
        Some(id)
    }
}

fn bare(text: &str) -> &str {
    super::names::without_article(text).unwrap_or(text)
}

/// `are` read as `is`.
fn alike(words: &str) -> String {
    words.split(' ').map(|word| if word == "are" { "is" } else { word }).collect::<Vec<_>>().join(" ")
}
