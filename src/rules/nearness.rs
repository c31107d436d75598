//! What the walk noticed as too near, gathered: one for each person, step and origin of the hazard, the nearest surface first.
//!
//! In: a brief. Out: what was reached, without what another rule tells better. Must never choose a rule's own words.

use super::Brief;
use crate::policy::{Area, LevelId, Policy, RoleId};
use crate::walk::cast::is_guarded;
use crate::walk::{Event, How, Link, Run, Surface, What};

/// One person brought too near at one step, from one origin: each is put right in its own way.
pub struct Reached<'a> {
    pub run: &'a Run,
    pub nearest: &'a Event,
    pub surface: Surface,
    pub distance: u16,
    pub margin: u16,
    /// The other surfaces reached there, as a sentence with a blank before it; empty where there is none.
    pub also: String,
}

pub fn reached<'a>(brief: &Brief<'a>) -> Vec<Reached<'a>> {
    let groups = brief.groups(|run, event| {
        let is_near = matches!(event.what, What::Near { .. }) && !is_told_otherwise(brief.policy, run, event);
        let origin = event.chain.first().map(|link| link.surface);
        is_near.then_some((run.level, event.step, event.who, origin))
    });
    let mut told: Vec<(LevelId, RoleId, Surface, &[Link])> = Vec::new();
    let mut reached = Vec::new();
    for (run, events) in groups {
        let Some(found) = gathered(brief.policy, run, events) else { continue };
        // The same contaminated thing touches the same place again: that is the same mistake.
        let came = found.nearest.chain.split_last().map_or(&[][..], |(_, before)| before);
        let this = (run.level, found.nearest.who, found.surface, came);
        if !came.is_empty() && told.contains(&this) {
            continue;
        }
        told.push(this);
        reached.push(found);
    }
    reached
}

fn gathered<'a>(policy: &Policy, run: &'a Run, mut events: Vec<&'a Event>) -> Option<Reached<'a>> {
    let near = |event: &Event| match event.what {
        What::Near { surface, distance, margin } => Some((surface, distance, margin)),
        _ => None,
    };
    events.sort_by_key(|event| near(event).map(|(_, distance, _)| distance));
    let nearest = *events.first()?;
    let (surface, distance, margin) = near(nearest)?;
    let nearest_words = surface_words(policy, surface);
    let others = events[1..].iter().filter_map(|event| near(event)).map(|(surface, ..)| surface_words(policy, surface));
    // The back of what lies beneath is no other thing than its front.
    let mut others: Vec<String> = others.filter(|words| *words != nearest_words).collect();
    others.dedup();
    let also = match others.as_slice() {
        [] => String::new(),
        [one] => format!(" It reaches {one} too."),
        [one, two] => format!(" It reaches {one} and {two} too."),
        [one, two, rest @ ..] => format!(" It reaches {one}, {two} and {} more too.", rest.len()),
    };
    Some(Reached { run, nearest, surface, distance, margin, also })
}

/// Where the last touch of the chain came from, if it is a chair, a sheet or another thing of the place.
pub fn fixture_before<'a>(policy: &'a Policy, event: &Event) -> Option<&'a str> {
    event.chain.iter().rev().find_map(|link| match link.from {
        Surface::Fixture(id) => Some(policy.surface(id).name.as_str()),
        _ => None,
    })
}

/// An area left bare where the hazard is, and a bare hand on what the hazard lies on, are faults of their own: what follows
/// from them is not told again.
fn is_told_otherwise(policy: &Policy, run: &Run, event: &Event) -> bool {
    let bare_from_the_start =
        event.chain.first().is_some_and(|link| link.how == How::Landed && is_guarded(policy, link.surface));
    let bare_hand = |link: &Link| {
        link.step == event.step
            && matches!(link.surface, Surface::Skin { area: Area::Hands, .. })
            && run.events.iter().any(|other| {
                other.step == event.step && matches!(other.what, What::BareHand { surface } if surface == link.from)
            })
    };
    // What a surface has given to a glove, and gets back from it, is no news of it.
    let is_echo = event.chain.split_last().is_some_and(|(last, before)| {
        before.iter().any(|link| link.surface == last.surface && link.distance <= last.distance)
    });
    bare_from_the_start || is_echo || event.chain.iter().any(bare_hand)
}

/// `the wearer's mouth`, `the wearer's scrubs`
pub fn surface_words(policy: &Policy, surface: Surface) -> String {
    match surface {
        Surface::Skin { who, area } => format!("the {}'s {}", policy.role(who).name, area.word()),
        Surface::Front { who, piece } | Surface::Back { who, piece } => {
            format!("the {}'s {}", policy.role(who).name, policy.item(piece.item).name)
        }
        _ => "skin".to_string(),
    }
}
