//! The cleanings that are worth less than they might be, with the cleaner and the time of their step.
//!
//! In: a brief. Out: each shortfall that the walk noticed, and those that are one mistake together: the same cleaner falls
//! short in the same way. Must never choose a rule's own words.

use super::Brief;
use crate::policy::{Act, Cleaner, Seconds};
use crate::text::Span;
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

/// Those of one kind, gathered: the first of each cleaner, use and time, and the places of the others.
pub fn gathered<'a>(brief: &Brief<'a>, is_kind: impl Fn(Shortfall) -> bool) -> Vec<(Short<'a>, Vec<(Span, String)>)> {
    let mut groups: Vec<(Short, Vec<&Event>)> = Vec::new();
    for short in shortfalls(brief).into_iter().filter(|short| is_kind(short.why)) {
        let key = |short: &Short| (short.cleaner.span, short.is_hands, short.why, short.time);
        // A cleaner that is too weak or not meant for it is so however long it is used.
        let same = |(first, _): &&mut (Short, Vec<&Event>)| match short.why {
            Shortfall::TooShort { .. } => key(first) == key(&short),
            _ => (first.cleaner.span, first.is_hands) == (short.cleaner.span, short.is_hands),
        };
        match groups.iter_mut().find(same) {
            Some((_, further)) => further.push(short.event),
            None => groups.push((short, Vec::new())),
        }
    }
    groups.into_iter().map(|(first, further)| (first, brief.further(&further))).collect()
}

pub fn shortfalls<'a>(brief: &Brief<'a>) -> Vec<Short<'a>> {
    let policy = brief.policy;
    let short = |(run, event): (&'a Run, &'a Event)| {
        let What::Shortfall { why } = event.what else { return None };
        let act = &policy.steps(event.step?.sequence)[event.step?.step].act;
        let (with, is_hands) = match act {
            Act::CleanHands(with) => (with, true),
            Act::Wipe { with, .. } | Act::Spray { with, .. } => (with, false),
            _ => return None,
        };
        Some(Short { run, event, why, cleaner: policy.cleaner(with.cleaner), time: with.time, is_hands })
    };
    brief.events().filter_map(short).collect()
}
