//! Contingencies: the event of each is let happen after every step at which it can, in every case, and its drill is played
//! to its end.
//!
//! In: the states of the main way after each entry. Out: what is noticed from the event on, kept apart from the main way.
//!
//! A step that a case leaves out counts as a moment, too, and so does each step that a hold that was not confirmed has
//! played again, or starts instead: those are played before the main way goes on behind the hold. No two events happen in
//! one case.
//!
//! States after one event stay apart from those before it, and merge among themselves like any others: a drill costs about
//! as much as the main way once more, however many steps its event can follow. A drill that starts the sequence in hand goes
//! on with it, passing over what is done; where it starts a later one, others go on until then with what is theirs. Where a
//! hold has started something else instead, there is no main way left: what a drill starts then is played at once, and
//! nobody looks at the end.

use std::collections::BTreeMap;

use super::event::{Case, StepRef, Strike};
use super::play::{MOST_STATES, Play, Replay};
use super::script::{Entry, Script};
use super::state::{Decision, State};
use crate::policy::{Ending, SequenceId};

/// Of more contingencies than this, in one level, the play gives up.
const MOST_DRILLS: usize = 100;

/// How states go on after a drill: those that go on alike are merged.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Course {
    /// The entry of the script at which they go on.
    from: usize,
    /// The sequence that the drill starts, and whose event it was: until it begins, others go on with what is not this
    /// person's.
    started: Option<(SequenceId, usize)>,
    /// Whom the drill has led off the main way for good: their part in it is passed over.
    led_away: Option<usize>,
    /// The ending of the contingency that comes after it.
    next: usize,
    /// What is done already is passed over.
    again: bool,
}

impl Course {
    /// Whether an entry is passed over, because somebody who is to start something else has their part in it.
    fn passes_over(&self, play: &Play, at: usize) -> bool {
        let here = match play.script.entries[at] {
            Entry::Step(at, _) => at.sequence,
            Entry::Begin(here) | Entry::Over(here) => here,
            Entry::Meet => return false,
        };
        let waits =
            self.started.filter(|&(sequence, _)| play.script.extent(sequence).is_some_and(|(begin, _)| at < begin));
        let person = waits.map(|(_, person)| person).or(self.led_away);
        person.is_some_and(|person| play.takes_part(here, play.cast.people[person]))
    }
}

/// When an event happens.
#[derive(Clone, Copy)]
struct When {
    after: Option<StepRef>,
    /// In what is played for this hold, which was not confirmed.
    again: Option<StepRef>,
}

/// All states in which the event of some contingency has happened.
#[derive(Clone)]
pub struct Drills<'a> {
    script: &'a Script<'a>,
    /// One for each drill.
    under_way: Vec<BTreeMap<Course, Vec<State>>>,
}

