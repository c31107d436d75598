//! The area plan: every place, what happens and what stands there, and in which direction people walk.
//!
//! In: a policy, and a level where only its sequences are shown. Out: an [`Area`]. Must never draw a way that the policy
//! does not give.

use super::pattern::capital;
use super::pictograms;
use super::plan::{Area, AreaKind, AreaMove, AreaPlace, SignItem};
use super::words::{Words, say};
use crate::policy::{LevelId, PlaceId, PlaceKind, Policy};

pub fn area(policy: &Policy, words: &Words, level: Option<LevelId>) -> Area {
    let tell = |key: &str| say(&words.area, key, &[]);
    let order = in_order(policy);
    let moves = moves(policy, &order);
    let mut notes = Vec::new();
    if moves.iter().any(|step| !step.both) {
        notes.push(tell("one_way"));
    }
    if moves.iter().any(|step| step.both) {
        notes.push(tell("both_ways"));
    }
    Area {
        intro: tell(if policy.ways.is_empty() { "intro_no_ways" } else { "intro" }),
        places: order.iter().map(|&id| place(policy, words, level, id)).collect(),
        moves,
        notes,
    }
}

/// As the ways pass through them; then those on no way.
fn in_order(policy: &Policy) -> Vec<PlaceId> {
    let walked = policy.ways.iter().flat_map(|way| way.places.iter().copied());
    let mut order = Vec::with_capacity(policy.places.len());
    for id in walked.chain((0..policy.places.len()).map(PlaceId::new)) {
        if !order.contains(&id) {
            order.push(id);
        }
    }
    order
}

fn moves(policy: &Policy, order: &[PlaceId]) -> Vec<AreaMove> {
    let at = |id: PlaceId| order.iter().position(|&place| place == id);
    let pairs = policy.ways.iter().flat_map(|way| way.places.windows(2));
    let mut moves: Vec<AreaMove> = Vec::new();
    for pair in pairs {
        let (Some(from), Some(to)) = (at(pair[0]), at(pair[1])) else { continue };
        if moves.iter().any(|known| known.from == from && known.to == to) || from == to {
            continue;
        }
        match moves.iter_mut().find(|known| known.from == to && known.to == from) {
            Some(known) => known.both = true,
            None => moves.push(AreaMove { from, to, both: false }),
        }
    }
    moves
}

fn place(policy: &Policy, words: &Words, level: Option<LevelId>, id: PlaceId) -> AreaPlace {
    let place = policy.place(id);
    let (kind, key) = match place.kind {
        PlaceKind::Clean => (AreaKind::Clean, "clean"),
        PlaceKind::ForPuttingOn => (AreaKind::PuttingOn, "for_putting_on"),
        PlaceKind::ForTakingOff => (AreaKind::TakingOff, "for_taking_off"),
        PlaceKind::Contaminated => (AreaKind::Contaminated, "contaminated"),
    };
    let here = policy.sequences.iter().filter(|sequence| sequence.place == Some(id));
    let here = here.filter(|sequence| level.is_none_or(|level| sequence.level == level));
    let several = policy.levels.len() > 1;
    let sequences = here.map(|sequence| {
        let of = if several { policy.level(sequence.level).name.as_str() } else { "" };
        say(&words.area, "sequence", &[("title", &sequence.title), ("level", of)])
    });
    let containers = policy.containers.iter().filter(|container| container.place == Some(id)).map(|container| {
        SignItem { name: capital(&container.printed), pictogram: Some(pictograms::of_container(words, container)) }
    });
    let surfaces = policy.surfaces.iter().filter(|surface| surface.place == Some(id));
    let surfaces = surfaces.map(|surface| SignItem { name: capital(&surface.name), pictogram: None });
    AreaPlace {
        name: capital(&place.name),
        kind,
        kind_words: say(&words.area, key, &[]),
        sequences: sequences.collect(),
        things: containers.chain(surfaces).collect(),
    }
}
