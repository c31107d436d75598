//! What each act does to a state but for kit that goes on or comes off, and what is noticed on the way.

use super::body::Piece;
use super::cleaning::{self, On};
use super::contact::{self, Contact, Person, TOUCH};
use super::event::{StepRef, What};
use super::play::{Key, Now, Play, Sighting};
use super::state::{self, Arrival, Done, FAR, MOST_SLIPS, Mark, Marks, Op, State};
use super::surfaces::Surface;
use crate::policy::{Act, Dest, ItemId, RoleId, Target, With};

impl<'a> Play<'a> {
    pub fn play_step(&mut self, state: &mut State, now: Now<'a>) {
        self.seen.steps_played += 1;
        let Some(actor) = self.cast.index(now.step.actor) else { return };
        // Only what comes off can slip.
        let can_slip = matches!(now.step.act, Act::TakeOff { .. } | Act::Change { .. }) && self.drill.is_none();
        let before = if can_slip { state.marks.clone() } else { Default::default() };
        self.done.clear();
        self.lasting =
            (0..state.bodies.len()).flat_map(|person| contact::resting(self.person(state, person))).collect();
        self.arrivals.clear();
        self.raised.clear();
        self.meets_other(state, actor, now);
        self.notice_absence(state, now, actor);
        self.notice_gone_or_fallen(state, now, actor);
        self.hands_in_debt(state, actor, now);
        match &now.step.act {
            Act::PutOn { wearer, item, fresh, as_far_as } => {
                self.put_on(state, now, *wearer, *item, *fresh, *as_far_as);
            }
            Act::PullUp { wearer, item } => self.pull_up(state, now, *wearer, *item),
            Act::Change { wearer, item } => {
                self.change(state, now, *wearer, *item);
            }
            Act::TakeOff { wearer, item, grip, inside_out, together_with, into } => {
                let gone = self.piece(state, *wearer, *item);
                let off = self.take_off(state, now, *wearer, *item, grip.as_deref(), *inside_out, together_with);
                match (off, into, gone) {
                    (true, Some(into), Some(piece)) => {
                        self.touch(state, now.at, Surface::Front { who: *wearer, piece }, destination(*into), TOUCH);
                    }
                    (true, None, _) if self.cast.put_down.contains(&(*wearer, *item)) => {
                        state.bodies[actor].hold(*wearer, *item);
                    }
                    _ => {}
                }
            }
            Act::CleanHands(with) => self.clean_hands(state, now, actor, with),
            Act::Go(place) => self.go(state, now, actor, *place),
            other => self.handle_things(state, now, actor, other),
        }
        if uses_hands(&now.step.act) {
            state.bodies[actor].hands_just_cleaned = false;
        }
        for person in 0..state.bodies.len() {
            self.settle(state, person, now.at);
        }
        for arrival in std::mem::take(&mut self.arrivals) {
            if self.drill.is_none() || arrival.slips == 0 {
                self.notice_arrival(state, now, arrival);
            }
        }
        // An event and a slip at once are not reckoned with.
        if self.drill.is_some() {
            return;
        }
        if self.done.iter().any(|done| matches!(done.op, Op::Slip(..))) {
            self.slip(state, now, &before);
        }
        for slips in 0..=MOST_SLIPS {
            self.compare(state, now, slips);
        }
    }

    /// The step again as it goes when it slips, from the marks before it.
    fn slip(&mut self, state: &mut State, now: Now, before: &Marks) {
        let done = std::mem::take(&mut self.done);
        let cast = self.cast;
        let margin = |number: usize, slips| {
            cast.is_guarded(number).then(|| cast.margin_after(cast.surfaces.at(number), slips)).flatten()
        };
        let slipped = self.seen.trail.slip(state, before, &done, now.at, &margin);
        self.raised.extend(slipped.raised.into_iter().filter(|(_, number, _)| cast.is_guarded(*number)));
        for arrival in slipped.arrivals {
            self.notice_arrival(state, now, arrival);
        }
    }

