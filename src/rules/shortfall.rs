//! The cleanings that are worth less than they might be, with the cleaner and the time of their step.
//!
//! In: a brief. Out: each shortfall that the walk noticed. Must never choose a rule's own words.

use super::Brief;
use crate::policy::{Act, Cleaner, Seconds};
use crate::walk::cleaning::Shortfall;
use crate::walk::{Event, Run, What};

pub struct Short<'a> {
    pub run: &'a Run,
    pub event: &'a Event,
    pub why: Shortfall,
    pub cleaner: &'a Cleaner,
    pub time: Option<Seconds>,
    pub is_hands: bool,
}

pub fn shortfalls<'a>(brief: &Brief<'a>) -> Vec<Short<'a>> {
    let policy = brief.policy;
    let short = |(run, event): (&'a Run, &'a Event)| {
        let What::Shortfall { why } = event.what else { return None };
        let act = &policy.sequence(event.step?.sequence).steps[event.step?.step].act;
        let (with, is_hands) = match act {
            Act::CleanHands(with) => (with, true),
            Act::Wipe { with, .. } | Act::Spray { with, .. } => (with, false),
            _ => return None,
        };
        Some(Short { run, event, why, cleaner: policy.cleaner(with.cleaner), time: with.time, is_hands })
    };
    brief.events().filter_map(short).collect()
}
