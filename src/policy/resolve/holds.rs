//! Hold points: who confirms what, and what happens if it is not so.
//!
//! In: the lines beneath a `hold`, and the titles of the sequence. Out: the hold, with the step at which it begins again.

use std::collections::BTreeMap;

use super::Resolution;
use super::titles::{Bearer, fold};
use crate::policy::{Act, Hold, IfNot, Part, RoleId, Step};
use crate::syntax::problem::{Problem, ProblemKind};
use crate::syntax::tree::{Line, Quote, Statement};
use crate::text::Span;

/// A hold whose way out waits for the titles of the whole sequence.
pub(super) struct Pending<'a> {
    pub step: usize,
    pub title: &'a Quote,
    pub goes_back: bool,
    pub span: Span,
}

impl Resolution<'_> {
    /// One line beneath a hold; a second way out contradicts the first.
    pub(super) fn hold_line<'a>(
        &mut self,
        step: &mut Step,
        at: usize,
        line: &'a Line,
        says: &'a Statement,
        pending: &mut Vec<Pending<'a>>,
    ) {
        match says {
            Statement::Confirms { role, what } => {
                let Some(role) = self.role_id(role) else { return };
                let Act::Hold(hold) = &mut step.act else { return };
                if hold.confirms.is_empty() {
                    step.actor = role;
                }
                hold.confirms.push((role, what.text.clone()));
            }
            Statement::IfNotGoBack(title) | Statement::IfNotStart(title) => {
                if let Some(first) = pending.last().filter(|other| other.step == at) {
                    let first = first.span;
                    return self.again(line.span, Some(first));
                }
                let goes_back = matches!(says, Statement::IfNotGoBack(_));
                pending.push(Pending { step: at, title, goes_back, span: line.span });
            }
            _ => {}
        }
    }

    /// Gives every hold its way out, once all parts are known. `own`: the title of the sequence or contingency itself.
    pub(super) fn settle_holds(&mut self, own: &Quote, parts: &[Part], steps: &mut [Step], pending: &[Pending]) {
        let mut begins: BTreeMap<String, (usize, &str)> = BTreeMap::from([(fold(&own.text), (0, own.text.as_str()))]);
        for part in parts {
            begins.insert(fold(&part.title), (part.first.min(steps.len().saturating_sub(1)), part.title.as_str()));
        }
        for way in pending {
            let settled = if way.goes_back { self.way_back(&begins, way) } else { self.way_on(way) };
            if let Some(Step { act: Act::Hold(hold), .. }) = steps.get_mut(way.step) {
                hold.if_not = Some(settled);
            }
        }
    }

    /// `begins`: the step at which each title of this sequence begins, by the folded title.
    fn way_back(&mut self, begins: &BTreeMap<String, (usize, &str)>, way: &Pending) -> IfNot {
        let wanted = fold(&way.title.text);
        if let Some(&(step, title)) = begins.get(&wanted) {
            return IfNot::GoBack { title: title.to_owned(), step };
        }
        let what = match self.titles.find(&way.title.text) {
            Some(Bearer::Unresolved) => return IfNot::Nowhere,
            Some(_) => "a part of this sequence, not another sequence",
            None => "a part of this sequence",
        };
        let near =
            if self.titles.may_compare() { super::near(&wanted, begins.keys().map(String::as_str)) } else { None };
        let near = near.and_then(|near| begins.get(near.name)).map(|&(_, title)| title.to_owned());
        let borne = self.titles.place_of(&way.title.text);
        let related = borne.map(|span| (span, "This other title is meant.".to_owned())).into_iter().collect();
        let kind = ProblemKind::Title { written: way.title.text.clone(), what, near };
        self.names.problems.push(Problem { kind, span: way.title.span, related });
        IfNot::Nowhere
    }

    fn way_on(&mut self, way: &Pending) -> IfNot {
        match self.sequence_titled(way.title) {
            Some(sequence) => IfNot::Start { title: way.title.text.clone(), sequence },
            None => IfNot::Nowhere,
        }
    }

    /// The sequence of a title; a title that no sequence bears is told.
    pub(super) fn sequence_titled(&mut self, title: &Quote) -> Option<crate::policy::SequenceId> {
        match self.titles.find(&title.text) {
            Some(Bearer::Sequence(id)) => return Some(id),
            Some(Bearer::Unresolved) => return None,
            Some(Bearer::Contingency(_)) | None => {}
        }
        let near = self.titles.near_sequence(&title.text);
        let kind = ProblemKind::Title { written: title.text.clone(), what: "a sequence", near };
        self.names.tell((fold(&title.text), "a title"), title.span, kind);
        None
    }

    /// Who answers for a hold that nobody confirms yet: an observer if there is one.
    pub(super) fn stand_in(&self) -> Option<RoleId> {
        let at = self.policy.roles.iter().position(|role| role.watches);
        let first = if self.policy.roles.is_empty() { None } else { Some(0) };
        at.or(first).map(RoleId::new)
    }

    pub(super) fn new_hold(title: &Quote) -> Hold {
        Hold { title: title.text.clone(), confirms: Vec::new(), if_not: None }
    }
}