    /// Played again: nobody has to do it any more.
    pub(super) fn is_done(&self, state: &State, now: Now) -> bool {
        let off = |who: RoleId, item: ItemId| {
            let body = self.cast.index(who).map(|person| &state.bodies[person]);
            body.is_some_and(|body| body.piece(item).is_none() && body.taken.contains(&item))
        };
        let on = |who: RoleId, item: ItemId| {
            self.cast.index(who).is_some_and(|person| {
                let (copies, times) = (state.bodies[person].copies(item), self.times_put_on(state, person, item));
                copies > times || copies >= self.cast.copies_listed(self.policy, who, item)
            })
        };
        let pulled_up = |who: RoleId, item: ItemId| {
            let piece = self.piece(state, who, item);
            piece.is_some_and(|piece| self.cast.index(who).is_some_and(|at| !state.bodies[at].half.contains(&piece)))
        };
        let held = |who: RoleId, item: ItemId| {
            self.cast.index(now.step.actor).is_some_and(|actor| state.bodies[actor].held.contains(&(who, item)))
        };
        now.again
            && match now.step.act {
                Act::PutOn { wearer, item, .. } => on(wearer, item),
                Act::PullUp { wearer, item } => off(wearer, item) || pulled_up(wearer, item),
                Act::TakeOff { wearer, item, .. } | Act::Change { wearer, item } => off(wearer, item),
                Act::Put { what: Target::Item { item, wearer }, .. } => off(wearer, item) && !held(wearer, item),
                _ => false,
            }
    }

    /// Acts that put nothing on or off and move nobody.
    fn handle_things(&mut self, state: &mut State, now: Now, actor: usize, act: &Act) {
        match act {
            Act::Wipe { target, with } => {
                self.handle_target(state, now, actor, target, None);
                self.clean_target(state, now, target, with);
            }
            Act::Spray { target, with } => self.clean_target(state, now, target, with),
            Act::Check(target) => {
                let checked = match target {
                    Target::Person(who) | Target::Item { wearer: who, .. } => self.cast.index(*who),
                    _ => None,
                };
                if let Some(person) = checked {
                    state.bodies[person].unchecked = false;
                }
            }
            Act::Put { what, into } => self.put_down(state, now, actor, what, *into),
            Act::SwitchOn(target) | Act::SwitchOff(target) | Act::Open(target) | Act::Close(target) => {
                self.handle_target(state, now, actor, target, None);
            }
            Act::Connect { item, to } => {
                self.handle_target(state, now, actor, item, None);
                self.handle_target(state, now, actor, to, None);
                self.connect(state, item, to);
            }
            Act::Disconnect { item, from } => {
                self.handle_target(state, now, actor, item, None);
                if let Some(from) = from {
                    self.handle_target(state, now, actor, from, None);
                }
                self.disconnect(state, item, from.as_ref());
            }
            Act::Cut { part, item, tool } => {
                self.handle_target(state, now, actor, item, part.as_deref());
                if let Some(tool) = tool {
                    let who = self.cast.people[actor];
                    let tool = Surface::Front { who, piece: Piece { item: *tool, copy: 0 } };
                    let hand = self.person(state, actor).hand();
                    self.touch(state, now.at, hand, tool, TOUCH);
                    if let Some(met) = self.part_of(state, item, part.as_deref()) {
                        self.touch(state, now.at, tool, met, TOUCH);
                    }
                }
            }
            Act::Break { part, item } => self.handle_target(state, now, actor, item, part.as_deref()),
            Act::Untie(target) => self.handle_target(state, now, actor, target, Some("ties")),
            Act::StepOnto(surface) => state.bodies[actor].stands_on = Some(*surface),
            Act::StepOff(_) => state.bodies[actor].stands_on = None,
            Act::SitOn(surface) => state.bodies[actor].seat = Some(*surface),
            Act::StandUp => state.bodies[actor].seat = None,
            Act::Fold(surface) => self.handle(state, now, actor, Surface::Fixture(*surface)),
            _ => {}
        }
    }

    /// What somebody took off and has not put down is still held by the part that it was taken by. Played again, what has
    /// been put down stays there.
    fn put_down(&mut self, state: &mut State, now: Now, actor: usize, what: &Target, into: Dest) {
        let mut is_held = false;
        if let Target::Item { item, wearer } = *what {
            let held = &mut state.bodies[actor].held;
            is_held = held.contains(&(wearer, item));
            held.retain(|&other| other != (wearer, item));
            let is_off = self.piece(state, wearer, item).is_none();
            let was_on = self.cast.index(wearer).is_some_and(|person| state.bodies[person].taken.contains(&item));
            if now.again && !is_held && is_off && was_on {
                return;
            }
        }
        if !is_held {
            self.handle_target(state, now, actor, what, None);
        }
        if let Some(surface) = self.front_of(state, what) {
            self.touch(state, now.at, surface, destination(into), TOUCH);
        }
    }

