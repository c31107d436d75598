//! Contingencies: the event of each is let happen after every step at which it can, in every case, and its drill is played
//! to its end.
//!
//! In: the states of the main way after each entry. Out: what is noticed from the event on, kept apart from the main way.
//!
//! A step that a case leaves out counts as a moment, too. Within what a hold that was not confirmed has played again, or
//! starts instead, nothing happens; nor do two events in one case.
//!
//! States after one event stay apart from those before it, and merge among themselves like any others: a drill costs about
//! as much as the main way once more, however many steps its event can follow. A drill that starts the sequence in hand goes
//! on with it, passing over what is done; where it starts a later one, others go on until then with what is theirs.

use std::collections::BTreeMap;

use super::contact::Person;
use super::event::{Case, How, StepRef, Strike, What};
use super::happening::{Happening, outermost};
use super::play::{Key, MOST_STATES, Now, Play};
use super::script::{Drill, Entry, Script, wearer_of};
use super::state::{Decision, Op, State};
use super::surfaces::Surface;
use crate::policy::{Act, Area, Ending, ItemId, PlaceId, PlaceKind, RoleId, SequenceId, Step};

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
        for drill in 0..self.under_way.len() {
            play.drill = Some(self.script.drills[drill].contingency);
            self.enter(play, drill, at);
            if let Some(after) = after {
                for state in states.iter() {
                    self.let_happen(play, drill, state, after, at);
                }
            }
            self.merge(play, drill);
            play.drill = None;
        }
        let strike = play.alone.as_ref().and_then(|case| case.strike);
        if after.is_some() && strike.is_some_and(|strike| Some(strike.after) == after) {
            states.clear();
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

    fn enter(&mut self, play: &mut Play<'a>, drill: usize, at: usize) {
        let due: Vec<Course> = self.under_way[drill].keys().filter(|course| course.from <= at).copied().collect();
        for course in due {
            let states = self.under_way[drill].remove(&course).unwrap_or_default();
            // Once they are on their way, it no longer matters since when: they merge with those who came before.
            let on_the_way = Course { from: 0, ..course };
            if course.passes_over(play, at) {
                self.under_way[drill].entry(on_the_way).or_default().extend(states);
                continue;
            }
            let states = play.enter(states, at, course.again);
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

    /// The event of a drill happens in a state, to each person to whom it can.
    fn let_happen(&mut self, play: &mut Play<'a>, drill: usize, state: &State, after: Option<StepRef>, at: usize) {
        let this = &self.script.drills[drill];
        for person in 0..state.bodies.len() {
            let strike = Strike { contingency: this.contingency, who: play.cast.people[person], after };
            let is_asked = play.alone.as_ref().is_none_or(|case| case.strike == Some(strike));
            if !is_asked || play.is_long_enough() || !play.can_happen(this, state, person, after) {
                continue;
            }
            let mut state = state.struck();
            play.seen.strikes.insert(strike);
            play.seen.trail.decide(&mut state, Decision::Strikes(strike));
            play.happen(&mut state, this.happening, person, after);
            for mut state in play.drill_through(&state, this, person, after) {
                play.forget(std::slice::from_mut(&mut state), at);
                self.go_to(play, drill, state, (0, person), at);
            }
        }
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

impl<'a> Play<'a> {
    fn can_happen(&self, drill: &Drill, state: &State, person: usize, after: Option<StepRef>) -> bool {
        let anyone_exposed = state.bodies.iter().any(|body| body.exposed);
        let body = &state.bodies[person];
        let inside = self.is_with_the_hazard(state, person)
            || after.is_none() && self.cast.meets[person] && !self.cast.goes_in[person];
        let who = self.cast.people[person];
        let concerns = match drill.happening {
            Happening::Other => self.is_first_of(drill, who),
            // Whom it speaks of, though others do all that is to be done.
            Happening::Lost(role) | Happening::Unwell(role) => role == who,
            _ => self.handles(drill, who),
        };
        let is_out = body.place.is_some_and(|place| self.policy.place(place).kind == PlaceKind::Clean);
        concerns && !is_out && drill.happening.can_happen(self.policy, who, body, anyone_exposed, inside)
    }

    /// Whether a drill is about this person: who acts in it or is handled; anybody, where all of it is done by others.
    fn handles(&self, drill: &Drill, who: RoleId) -> bool {
        let acts = |who: RoleId| self.takes_part(drill.id, who) || drill.starts().any(|id| self.takes_part(id, who));
        acts(who) || !self.cast.people.iter().any(|&other| acts(other) && !self.policy.role(other).watches)
    }

    fn takes_part(&self, sequence: SequenceId, who: RoleId) -> bool {
        let concerns = |step: &Step| step.actor == who || wearer_of(&step.act) == Some(who);
        self.policy.steps(sequence).iter().any(concerns)
    }

    /// Whoever starts a sequence that is not on the main way goes to where it happens.
    fn sent_there(&self, mut state: State, sequence: SequenceId) -> State {
        if let Some(place) = self.policy.place_of(sequence) {
            for (body, &who) in state.bodies.iter_mut().zip(&self.cast.people) {
                if body.place.is_some() && self.takes_part(sequence, who) {
                    body.place = Some(place);
                }
            }
        }
        state
    }

    fn is_first_of(&self, drill: &Drill, who: RoleId) -> bool {
        drill.steps.first().is_none_or(|step| step.actor == who)
    }

    pub(super) fn is_contaminated(&self, place: PlaceId) -> bool {
        self.policy.place(place).kind == PlaceKind::Contaminated
    }

    /// What the event does at once. That it comes near by itself is no fault of the drill.
    fn happen(&mut self, state: &mut State, happening: Happening, person: usize, after: Option<StepRef>) {
        let who = self.cast.people[person];
        let body = &state.bodies[person];
        let outermost_on = |area: Area| Person { who, body }.outermost(area);
        let mut hit: Vec<Surface> = Vec::new();
        match happening {
            Happening::Tear(item) => {
                if let Some(piece) = outermost(body, item) {
                    state.bodies[person].torn.push(piece);
                    self.seep(state, person, after);
                }
                return;
            }
            Happening::Soil(item) => {
                hit.extend(outermost(body, item).map(|piece| Surface::Front { who, piece }));
            }
            // What the level leaves uncovered is not looked at, here as elsewhere.
            Happening::Splash(areas) => {
                let kept = areas.iter().filter(|&area| self.cast.kept[person].has(area));
                hit.extend(kept.map(outermost_on));
            }
            Happening::Pierce(areas) => hit.extend(areas.iter().map(|area| Surface::Skin { who, area })),
            Happening::Lost(_) => state.bodies[person].cannot_act = true,
            Happening::Fails(_) | Happening::Mishap(_) | Happening::Unwell(_) | Happening::Other => {}
        }
        for surface in hit {
            if let Some(number) = self.number(surface) {
                self.seen.trail.apply(state, Op::Land(number, How::Happened), after);
            }
        }
    }

    /// What lies beneath a tear is as near as one touch to the outside, for as long as the torn thing is on.
    pub(super) fn seep(&mut self, state: &mut State, person: usize, at: Option<StepRef>) {
        let who = self.cast.people[person];
        for piece in state.bodies[person].torn.clone() {
            for area in Area::ALL {
                let body = &state.bodies[person];
                if body.top(area) != Some(piece) {
                    continue;
                }
                let beneath = match body.beneath(piece, area) {
                    Some(piece) => Surface::Front { who, piece },
                    None => Surface::Skin { who, area },
                };
                if let (Some(outside), Some(beneath)) =
                    (self.number(Surface::Front { who, piece }), self.number(beneath))
                {
                    self.seen.trail.apply(state, Op::Through(outside, beneath), at);
                }
            }
        }
    }

    /// The drill's own steps, each hold of it confirmed; then, if everybody carries on, back to where they were.
    fn drill_through(&mut self, state: &State, drill: &Drill<'a>, person: usize, after: Option<StepRef>) -> Vec<State> {
        let places: Vec<Option<PlaceId>> = state.bodies.iter().map(|body| body.place).collect();
        let mut states = vec![state.clone()];
        for (step, data) in drill.steps.iter().enumerate() {
            let now = Now { at: StepRef { sequence: drill.id, step }, step: data, again: false };
            let mut next = Vec::new();
            for state in states {
                for (mut state, goes) in self.branch(state, &data.guard, data.actor) {
                    if goes {
                        match data.act {
                            Act::Hold(_) => self.hold(&mut state, now),
                            _ => self.play_step(&mut state, now),
                        }
                    }
                    next.push(state);
                }
            }
            states = self.merge(next);
        }
        for state in &mut states {
            if drill.carries_on() {
                self.go_back(state, &places, after);
            }
            self.notice_without_air(state, drill, person);
        }
        states
    }

    fn notice_without_air(&mut self, state: &State, drill: &Drill, person: usize) {
        let Happening::Fails(item) = drill.happening else { return };
        let body = &state.bodies[person];
        let carries_on = !drill.endings.iter().any(|ending| matches!(ending, Ending::Start(_)));
        if let Some(place) = body.place.filter(|&place| self.is_contaminated(place))
            && carries_on
            && self.policy.item(item).runs_for.is_some()
            && !drill.steps.iter().any(|step| replaces(&step.act, item))
        {
            let who = self.cast.people[person];
            self.notice_plain(state, None, What::WithoutAir { item, place }, who, who, None);
        }
    }

    /// Whoever was with the hazard meets it again in whatever they wear now.
    fn go_back(&mut self, state: &mut State, places: &[Option<PlaceId>], after: Option<StepRef>) {
        for (person, &place) in places.iter().enumerate() {
            let Some(place) = place.filter(|&place| self.is_contaminated(place)) else { continue };
            if state.bodies[person].place != Some(place) {
                state.bodies[person].place = Some(place);
                self.land(state, person, None, Some(place));
                self.seep(state, person, None);
            }
        }
        if after.is_none() {
            self.meet(state);
        }
    }

    /// Nobody is left where the hazard is, and what the event brought near has been cleaned far enough since.
    fn finish_drill(&mut self, state: &State) {
        for (person, body) in state.bodies.iter().enumerate() {
            let who = self.cast.people[person];
            if let Some(place) = body.place.filter(|&place| self.is_contaminated(place))
                && !self.script.taking_off.is_empty()
                && self.cast.last_removal[person].is_some()
            {
                self.notice_plain(state, None, What::EndsInside { place }, who, who, None);
            }
        }
        for &number in &self.cast.guarded {
            let (mark, surface) = (state.brought[number], self.cast.surfaces.at(number));
            let Some(margin) = self.cast.margin(surface).filter(|&margin| mark.distance < margin) else { continue };
            let who = super::acts::owner(surface).unwrap_or(self.cast.people[0]);
            let what = What::StillNear { surface, distance: 0, margin };
            let key = Key { step: None, what, who, actor: who, earlier: None };
            self.notice(key, self.sighting(state, mark));
        }
    }
}

/// A fresh one goes on, or is put in place of the old.
fn replaces(act: &Act, item: ItemId) -> bool {
    matches!(*act, Act::Change { item: fresh, .. } | Act::PutOn { item: fresh, .. } if fresh == item)
}
