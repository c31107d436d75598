//! How near the hazard is after each step, over all cases: what a walk chart shows.
//!
//! In: the states after a step. Out: a [`Profile`]. Must never be read back by the play.

use std::collections::BTreeMap;

use super::cast::Cast;
use super::event::StepRef;
use super::play::Play;
use super::state::{FAR, MOST_SLIPS, State};
use super::surfaces::Surface;
use crate::policy::RoleId;

/// In touches, as planned, after at most one slip and after at most two.
pub type Touches = [u16; MOST_SLIPS + 1];

/// Each distance is the least over all cases, whether or not the step happens in them.
#[derive(Clone, Debug, Default)]
pub struct Profile {
    pub people: Vec<RoleId>,
    /// Skin and own clothes.
    pub guarded: Vec<Surface>,
    /// By step; those that no case comes to are missing.
    pub moments: BTreeMap<StepRef, Moment>,
}

/// After one step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moment {
    /// As the profile's `guarded`.
    pub near: Vec<Touches>,
    /// Whatever is then outermost on the hands of each of the profile's `people`.
    pub hands: Vec<Touches>,
}

impl Profile {
    pub(super) fn new(cast: &Cast, moments: BTreeMap<StepRef, Moment>) -> Profile {
        let guarded = cast.guarded.iter().map(|&number| cast.surfaces.at(number)).collect();
        Profile { people: cast.people.clone(), guarded, moments }
    }
}

impl Moment {
    fn new(cast: &Cast) -> Moment {
        let far = [FAR; MOST_SLIPS + 1];
        Moment { near: vec![far; cast.guarded.len()], hands: vec![far; cast.people.len()] }
    }
}

/// What can happen after fewer slips can happen after more.
fn take(known: &mut Touches, slips: usize, distance: u16) {
    for touches in &mut known[slips..] {
        *touches = distance.min(*touches);
    }
}

impl Play<'_> {
    pub(super) fn note_moment(&mut self, at: StepRef, states: &[State]) {
        // Of the main way alone.
        if states.is_empty() || self.drill.is_some() || !self.notes_moments {
            return;
        }
        let cast = self.cast;
        let moment = self.seen.moments.entry(at).or_insert_with(|| Moment::new(cast));
        for state in states {
            for (slips, marks) in state.marks.iter().enumerate() {
                for (known, &number) in moment.near.iter_mut().zip(&cast.guarded) {
                    take(known, slips, marks[number].distance);
                }
            }
            for ((known, &who), body) in moment.hands.iter_mut().zip(&cast.people).zip(&state.bodies) {
                let hand = super::contact::Person { who, body }.hand();
                let Some(number) = cast.surfaces.number(hand) else { continue };
                for (slips, marks) in state.marks.iter().enumerate() {
                    take(known, slips, marks[number].distance);
                }
            }
        }
    }
}
