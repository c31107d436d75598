//! Adds up along the steps what they count for, over all cases: the least and the most.
//!
//! In: steps with their guards, and what each counts for. Out: the least, the most and a case of the most. Must never try
//! the cases one by one: answers that no later step asks for are forgotten, and what is then alike goes on as one.

use std::collections::BTreeMap;

use crate::policy::{FactId, Guard, Step};

/// What is given or was found.
pub type Known = BTreeMap<FactId, bool>;

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    pub least: u64,
    pub most: u64,
    /// The answers on the way to the most.
    pub case: Known,
}

/// How many steps may still be played, over all states.
pub struct Budget(pub u64);

/// None where there is more to tell apart than is looked at. `mode` is what the steps themselves change: a place, a switch.
pub fn tally<M: Ord + Clone>(
    steps: &[&Step],
    given: &Known,
    mode: M,
    budget: &mut Budget,
    count: impl Fn(&M, &Step) -> (M, u64),
) -> Option<Tally> {
    let last = last_uses(steps);
    let mut states: BTreeMap<(Known, M), Tally> = BTreeMap::new();
    states.insert((given.clone(), mode), Tally { case: given.clone(), ..Tally::default() });
    for (at, step) in steps.iter().enumerate() {
        let mut next: BTreeMap<(Known, M), Tally> = BTreeMap::new();
        let mut open: Vec<((Known, M), Tally)> = states.into_iter().rev().collect();
        while let Some(((mut known, mut mode), mut tally)) = open.pop() {
            budget.0 = budget.0.checked_sub(1)?;
            let happens = match answer(&step.guard, &known) {
                Ok(happens) => happens,
                Err(asked) => {
                    for holds in [true, false] {
                        let (mut known, mut tally) = (known.clone(), tally.clone());
                        known.insert(asked, holds);
                        tally.case.insert(asked, holds);
                        open.push(((known, mode.clone()), tally));
                    }
                    continue;
                }
            };
            if happens {
                let (after, counted) = count(&mode, step);
                mode = after;
                tally.least = tally.least.saturating_add(counted);
                tally.most = tally.most.saturating_add(counted);
            }
            known.retain(|fact, _| given.contains_key(fact) || last.get(fact).is_some_and(|&last| last > at));
            merge(&mut next, (known, mode), tally);
        }
        if next.len() > super::play::MOST_STATES {
            return None;
        }
        states = next;
    }
    states.into_values().reduce(either)
}

/// Whether a step happens; or the answer that decides it.
fn answer(guard: &Guard, known: &Known) -> Result<bool, FactId> {
    let mut asked = None;
    for all in &guard.any {
        let mut open = all.iter().filter(|literal| known.get(&literal.fact) != Some(&literal.holds));
        match open.clone().find(|literal| !known.contains_key(&literal.fact)) {
            _ if open.clone().any(|literal| known.contains_key(&literal.fact)) => {}
            Some(literal) => asked = asked.or(Some(literal.fact)),
            None if open.next().is_none() => return Ok(true),
            None => {}
        }
    }
    asked.map_or(Ok(false), Err)
}

fn last_uses(steps: &[&Step]) -> BTreeMap<FactId, usize> {
    let uses = steps.iter().enumerate();
    uses.flat_map(|(at, step)| step.guard.any.iter().flatten().map(move |literal| (literal.fact, at))).collect()
}

fn merge<M: Ord>(states: &mut BTreeMap<(Known, M), Tally>, key: (Known, M), tally: Tally) {
    let merged = match states.remove(&key) {
        Some(other) => either(other, tally),
        None => tally,
    };
    states.insert(key, merged);
}

fn either(one: Tally, other: Tally) -> Tally {
    let least = one.least.min(other.least);
    let longer = if other.most > one.most { other } else { one };
    Tally { least, ..longer }
}

/// Leaves out of a case every answer without which the least is still over the limit.
pub fn needed(case: &Known, limit: u64, least_of: &mut dyn FnMut(&Known) -> Option<u64>) -> Known {
    let mut case = case.clone();
    for fact in case.clone().into_keys() {
        let mut fewer = case.clone();
        fewer.remove(&fact);
        if least_of(&fewer).is_some_and(|least| least > limit) {
            case = fewer;
        }
    }
    case
}
