//! Adds up along the steps what they count for, over all cases: the least and the most.
//!
//! In: steps with their guards, and what each counts for. Out: the least, the most and a case of the most. Must never try
//! the cases one by one: answers that no later step asks for are forgotten, and what is then alike goes on as one.

use std::collections::BTreeMap;
use std::rc::Rc;

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

/// What one state comes to so far, with the answers on the way to the most: shared with the states it branched from.
#[derive(Clone)]
struct Sum {
    least: u64,
    most: u64,
    answers: Option<Rc<Answered>>,
}

struct Answered {
    fact: FactId,
    holds: bool,
    before: Option<Rc<Answered>>,
}

impl Sum {
    fn answered(&self, fact: FactId, holds: bool) -> Sum {
        let answers = Some(Rc::new(Answered { fact, holds, before: self.answers.clone() }));
        Sum { answers, least: self.least, most: self.most }
    }

    fn told(&self, given: &Known) -> Tally {
        let mut case = given.clone();
        let mut last = self.answers.as_deref();
        while let Some(Answered { fact, holds, before }) = last {
            case.insert(*fact, *holds);
            last = before.as_deref();
        }
        Tally { least: self.least, most: self.most, case }
    }
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
    // A state knows only what was answered on the way: what is given is the same for all.
    let mut states: BTreeMap<(Known, M), Sum> = BTreeMap::new();
    states.insert((Known::new(), mode), Sum { least: 0, most: 0, answers: None });
    for (at, step) in steps.iter().enumerate() {
        let mut next: BTreeMap<(Known, M), Sum> = BTreeMap::new();
        let mut open: Vec<((Known, M), Sum)> = states.into_iter().rev().collect();
        while let Some(((mut known, mut mode), mut sum)) = open.pop() {
            budget.0 = budget.0.checked_sub(1)?;
            let happens = match answer(&step.guard, given, &known) {
                Ok(happens) => happens,
                Err(asked) => {
                    for holds in [true, false] {
                        let mut known = known.clone();
                        known.insert(asked, holds);
                        open.push(((known, mode.clone()), sum.answered(asked, holds)));
                    }
                    continue;
                }
            };
            if happens {
                let (after, counted) = count(&mode, step);
                mode = after;
                sum.least = sum.least.saturating_add(counted);
                sum.most = sum.most.saturating_add(counted);
            }
            known.retain(|fact, _| last.get(fact).is_some_and(|&last| last > at));
            merge(&mut next, (known, mode), sum);
        }
        if next.len() > super::play::MOST_STATES {
            return None;
        }
        states = next;
    }
    states.into_values().reduce(either).map(|sum| sum.told(given))
}

/// Whether a step happens; or the answer that decides it.
fn answer(guard: &Guard, given: &Known, known: &Known) -> Result<bool, FactId> {
    let told = |fact: FactId| given.get(&fact).or(known.get(&fact));
    let mut asked = None;
    for all in &guard.any {
        let mut open = all.iter().filter(|literal| told(literal.fact) != Some(&literal.holds));
        match open.clone().find(|literal| told(literal.fact).is_none()) {
            _ if open.clone().any(|literal| told(literal.fact).is_some()) => {}
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

fn merge<M: Ord>(states: &mut BTreeMap<(Known, M), Sum>, key: (Known, M), sum: Sum) {
    let merged = match states.remove(&key) {
        Some(other) => either(other, sum),
        None => sum,
    };
    states.insert(key, merged);
}

fn either(one: Sum, other: Sum) -> Sum {
    let least = one.least.min(other.least);
    let longer = if other.most > one.most { other } else { one };
    Sum { least, ..longer }
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