impl<'a> Drills<'a> {
    pub fn new(script: &'a Script<'a>, case: Option<&Case>) -> Drills<'a> {
        let plays_drills = case.is_none_or(|case| case.strike.is_some()) && script.drills.len() <= MOST_DRILLS;
        let drills = if plays_drills { script.drills.len() } else { 0 };
        Drills { script, under_way: vec![BTreeMap::new(); drills] }
    }

    pub fn are_too_many(&self) -> bool {
        let states = |courses: &BTreeMap<Course, Vec<State>>| courses.values().map(Vec::len).sum::<usize>();
        self.script.drills.len() > MOST_DRILLS || self.under_way.iter().any(|courses| states(courses) > MOST_STATES)
    }

    /// Plays one entry for whoever is under way, and lets each event happen after it. In the play of one case, the main way
    /// ends where its event happens.
    pub fn go_on(&mut self, play: &mut Play<'a>, states: &mut Vec<State>, at: usize) {
        let after = match self.script.entries[at] {
            Entry::Step(at, _) => Some(Some(at)),
            Entry::Meet => Some(None),
            Entry::Begin(_) | Entry::Over(_) => None,
        };
        let replay = play.replay.take();
        for drill in 0..self.under_way.len() {
            play.drill = Some(self.script.drills[drill].contingency);
            self.enter(play, drill, at, false);
            match &replay {
                Some(replay) if replay.is_aside => self.strike_aside(play, drill, replay, at),
                Some(replay) => self.strike_again(play, drill, replay, at),
                None => {}
            }
            if let Some(after) = after {
                for state in states.iter() {
                    for (state, person) in self.let_happen(play, drill, state, When { after, again: None }) {
                        self.send_on(play, drill, state, person, at);
                    }
                }
            }
            self.merge(play, drill);
            play.drill = None;
        }
        let strike = play.alone.as_ref().and_then(|case| case.strike);
        if after.is_some() && strike.is_some_and(|strike| Some(strike.again.or(strike.after)) == after) {
            states.clear();
        }
    }

    /// Whatever can happen while steps are played again, up to the hold that was not confirmed.
    fn strike_again(&mut self, play: &mut Play<'a>, drill: usize, replay: &Replay, hold: usize) {
        let Some(first) = replay.after.keys().next() else { return };
        let on_their_way = std::mem::take(&mut self.under_way[drill]);
        for at in self.script.range(first.sequence, first.step, hold) {
            self.enter(play, drill, at, true);
            let Entry::Step(after, _) = self.script.entries[at] else { continue };
            for state in replay.after.get(&after).into_iter().flatten() {
                let when = When { after: Some(after), again: Some(replay.hold) };
                for (state, person) in self.let_happen(play, drill, state, when) {
                    self.send_on(play, drill, state, person, at);
                }
            }
            self.merge(play, drill);
        }
        self.enter(play, drill, hold, true);
        for (course, states) in on_their_way {
            self.under_way[drill].entry(course).or_default().extend(states);
        }
    }

    /// Whatever can happen in what a hold that was not confirmed starts instead; `hold`: its entry.
    fn strike_aside(&mut self, play: &mut Play<'a>, drill: usize, replay: &Replay, hold: usize) {
        let Some(sequence) = replay.after.keys().next().map(|first| first.sequence) else { return };
        // By the ending of the contingency that comes next, and by who is concerned.
        let mut lanes: BTreeMap<(usize, usize), Vec<State>> = BTreeMap::new();
        let policy = play.policy;
        for (step, data) in policy.steps(sequence).iter().enumerate() {
            let at = StepRef { sequence, step };
            for states in lanes.values_mut() {
                *states = play.step_aside(std::mem::take(states), at, data);
            }
            let mut struck: BTreeMap<usize, Vec<State>> = BTreeMap::new();
            for state in replay.after.get(&at).into_iter().flatten() {
                let when = When { after: Some(at), again: Some(replay.hold) };
                for (state, person) in self.let_happen(play, drill, state, when) {
                    struck.entry(person).or_default().push(state);
                }
            }
            for (person, states) in struck {
                if let Some((lane, states)) = self.go_on_aside(play, drill, states, (0, person), (Some(sequence), hold))
                {
                    lanes.entry(lane).or_default().extend(states);
                }
            }
        }
        for (lane, states) in lanes {
            self.go_on_aside(play, drill, states, lane, (None, hold));
        }
    }

    /// Plays what a contingency starts, from its ending `next` on, up to the sequence in hand; who goes on with that, and
    /// from which ending.
    fn go_on_aside(
        &self,
        play: &mut Play<'a>,
        drill: usize,
        states: Vec<State>,
        (mut next, person): (usize, usize),
        (in_hand, hold): (Option<SequenceId>, usize),
    ) -> Option<((usize, usize), Vec<State>)> {
        let mut states = play.merge(states);
        loop {
            let started = match self.script.drills[drill].endings.get(next) {
                Some(Ending::Nowhere) => return None,
                Some(Ending::CarryOn) | None => return Some(((usize::MAX, person), states)),
                Some(&Ending::Start(started)) => started,
            };
            next += 1;
            if in_hand == Some(started) {
                return Some(((next, person), states));
            }
            states = match self.script.extent(started) {
                // What is left of it.
                Some((begin, over)) => {
                    (begin.max(hold + 1)..=over).fold(states, |states, at| play.enter(states, at, true))
                }
                None => {
                    let mut after = Vec::new();
                    for state in states {
                        after.extend(play.play_aside(play.sent_there(state, started), started));
                    }
                    play.merge(after)
                }
            };
        }
    }

    /// The end: everybody out, and clean.
    pub fn finish(&self, play: &mut Play<'a>) {
        for (drill, courses) in self.script.drills.iter().zip(&self.under_way) {
            play.drill = Some(drill.contingency);
            for state in courses.values().flatten() {
                play.finish(state);
                play.finish_drill(state);
            }
            play.drill = None;
        }
    }

    /// `again`: all that is played is so for a hold that was not confirmed.
    fn enter(&mut self, play: &mut Play<'a>, drill: usize, at: usize, again: bool) {
        let due: Vec<Course> = self.under_way[drill].keys().filter(|course| course.from <= at).copied().collect();
        for course in due {
            let states = self.under_way[drill].remove(&course).unwrap_or_default();
            // Once they are on their way, it no longer matters since when: they merge with those who came before.
            let on_the_way = Course { from: 0, ..course };
            if course.passes_over(play, at) {
                self.under_way[drill].entry(on_the_way).or_default().extend(states);
                continue;
            }
            let states = play.enter(states, at, course.again || again);
            match (self.script.entries[at], course.started) {
                (Entry::Over(over), Some((started, person))) if over == started => {
                    for state in states {
                        self.go_to(play, drill, state, (course.next, person), at);
                    }
                }
                _ => self.under_way[drill].entry(on_the_way).or_default().extend(states),
            }
        }
    }

    fn merge(&mut self, play: &mut Play<'a>, drill: usize) {
        for states in self.under_way[drill].values_mut().filter(|states| states.len() > 1) {
            *states = play.merge(std::mem::take(states));
        }
    }

    /// The event of a drill happens in a state, to each person to whom it can, and the drill is played; with who it was.
    fn let_happen(&self, play: &mut Play<'a>, drill: usize, state: &State, when: When) -> Vec<(State, usize)> {
        let this = &self.script.drills[drill];
        let When { after, again } = when;
        let mut struck = Vec::new();
        for person in 0..state.bodies.len() {
            let strike = Strike { contingency: this.contingency, who: play.cast.people[person], after, again };
            let is_asked = play.alone.as_ref().is_none_or(|case| case.strike == Some(strike));
            if !is_asked || play.is_long_enough() || !play.can_happen(this, state, person, after) {
                continue;
            }
            let mut state = state.struck();
            play.seen.strikes.insert(strike);
            play.seen.trail.decide(&mut state, Decision::Strikes(strike));
            play.happen(&mut state, this.happening, person, after);
            struck.extend(play.drill_through(state, this, person, after).into_iter().map(|state| (state, person)));
        }
        struck
    }

    fn send_on(&mut self, play: &mut Play<'a>, drill: usize, mut state: State, person: usize, at: usize) {
        play.forget(std::slice::from_mut(&mut state), at);
        self.go_to(play, drill, state, (0, person), at);
    }

    /// What a contingency says comes next to a person, from its ending `next` on.
    fn go_to(&mut self, play: &mut Play<'a>, drill: usize, state: State, (next, person): (usize, usize), at: usize) {
        let this = &self.script.drills[drill];
        let on_the_way = this.endings.is_empty() || this.starts().any(|id| self.script.extent(id).is_some());
        let on = Course { from: at + 1, started: None, led_away: None, next: usize::MAX, again: true };
        let course = match this.endings.get(next) {
            Some(Ending::Nowhere) => return,
            Some(Ending::CarryOn) => Course { again: false, ..on },
            None => Course { led_away: (!on_the_way).then_some(person), ..on },
            Some(&Ending::Start(sequence)) => match self.script.extent(sequence) {
                // It is over already: nothing of it is left to do.
                Some((_, over)) if over <= at => return self.go_to(play, drill, state, (next + 1, person), at),
                Some(_) => Course { started: Some((sequence, person)), next: next + 1, ..on },
                None => {
                    for state in play.play_aside(play.sent_there(state, sequence), sequence) {
                        self.go_to(play, drill, state, (next + 1, person), at);
                    }
                    return;
                }
            },
        };
        self.under_way[drill].entry(course).or_default().push(state);
    }
}