    pub(super) fn person<'s>(&self, state: &'s State, index: usize) -> Person<'s> {
        Person { who: self.cast.people[index], body: &state.bodies[index] }
    }

    pub(super) fn piece(&self, state: &State, who: RoleId, item: ItemId) -> Option<Piece> {
        self.cast.index(who).and_then(|person| state.bodies[person].piece(item))
    }

    pub(super) fn touch(&mut self, state: &mut State, at: StepRef, a: Surface, b: Surface, weight: u16) {
        if let (Some(a), Some(b)) = (self.number(a), self.number(b))
            && a != b
        {
            self.apply(state, Op::Touch(a, b, weight), at);
        }
    }

    /// Does something to the marks, and remembers it in case the step slips.
    pub fn apply(&mut self, state: &mut State, op: Op, at: StepRef) {
        if let Op::Clean(number, _) | Op::Fresh(number) = op
            && self.drill.is_none()
            && self.cast.is_guarded(number)
        {
            let marks = state.marks.iter().enumerate();
            self.raised.extend(marks.map(|(slips, marks)| (slips, number, marks[number])));
        }
        let meets_guarded = state::ends(op).into_iter().flatten().any(|number| self.cast.is_guarded(number));
        if !meets_guarded {
            self.seen.trail.apply(state, op, Some(at));
            self.done.push(Done { op, near: [FAR; 2] });
            return;
        }
        let reckoned = if self.drill.is_some() { 0 } else { MOST_SLIPS };
        let mut brings = [[Mark::FAR; 2]; MOST_SLIPS + 1];
        for (slips, brings) in brings.iter_mut().enumerate().take(reckoned + 1) {
            *brings = state::brings(&state.marks[slips], op);
        }
        self.seen.trail.apply(state, op, Some(at));
        let planned = if matches!(op, Op::Slip(..)) { [FAR; 2] } else { brings[0].map(|mark| mark.distance) };
        self.done.push(Done { op, near: planned });
        for (side, number) in state::ends(op).into_iter().flatten().enumerate() {
            if matches!(op, Op::Slip(..)) || !self.cast.is_guarded(number) {
                continue;
            }
            for (slips, &brought) in brings.iter().enumerate().take(reckoned + 1) {
                let asked = self.cast.margin_after(self.cast.surfaces.at(number), slips);
                let brought = brought[side];
                let distance = brought.distance;
                if asked.is_some_and(|margin| distance < margin) && (slips == 0 || distance < planned[side]) {
                    let node = self.seen.trail.arrival(&state.marks[slips], state.path, op, number, brought, at);
                    self.arrivals.push(Arrival { slips, surface: number, distance, node });
                }
            }
        }
    }

    /// A touch has brought the hazard nearer to skin or clothes than the level allows, after so many slips.
    fn notice_arrival(&mut self, state: &State, now: Now, arrival: Arrival) {
        let surface = self.cast.surfaces.at(arrival.surface);
        let Some(margin) = self.cast.margin_after(surface, arrival.slips) else { return };
        let what = match arrival.slips {
            0 => What::Near { surface, distance: 0, margin },
            slips => What::NearAfterSlip { surface, distance: 0, margin, slips: slips as u8 },
        };
        let (who, actor) = (owner(surface).unwrap_or(now.step.actor), now.step.actor);
        let key = Key { step: Some(now.at), what, who, actor, earlier: None };
        self.notice(key, self.sighting(state, Mark { distance: arrival.distance, node: arrival.node }));
    }

    pub(super) fn touch_all(&mut self, state: &mut State, at: StepRef, contacts: Vec<Contact>) {
        for (a, b, weight) in contacts {
            self.touch(state, at, a, b, weight);
        }
    }

    /// The actor's hand meets a surface.
    fn handle(&mut self, state: &mut State, now: Now, actor: usize, surface: Surface) {
        let hand = self.person(state, actor).hand();
        self.notice_hand(state, now, actor, hand, surface);
        self.touch(state, now.at, hand, surface, TOUCH);
    }

    /// A bare hand on what the hazard itself may lie on; unclean hands on what starts clean.
    pub(super) fn notice_hand(&mut self, state: &State, now: Now, actor: usize, hand: Surface, surface: Surface) {
        let (Some(hand_at), Some(met_at)) = (self.number(hand), self.number(surface)) else { return };
        let who = self.cast.people[actor];
        if matches!(hand, Surface::Skin { .. }) && state.distance(met_at) == 0 {
            let key = Key { step: Some(now.at), what: What::BareHand { surface }, who, actor: who, earlier: None };
            let mark = state.mark(met_at);
            self.notice(key, self.sighting(state, mark));
        }
        if let (Surface::Fixture(id), Some(margin)) = (surface, self.cast.skin_margin)
            && self.policy.surface(id).starts_clean
        {
            self.notice_unclean(state, now, who, hand_at, surface, margin);
        }
    }

    pub(super) fn notice_unclean(
        &mut self,
        state: &State,
        now: Now,
        actor: RoleId,
        hand: usize,
        surface: Surface,
        margin: u16,
    ) {
        let mark = state.mark(hand);
        if mark.distance < margin {
            let what = What::UncleanHands { surface, distance: 0, margin };
            let key = Key { step: Some(now.at), what, who: actor, actor, earlier: None };
            self.notice(key, self.sighting(state, mark));
        }
    }

    fn front_of(&self, state: &State, target: &Target) -> Option<Surface> {
        self.part_of(state, target, None)
    }

    fn part_of(&self, state: &State, target: &Target, part: Option<&str>) -> Option<Surface> {
        match *target {
            Target::Item { item, wearer } => {
                let piece = self.piece(state, wearer, item).unwrap_or(Piece { item, copy: 0 });
                Some(self.cast.surfaces.grip(wearer, piece, part))
            }
            Target::Surface(id) => Some(Surface::Fixture(id)),
            Target::Container(id) => Some(Surface::Container(id)),
            Target::Person(_) => None,
        }
    }

    fn handle_target(&mut self, state: &mut State, now: Now, actor: usize, target: &Target, part: Option<&str>) {
        if let Some(surface) = self.part_of(state, target, part) {
            self.handle(state, now, actor, surface);
        }
    }

    fn clean_target(&mut self, state: &mut State, now: Now, target: &Target, with: &With) {
        let (touches, short) = cleaning::worth(self.policy.cleaner(with.cleaner), On::Surface, with.time);
        if let Some(why) = short {
            self.notice_plain(state, Some(now.at), What::Shortfall { why }, now.step.actor, now.step.actor, None);
        }
        let mut surfaces = Vec::new();
        match *target {
            Target::Item { item, wearer: who } => {
                let piece = self.piece(state, who, item).unwrap_or(Piece { item, copy: 0 });
                surfaces.extend([Surface::Front { who, piece }, Surface::Back { who, piece }]);
                surfaces.extend(self.cast.surfaces.grips(item).map(|(part, _)| Surface::Grip { who, piece, part }));
            }
            _ => surfaces.extend(self.front_of(state, target)),
        }
        for surface in surfaces {
            if let Some(number) = self.number(surface) {
                self.apply(state, Op::Clean(number, touches), now.at);
            }
        }
    }

    fn clean_hands(&mut self, state: &mut State, now: Now, actor: usize, with: &With) {
        let on = On::Hands { visibly_soiled: state.bodies[actor].soiled_hands };
        let (touches, short) = cleaning::worth(self.policy.cleaner(with.cleaner), on, with.time);
        if let Some(why) = short {
            self.notice_plain(state, Some(now.at), What::Shortfall { why }, now.step.actor, now.step.actor, None);
        }
        let hand = self.person(state, actor).hand();
        if let Some(number) = self.number(hand) {
            self.apply(state, Op::Clean(number, touches), now.at);
        }
        // A cleaning that is worth nothing is told as that, not as a cleaning that is missing.
        let body = &mut state.bodies[actor];
        body.owes_hygiene = None;
        body.owes_after_gloves = None;
        body.owes_after_garment = None;
        body.hands_cleaned = true;
        body.hands_just_cleaned = true;
        if touches > 0 {
            body.soiled_hands = false;
        }
    }

    fn connect(&mut self, state: &mut State, item: &Target, to: &Target) {
        if let (Target::Item { item, wearer }, Target::Item { item: to, .. }) = (item, to)
            && let Some(person) = self.cast.index(*wearer)
        {
            state.bodies[person].connect(*item, *to);
        }
    }

    fn disconnect(&mut self, state: &mut State, item: &Target, from: Option<&Target>) {
        let Target::Item { item, wearer } = item else { return };
        let Some(person) = self.cast.index(*wearer) else { return };
        let from = match from {
            Some(Target::Item { item, .. }) => Some(*item),
            _ => None,
        };
        state.bodies[person].connected.retain(|&(a, b)| {
            let joins = a == *item || b == *item;
            !(joins && from.is_none_or(|from| a == from || b == from))
        });
    }

    /// Acting on somebody else: whether that one is here, and that it happens at all.
    fn meets_other(&mut self, state: &State, actor: usize, now: Now) {
        if self.is_done(state, now) {
            return;
        }
        // What has come off already is a thing, and no longer part of somebody.
        let worn_by = |target: &Target| match *target {
            Target::Item { item, wearer } => self.piece(state, wearer, item).map(|_| wearer),
            _ => None,
        };
        let is_on = |who: RoleId, item: ItemId| self.piece(state, who, item).is_some();
        let other = match &now.step.act {
            // Played again, what never went on is nothing to be helped with.
            Act::TakeOff { wearer, item, .. } if now.again && !is_on(*wearer, *item) => None,
            Act::PutOn { wearer, .. } | Act::PullUp { wearer, .. } | Act::Change { wearer, .. } => Some(*wearer),
            Act::TakeOff { wearer, .. } => Some(*wearer),
            Act::Wipe { target, .. } | Act::Untie(target) | Act::SwitchOn(target) | Act::SwitchOff(target) => {
                worn_by(target)
            }
            Act::Spray { target, .. } => worn_by(target),
            Act::Connect { item, .. } | Act::Disconnect { item, .. } => worn_by(item),
            Act::Cut { item, .. } | Act::Break { item, .. } => worn_by(item),
            _ => None,
        };
        let Some(other) = other.filter(|&other| other != now.step.actor) else { return };
        let who = now.step.actor;
        self.notice_plain(state, Some(now.at), What::Handles { other }, who, who, None);
        let there = self.cast.index(other).and_then(|person| state.bodies[person].place);
        if let (Some(actor_at), Some(other_at)) = (state.bodies[actor].place, there)
            && actor_at != other_at
        {
            self.notice_plain(state, Some(now.at), What::Elsewhere { actor_at, other, other_at }, who, who, None);
        }
    }

    /// Gloves came off, and the hands go on to something else before they are cleaned.
    fn hands_in_debt(&mut self, state: &State, actor: usize, now: Now) {
        if let (Some(at), true) = (state.bodies[actor].owes_after_gloves, uses_hands(&now.step.act)) {
            let who = now.step.actor;
            self.notice_plain(state, Some(at), What::AfterGloves, who, who, Some(now.at));
        }
    }

    /// How near skin and clothes have come in this step, after so many slips; what was cleaned or changed in it, by how
    /// near it was before that.
    fn compare(&mut self, state: &State, now: Now, slips: usize) {
        let cast = self.cast;
        for &number in &cast.guarded {
            let least = |slips: usize| {
                let raised = self.raised.iter().filter(|&&(after, of, _)| (after, of) == (slips, number));
                raised.map(|&(.., mark)| mark).chain([state.marks[slips][number]]).min_by_key(|mark| mark.distance)
            };
            let mark = least(slips).unwrap_or(Mark::FAR);
            if mark.distance == FAR || (slips > 0 && least(0).is_some_and(|planned| mark.distance >= planned.distance))
            {
                continue;
            }
            self.note_nearest(number, slips, self.sighting(state, mark), Some(now.at));
        }
    }

    /// Of the main way alone: how near an event comes is told by its own findings.
    fn note_nearest(&mut self, number: usize, slips: usize, sighting: Sighting, at: Option<StepRef>) {
        if self.drill.is_some() {
            return;
        }
        match self.seen.nearest.get(&(slips, number)) {
            Some((known, _)) if known.distance <= sighting.distance => {}
            _ => {
                self.seen.nearest.insert((slips, number), (sighting, at));
            }
        }
    }

    /// How near the hazard is to all skin and clothes where it has landed other than in a step.
    pub fn note_all_nearest(&mut self, state: &State) {
        for &number in &self.cast.guarded {
            let mark = state.mark(number);
            if mark.distance != FAR {
                self.note_nearest(number, 0, self.sighting(state, mark), None);
            }
        }
    }
}

pub fn owner(surface: Surface) -> Option<RoleId> {
    match surface {
        Surface::Skin { who, .. }
        | Surface::Front { who, .. }
        | Surface::Back { who, .. }
        | Surface::Inside { who, .. }
        | Surface::Grip { who, .. } => Some(who),
        Surface::Fixture(_) | Surface::Container(_) => None,
    }
}

fn destination(into: Dest) -> Surface {
    match into {
        Dest::Container(id) => Surface::Container(id),
        Dest::Surface(id) => Surface::Fixture(id),
    }
}

/// Whether the hands touch anything in an act; cleaning them is no touch.
fn uses_hands(act: &Act) -> bool {
    !matches!(
        act,
        Act::CleanHands(_)
            | Act::Go(_)
            | Act::Check(_)
            | Act::Other(_)
            | Act::SitOn(_)
            | Act::StandUp
            | Act::StepOnto(_)
            | Act::StepOff(_)
    )
}
