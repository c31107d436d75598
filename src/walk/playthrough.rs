//! A play under way, entry by entry: it can be held, gone on with later, and branched off from.
//!
//! In: a [`Play`] that has not begun. Out: what it has seen so far. Must never see anything else, or in another order, for
//! having been held.

use super::drills::Drills;
use super::event::Case;
use super::play::{MOST_STATES, MOST_STEPS, Play, Seen};
use super::state::State;

#[derive(Clone)]
pub struct Playthrough<'a> {
    play: Play<'a>,
    drills: Drills<'a>,
    states: Vec<State>,
    /// Nothing is left to play.
    is_over: bool,
}

impl<'a> Playthrough<'a> {
    pub fn new(mut play: Play<'a>) -> Playthrough<'a> {
        play.seen.gave_up = play.script.entries.len() > MOST_STEPS;
        let is_over = play.seen.gave_up;
        let states = if is_over { Vec::new() } else { vec![play.beginning()] };
        Playthrough { drills: Drills::new(play.script, play.alone.as_ref()), play, states, is_over }
    }

    pub fn seen(&self) -> &Seen {
        &self.play.seen
    }

    pub fn into_seen(self) -> Seen {
        self.play.seen
    }

    /// Plays the next entry, or what comes after the last; false once that is done.
    pub fn go_on(&mut self) -> bool {
        if self.is_over {
            return false;
        }
        let at = self.play.entry;
        if at < self.play.script.entries.len() {
            self.states = self.play.enter(std::mem::take(&mut self.states), at, false);
            self.drills.go_on(&mut self.play, &mut self.states, at);
            let too_many = self.states.len() > MOST_STATES || self.drills.are_too_many();
            self.play.seen.gave_up |= too_many || self.play.is_long_enough();
            self.is_over = self.play.seen.gave_up;
            self.play.entry += 1;
        } else {
            for state in &self.states {
                self.play.finish(state);
            }
            self.drills.finish(&mut self.play);
            self.is_over = true;
        }
        true
    }

    /// Plays on until something is seen, or to the end.
    pub fn until<T>(&mut self, sought: impl Fn(&Seen) -> Option<T>) -> Option<T> {
        loop {
            let found = sought(&self.play.seen);
            if found.is_some() || !self.go_on() {
                return found;
            }
        }
    }

    /// Plays on as far as an entry, which comes next.
    pub fn up_to(&mut self, entry: usize) {
        while self.play.entry < entry && self.go_on() {}
    }

    /// The same, going on as another case, of which nothing has been asked yet that is not the same in both.
    pub fn branched_off(&self, case: &Case) -> Playthrough<'a> {
        let mut other = self.clone();
        other.play.alone = Some(case.clone());
        other
    }
}
