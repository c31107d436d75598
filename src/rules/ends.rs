//! Where each item ends.
//!
//! In: a policy. Out: every pair of an item and a container that a line of the policy makes, once, with that line's place.
//! Must never guess an end that no line gives.

use std::collections::BTreeSet;

use crate::policy::{Act, ContainerId, Dest, ItemId, Policy, Step, Target};
use crate::text::Span;

pub struct End {
    pub item: ItemId,
    pub container: ContainerId,
    pub span: Span,
}

pub fn ends(policy: &Policy) -> Vec<End> {
    let mut seen = BTreeSet::new();
    let mut ends = Vec::new();
    for (at, item) in policy.items.iter().enumerate() {
        let id = ItemId::new(at);
        ends.extend(item.goes_to.filter(|&container| seen.insert((id, container))).map(|container| End {
            item: id,
            container,
            span: item.span,
        }));
    }
    let drills = policy.contingencies.iter().flat_map(|contingency| &contingency.steps);
    for step in policy.sequences.iter().flat_map(|sequence| &sequence.steps).chain(drills) {
        for (item, container) in of_step(step) {
            if seen.insert((item, container)) {
                ends.push(End { item, container, span: step.span });
            }
        }
    }
    ends
}

fn of_step(step: &Step) -> Vec<(ItemId, ContainerId)> {
    match &step.act {
        Act::TakeOff { item, together_with, into: Some(Dest::Container(container)), .. } => {
            std::iter::once(item).chain(together_with).map(|&item| (item, *container)).collect()
        }
        Act::Put { what: Target::Item { item, .. }, into: Dest::Container(container) } => vec![(*item, *container)],
        _ => Vec::new(),
    }
}
