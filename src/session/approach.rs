//! How near the hazard comes to each person: as planned, after one slip and after two.
//!
//! In: a policy and its walk. Out: one [`Approach`] for each area of skin and each of the own clothes that it reaches.
//! Must never read the figures as a risk: they rank procedures.

use std::collections::BTreeSet;

use serde::Serialize;

use crate::policy::{Area, LevelId, Policy};
use crate::walk::telling::step_name;
use crate::walk::{Nearest, Run, Surface, Walk};

/// The nearest approach to one surface of one person. Touches; none where the hazard does not reach it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Approach {
    pub level: String,
    pub who: String,
    /// A body area, or a piece of own clothes.
    pub reached: String,
    pub part: Part,
    /// After at most none, one and two slips.
    pub touches: [Option<u16>; 3],
    /// The step at which it comes nearest as planned, or else after the fewest slips; in words.
    pub step: Option<String>,
}

/// What a margin speaks of; the hands apart, since they come nearest in every procedure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Part {
    Hands,
    Face,
    OtherSkin,
    Clothes,
}

impl Part {
    pub const ALL: [Part; 4] = [Part::Hands, Part::Face, Part::OtherSkin, Part::Clothes];

    pub fn words(self) -> &'static str {
        match self {
            Part::Hands => "hands",
            Part::Face => "face",
            Part::OtherSkin => "other skin",
            Part::Clothes => "own clothes",
        }
    }
}

/// `unfinished`: levels with lines that cannot be read, of which no figure would be true.
pub(super) fn approaches(policy: &Policy, walk: &Walk, unfinished: &BTreeSet<LevelId>) -> Vec<Approach> {
    let mut approaches: Vec<Approach> = Vec::new();
    for run in walk.runs.iter().filter(|run| !unfinished.contains(&run.level)) {
        for nearest in &run.nearest {
            let Some((who, reached, part)) = self::reached(policy, nearest.surface) else { continue };
            let level = &policy.level(run.level).name;
            let same = |known: &&mut Approach| known.level == *level && known.who == who && known.reached == reached;
            match approaches.iter_mut().find(same) {
                Some(known) => known.take(policy, nearest),
                None => {
                    let mut approach =
                        Approach { level: level.clone(), who, reached, part, touches: [None; 3], step: None };
                    approach.take(policy, nearest);
                    approaches.push(approach);
                }
            }
        }
    }
    approaches
}

impl Approach {
    /// What can happen without a slip can happen with one.
    fn take(&mut self, policy: &Policy, nearest: &Nearest) {
        let is_first = self.touches[..=nearest.slips.min(2)].iter().flatten().all(|&known| nearest.distance < known);
        if is_first && (self.step.is_none() || nearest.slips == 0) {
            self.step = nearest.step.map(|at| format!("{}, {}", policy.title(at.sequence), step_name(policy, at)));
        }
        for touches in self.touches.iter_mut().skip(nearest.slips) {
            *touches = Some(touches.map_or(nearest.distance, |known| known.min(nearest.distance)));
        }
    }
}

/// Whose surface it is, what it is called, and of which part; none where it is nobody's skin and clothes.
pub fn reached(policy: &Policy, surface: Surface) -> Option<(String, String, Part)> {
    match surface {
        Surface::Skin { who, area } => {
            let part = match area {
                Area::Hands => Part::Hands,
                area if area.is_face() => Part::Face,
                _ => Part::OtherSkin,
            };
            Some((policy.role(who).name.clone(), area.word().to_string(), part))
        }
        Surface::Front { who, piece } | Surface::Back { who, piece } => {
            Some((policy.role(who).name.clone(), policy.item(piece.item).name.clone(), Part::Clothes))
        }
        _ => None,
    }
}

/// A line for each person of each level, in the order of the policy: for each part the least over its surfaces.
pub(super) fn sentences(
    policy: &Policy,
    walk: &Walk,
    unfinished: &BTreeSet<LevelId>,
    approaches: &[Approach],
) -> Vec<String> {
    let mut sentences = Vec::new();
    for run in walk.runs.iter().filter(|run| !unfinished.contains(&run.level)) {
        for who in people(run, policy) {
            let level = &policy.level(run.level).name;
            let theirs: Vec<&Approach> = approaches.iter().filter(|a| a.level == *level && a.who == who).collect();
            let parts: Vec<String> = Part::ALL.into_iter().filter_map(|part| part_words(part, &theirs)).collect();
            if parts.is_empty() {
                sentences.push(format!("{level}, {who}: out of reach, after two slips too."));
            } else {
                sentences.push(format!("{level}, {who}: {}.", parts.join("; ")));
            }
        }
    }
    sentences
}

fn people(run: &Run, policy: &Policy) -> Vec<String> {
    let mut roles: Vec<crate::policy::RoleId> = run.spells.iter().map(|spell| spell.wearer).collect();
    roles.sort();
    roles.dedup();
    roles.into_iter().map(|role| policy.role(role).name.clone()).collect()
}

/// `hands 6, 5, 4`
fn part_words(part: Part, theirs: &[&Approach]) -> Option<String> {
    let of_part = || theirs.iter().filter(|approach| approach.part == part);
    of_part().next()?;
    let least = |slips: usize| of_part().filter_map(|approach| approach.touches[slips]).min();
    let words: Vec<String> =
        (0..3).map(|slips| least(slips).map_or("out of reach".to_string(), |touches| touches.to_string())).collect();
    Some(format!("{} {}", part.words(), words.join(", ")))
}
