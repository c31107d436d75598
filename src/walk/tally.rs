//! Adds up along the steps what they count for, over all cases: the least and the most.
//!
//! In: steps with their guards, and what each counts for. Out: the least, the most and a case of the most; or the longest row
//! of steps without a pause. Must never try the cases one by one: answers that no later step asks for are forgotten, and what
//! is then alike goes on as one.

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

/// The answers given on one way: shared with the ways that it branched from.
#[derive(Clone, Default)]
struct Answers(Option<Rc<Answered>>);

struct Answered {
    fact: FactId,
    holds: bool,
    before: Answers,
}

impl Answers {
    fn and(&self, fact: FactId, holds: bool) -> Answers {
        Answers(Some(Rc::new(Answered { fact, holds, before: self.clone() })))
    }

    fn with(&self, given: &Known) -> Known {
        let mut case = given.clone();
        let mut last = self;
        while let Some(Answered { fact, holds, before }) = last.0.as_deref() {
            case.insert(*fact, *holds);
            last = before;
        }
        case
    }
}

/// What is kept of all ways that go on alike.
trait Kept: Clone {
    fn answered(&self, fact: FactId, holds: bool) -> Self;
    fn either(self, other: Self) -> Self;
}

/// What the steps come to so far.
#[derive(Clone)]
struct Sum {
    least: u64,
    most: u64,
    /// On the way to the most.
    answers: Answers,
}

impl Kept for Sum {
    fn answered(&self, fact: FactId, holds: bool) -> Sum {
        Sum { answers: self.answers.and(fact, holds), ..*self }
    }

    fn either(self, other: Sum) -> Sum {
        let least = self.least.min(other.least);
        let longer = if other.most > self.most { other } else { self };
        Sum { least, ..longer }
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
    let nothing = Sum { least: 0, most: 0, answers: Answers::default() };
    let sum = go_through(steps, given, (mode, nothing), budget, |mode, sum, step| {
        let (mode, counted) = count(mode, step);
        let (least, most) = (sum.least.saturating_add(counted), sum.most.saturating_add(counted));
        Some((mode, Sum { least, most, ..sum }))
    });
    sum?.map(|sum| Tally { least: sum.least, most: sum.most, case: sum.answers.with(given) })
}

/// Steps that follow one another without a pause.
#[derive(Clone, Default)]
struct Row {
    steps: u64,
    answers: Answers,
}

impl Row {
    fn longer(self, other: Row) -> Row {
        if other.steps > self.steps { other } else { self }
    }
}

/// The longest row in hand, and the longest of all: each may be another way's, since neither makes the other shorter.
#[derive(Clone, Default)]
struct Rows {
    in_hand: Row,
    longest: Row,
}

impl Kept for Rows {
    fn answered(&self, fact: FactId, holds: bool) -> Rows {
        let and = |row: &Row| Row { answers: row.answers.and(fact, holds), ..*row };
        Rows { in_hand: and(&self.in_hand), longest: and(&self.longest) }
    }

    fn either(self, other: Rows) -> Rows {
        Rows { in_hand: self.in_hand.longer(other.in_hand), longest: self.longest.longer(other.longest) }
    }
}

/// The most steps that follow one another without a pause, and the answers on the way there.
pub fn longest_row(steps: &[&Step], budget: &mut Budget, is_pause: impl Fn(&Step) -> bool) -> Option<(u64, Known)> {
    let given = Known::new();
    let rows = go_through(steps, &given, ((), Rows::default()), budget, |(), rows, step| {
        let steps = if is_pause(step) { 0 } else { rows.in_hand.steps + 1 };
        let in_hand = Row { steps, ..rows.in_hand };
        Some(((), Rows { longest: rows.longest.longer(in_hand.clone()), in_hand }))
    });
    rows?.map(|Rows { longest, .. }| (longest.steps, longest.answers.with(&given)))
}

/// The shortest row in hand: whatever a longer one keeps within, it keeps within, too.
impl Kept for u64 {
    fn answered(&self, _: FactId, _: bool) -> u64 {
        *self
    }

    fn either(self, other: u64) -> u64 {
        self.min(other)
    }
}

/// Whether some row is longer than `limit`, whatever else is found.
pub fn has_longer_row(
    steps: &[&Step],
    given: &Known,
    limit: u64,
    budget: &mut Budget,
    is_pause: impl Fn(&Step) -> bool,
) -> Option<bool> {
    let shortest = go_through(steps, given, ((), 0_u64), budget, |(), row, step| {
        let row = if is_pause(step) { 0 } else { row + 1 };
        (row <= limit).then_some(((), row))
    });
    shortest.map(|within| within.is_none())
}

/// What is left at the end, none where no way comes there; none at all where there is more to tell apart than is looked at.
/// `go` says what a step that happens does.
fn go_through<M: Ord + Clone, K: Kept>(
    steps: &[&Step],
    given: &Known,
    (mode, nothing): (M, K),
    budget: &mut Budget,
    go: impl Fn(&M, K, &Step) -> Option<(M, K)>,
) -> Option<Option<K>> {
    let last = last_uses(steps);
    // A state knows only what was answered on the way: what is given is the same for all.
    let mut states: BTreeMap<(Known, M), K> = BTreeMap::new();
    states.insert((Known::new(), mode), nothing);
    for (at, step) in steps.iter().enumerate() {
        let mut next: BTreeMap<(Known, M), K> = BTreeMap::new();
        let mut open: Vec<((Known, M), K)> = states.into_iter().rev().collect();
        while let Some(((mut known, mode), kept)) = open.pop() {
            budget.0 = budget.0.checked_sub(1)?;
            let happens = match answer(&step.guard, given, &known) {
                Ok(happens) => happens,
                Err(asked) => {
                    for holds in [true, false] {
                        let mut known = known.clone();
                        known.insert(asked, holds);
                        open.push(((known, mode.clone()), kept.answered(asked, holds)));
                    }
                    continue;
                }
            };
            let gone = if happens { go(&mode, kept, step) } else { Some((mode, kept)) };
            let Some((mode, kept)) = gone else { continue };
            known.retain(|fact, _| last.get(fact).is_some_and(|&last| last > at));
            merge(&mut next, (known, mode), kept);
        }
        if next.len() > super::play::MOST_STATES {
            return None;
        }
        states = next;
    }
    Some(states.into_values().reduce(K::either))
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

fn merge<M: Ord, K: Kept>(states: &mut BTreeMap<(Known, M), K>, key: (Known, M), kept: K) {
    let merged = match states.remove(&key) {
        Some(other) => other.either(kept),
        None => kept,
    };
    states.insert(key, merged);
}

/// Leaves out of a case every answer without which something still holds, whatever else is found.
pub fn needed(case: &Known, still_holds: &mut dyn FnMut(&Known) -> Option<bool>) -> Known {
    let mut case = case.clone();
    for fact in case.clone().into_keys() {
        let mut fewer = case.clone();
        fewer.remove(&fact);
        if still_holds(&fewer) == Some(true) {
            case = fewer;
        }
    }
    case
}
