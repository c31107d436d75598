//! When steps happen: how many of some at most in one case, and whether one is for a torn item alone.
//!
//! In: steps with their guards. Out: the greatest number that can happen together, and the answers of such a case.
//! Must never count two steps together that exclude each other, as far as the answers can be tried one by one.

use super::Brief;
use super::telling::known_words;
use crate::policy::{Act, FactId, FactKind, Guard, ItemId, Policy, Step};
use crate::walk::happening::TORN;
use crate::walk::tally::Known;
use crate::walk::{Event, Happening};

pub struct Worst {
    pub count: usize,
    /// The answers that the case needs, in words; empty where as many happen in every case.
    pub case: Vec<String>,
}

/// Answers that are tried one by one; beyond that, all steps are taken to happen together.
const MOST_TRIED: usize = 10;

pub fn worst(policy: &Policy, steps: &[&Step]) -> Worst {
    let mut facts: Vec<FactId> =
        steps.iter().flat_map(|step| &step.guard.any).flatten().map(|literal| literal.fact).collect();
    facts.sort();
    facts.dedup();
    if facts.len() > MOST_TRIED {
        return Worst { count: steps.len(), case: Vec::new() };
    }
    let cases: Vec<(Known, usize)> = (0..1_u32 << facts.len())
        .map(|answers| {
            let known: Known = facts.iter().enumerate().map(|(at, &fact)| (fact, answers & (1 << at) != 0)).collect();
            let count = steps.iter().filter(|step| happens(&step.guard, &known)).count();
            (known, count)
        })
        .collect();
    let count = cases.iter().map(|(_, count)| *count).max().unwrap_or_default();
    let mut case = cases.iter().find(|(_, most)| *most == count).map(|(known, _)| known.clone()).unwrap_or_default();
    for fact in facts {
        let mut fewer = case.clone();
        fewer.remove(&fact);
        let is_within = |known: &Known| fewer.iter().all(|(fact, holds)| known.get(fact) == Some(holds));
        if cases.iter().filter(|(known, _)| is_within(known)).all(|(_, most)| *most == count) {
            case = fewer;
        }
    }
    Worst { count, case: known_words(policy, &case) }
}

fn happens(guard: &Guard, known: &Known) -> bool {
    guard.any.iter().any(|all| all.iter().all(|literal| known.get(&literal.fact) == Some(&literal.holds)))
}

/// A torn inner glove is changed at once, up to the sleeve that is still on: in one step, or taken off, the bare hands
/// cleaned, and a fresh one put on (CDC training modules, 2014, gown, page 9).
pub fn is_for_torn(brief: &Brief, event: &Event, item: ItemId) -> bool {
    let Some(at) = event.step else { return false };
    let step = brief.step(at);
    let later = brief.policy.steps(at.sequence).iter().skip(at.step + 1);
    let is_fresh = |step: &Step| matches!(step.act, Act::PutOn { item: other, fresh: true, .. } if other == item);
    let drill = brief.policy.contingency_of(at.sequence);
    let is_drill_for_it = drill.is_some_and(|drill| Happening::of(brief.policy, drill) == Happening::Tear(item));
    let when_torn = |step: &Step| is_drill_for_it || happens_only_when_torn(brief.policy, step, item);
    let replaces = match step.act {
        Act::Change { .. } => true,
        Act::PutOn { .. } => is_fresh(step),
        Act::TakeOff { .. } => later.filter(|later| when_torn(later)).any(is_fresh),
        _ => false,
    };
    replaces && when_torn(step)
}

fn happens_only_when_torn(policy: &Policy, step: &Step, item: ItemId) -> bool {
    let torn = |fact| {
        matches!(&policy.fact(fact).kind, FactKind::Found { item: Some(found), state, .. }
            if *found == item && TORN.contains(&state.as_str()))
    };
    step.guard.any.iter().all(|all| all.iter().any(|literal| literal.holds && torn(literal.fact)))
}
