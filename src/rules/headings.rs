//! Where a sequence's kit goes on and comes off, beside the place that its heading names.
//!
//! In: a policy and one of its sequences. Out: the place of its steps where the heading names another. Must never guess
//! where somebody is whom no step of the sequence has sent anywhere.

use crate::policy::{Act, PlaceId, Policy, SequenceId};
use crate::walk::script::wearer_of;

/// The place where all of the sequence's kit goes on and comes off, where its heading names another one.
pub fn really_in(policy: &Policy, id: SequenceId) -> Option<PlaceId> {
    let named = policy.place_of(id)?;
    let steps = policy.steps(id);
    let place_at = |at: usize| {
        let who = wearer_of(&steps[at].act)?;
        let went = steps[..at].iter().rev().find_map(|step| match step.act {
            Act::Go(place) if step.actor == who => Some(place),
            _ => None,
        });
        Some(went.unwrap_or(named))
    };
    let mut places = (0..steps.len()).filter_map(place_at);
    let first = places.next()?;
    (first != named && places.all(|place| place == first)).then_some(first)
}

/// Whether the heading is what is wrong: where people are in the sequence follows from it, and is no fault of its own.
pub fn is_misnamed(policy: &Policy, id: SequenceId) -> bool {
    policy.contingency_of(id).is_none() && really_in(policy, id).is_some()
}
