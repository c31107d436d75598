//! Where a sequence's kit goes on and comes off, beside the place that its heading names.
//!
//! In: a policy and one of its sequences. Out: the place of its steps where the heading names another. Must never guess
//! where somebody is whom no step of the sequence has sent anywhere.

use crate::policy::{Act, PlaceId, PlaceKind, Policy, SequenceId};
use crate::walk::script::wearer_of;
use crate::walk::{Event, How, Link, Run, StepRef, What};

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

/// A putting-on that is written for where the hazard is: `place sequence` tells of it.
pub fn dresses_with_the_hazard(policy: &Policy, run: &Run, id: SequenceId) -> bool {
    let place = policy.place_of(id);
    run.putting_on.contains(&id) && place.is_some_and(|place| policy.place(place).kind == PlaceKind::Contaminated)
}

/// What would not be so if that heading named a clean place: somebody is bare or their hands meet the hazard as the
/// putting-on begins, or the event of a contingency meets them before they are dressed. Where the policy accepts the heading
/// it follows from people being there, and is told.
pub fn follows_from_dressing_there(policy: &Policy, run: &Run, event: &Event) -> bool {
    let is_there = |at: StepRef| dresses_with_the_hazard(policy, run, at.sequence);
    // Before any step of a putting-on the hazard lands only where one begins in its place.
    let lands_there = |link: &Link| match (link.step, event.step) {
        (Some(at), _) => is_there(at),
        (None, Some(at)) => {
            let any = run.putting_on.iter().any(|&id| dresses_with_the_hazard(policy, run, id));
            any && link.how == How::Landed && run.putting_on.contains(&at.sequence)
        }
        (None, None) => false,
    };
    let from_the_start = match event.what {
        What::Bare { .. } => event.step.is_some_and(is_there),
        What::UncleanHands { .. } => event.chain.first().is_some_and(lands_there),
        _ => false,
    };
    let struck = event.case.strike.and_then(|strike| strike.after).is_some_and(is_there);
    (from_the_start || struck) && !policy.exceptions.iter().any(|exception| exception.finding == "place sequence")
}
