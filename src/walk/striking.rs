//! What the event of a contingency does at once, to whom it can happen, and its drill from the first step to the last.
//!
//! In: a state in which it happens. Out: the states after the drill's own steps; and, at the very end, what is noticed of
//! those who have been through it. Must never say how they go on from there.

use super::contact::Person;
use super::event::{How, StepRef, What};
use super::happening::{Happening, outermost};
use super::play::{Key, Now, Play};
use super::script::{Drill, wearer_of};
use super::state::{Op, State};
use super::surfaces::Surface;
use crate::policy::{Act, Area, Ending, ItemId, PlaceId, PlaceKind, RoleId, SequenceId, Step};

impl<'a> Play<'a> {
    pub(super) fn can_happen(&self, drill: &Drill, state: &State, person: usize, after: Option<StepRef>) -> bool {
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

    pub(super) fn takes_part(&self, sequence: SequenceId, who: RoleId) -> bool {
        let concerns = |step: &Step| step.actor == who || wearer_of(&step.act) == Some(who);
        self.policy.steps(sequence).iter().any(concerns)
    }

    /// Whoever starts a sequence that is not on the main way goes to where it happens.
    pub(super) fn sent_there(&self, mut state: State, sequence: SequenceId) -> State {
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
    pub(super) fn happen(&mut self, state: &mut State, happening: Happening, person: usize, after: Option<StepRef>) {
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
    pub(super) fn drill_through(
        &mut self,
        state: State,
        drill: &Drill<'a>,
        person: usize,
        after: Option<StepRef>,
    ) -> Vec<State> {
        let places: Vec<Option<PlaceId>> = state.bodies.iter().map(|body| body.place).collect();
        let mut states = vec![state];
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
    pub(super) fn finish_drill(&mut self, state: &State) {
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
