//! Moving between places, meeting the hazard there, holds, and the ends of sequences and of the play.

use super::body::{Body, Piece};
use super::contact::{self, Person};
use super::event::{How, StepRef, What};
use super::play::{Key, Now, Play};
use super::script::Entry;
use super::state::{Op, State};
use super::surfaces::Surface;
use crate::policy::{Act, Area, ItemId, PlaceId, PlaceKind, Policy, RoleId, SequenceId, Step, Target};

impl<'a> Play<'a> {
    pub fn go(&mut self, state: &mut State, now: Now, actor: usize, to: PlaceId) {
        let who = now.step.actor;
        let from = state.bodies[actor].place;
        state.bodies[actor].seat = None;
        state.bodies[actor].stands_on = None;
        state.bodies[actor].moved_in = Some(now.at.sequence);
        if from == Some(to) {
            return;
        }
        if let Some(from) = from
            && !self.policy.ways.is_empty()
            && !leads(self.policy, from, to)
        {
            self.notice_plain(state, Some(now.at), What::NoWay { from, to }, who, who, None);
        }
        match self.policy.place(to).kind {
            PlaceKind::Contaminated => self.enter_contaminated(state, now, actor, to),
            PlaceKind::Clean => self.enter_clean(state, now, actor, to),
            PlaceKind::ForPuttingOn | PlaceKind::ForTakingOff => {}
        }
        state.bodies[actor].place = Some(to);
    }

    /// Whoever the policy never sends anywhere is where the sequence happens. Where that is with the hazard, it lies on them
    /// before anybody does anything.
    pub fn begin(&mut self, state: &mut State, sequence: SequenceId) {
        for person in 0..state.bodies.len() {
            if self.cast.stays[person] {
                state.bodies[person].place = self.policy.sequence(sequence).place;
            }
            if self.is_with_the_hazard(state, person) {
                state.bodies[person].exposed = true;
                self.lie_on(state, person, None);
                self.seep(state, person, None);
                self.note_all_nearest(state);
            }
        }
    }

    pub(super) fn is_with_the_hazard(&self, state: &State, person: usize) -> bool {
        state.bodies[person].place.is_some_and(|place| self.is_contaminated(place))
    }

    /// Somebody acts in a place other than the sequence's, and nothing in it has sent them there.
    pub fn notice_absence(&mut self, state: &State, now: Now, actor: usize) {
        let (body, who) = (&state.bodies[actor], now.step.actor);
        let goes = matches!(now.step.act, Act::Go(_));
        if let (Some(at), Some(wanted)) = (body.place, self.policy.place_of(now.at.sequence))
            && at != wanted
            && !goes
            && body.moved_in != Some(now.at.sequence)
        {
            self.notice_plain(state, Some(now.at), What::NotHere { at, wanted }, who, who, None);
        }
    }

    /// Somebody whom an event has called away or laid low is to act or to confirm.
    pub fn notice_gone_or_fallen(&mut self, state: &State, now: Now, person: usize) {
        if state.bodies[person].cannot_act && !self.is_done(state, now) {
            let who = self.cast.people[person];
            self.notice_plain(state, Some(now.at), What::CannotAct, who, who, None);
        }
    }

    fn enter_contaminated(&mut self, state: &mut State, now: Now, actor: usize, place: PlaceId) {
        let who = now.step.actor;
        let body = &state.bodies[actor];
        if body.unchecked {
            let last = body.worn.last().and_then(|piece| self.put_on_at(who, piece.item));
            self.notice_plain(state, Some(now.at), What::Unchecked { place }, who, who, last);
        }
        self.notice_half(state, Some(now.at), actor);
        state.bodies[actor].exposed = true;
    }

    fn enter_clean(&mut self, state: &State, now: Now, actor: usize, place: PlaceId) {
        let owes = state.bodies[actor].owes_hygiene;
        if owes.is_some() {
            let (what, who) = (What::UncleanEntry { place }, now.step.actor);
            self.notice_plain(state, Some(now.at), what, who, who, owes);
        }
        let (Some(margin), who) = (self.cast.skin_margin, now.step.actor) else { return };
        for &piece in &state.bodies[actor].worn {
            let Some(number) = self.number(Surface::Front { who, piece }) else { continue };
            let mark = state.mark(number);
            if mark.distance < margin {
                let what = What::DirtyEntry { item: piece.item, place, distance: 0, margin };
                let key = Key { step: Some(now.at), what, who, actor: who, earlier: None };
                self.notice(key, self.sighting(state, mark));
            }
        }
    }

    fn notice_half(&mut self, state: &State, at: Option<StepRef>, person: usize) {
        let who = self.cast.people[person];
        for piece in &state.bodies[person].half {
            let earlier = self.put_on_at(who, piece.item);
            self.notice_plain(state, at, What::LeftHalfOn { item: piece.item }, who, who, earlier);
        }
    }

    /// Glove and sleeve that no edge joins.
    fn notice_gap(&mut self, state: &State, person: usize) {
        let (who, body) = (self.cast.people[person], &state.bodies[person]);
        let wanted = self.cast.kept[person];
        if !(wanted.has(Area::Hands) && wanted.has(Area::Arms)) {
            return;
        }
        let covering = |area: Area| -> Vec<ItemId> {
            let items = body.worn.iter().map(|piece| piece.item);
            items.filter(|&item| self.policy.item(item).covers.has(area)).collect()
        };
        let meets = |a: ItemId, b: ItemId| {
            let a = self.policy.item(a);
            a.goes_over.contains(&b) || a.tucks_into.contains(&b)
        };
        let sleeves = covering(Area::Arms);
        let joined = covering(Area::Hands)
            .into_iter()
            .any(|glove| sleeves.iter().any(|&sleeve| glove == sleeve || meets(glove, sleeve) || meets(sleeve, glove)));
        if let (false, Some(glove), Some(sleeve)) = (joined, body.top(Area::Hands), body.top(Area::Arms)) {
            let what = What::Gap { glove: glove.item, sleeve: sleeve.item };
            let last =
                [glove, sleeve].into_iter().max_by_key(|&piece| body.worn.iter().position(|&worn| worn == piece));
            let at = last.and_then(|piece| self.put_on_at(who, piece.item));
            self.notice_plain(state, at, what, who, who, None);
        }
    }

    /// After every step: seat and sheet meet what they meet; the hazard of the place lands on what lies outermost, and
    /// reaches through what is torn.
    pub fn settle(&mut self, state: &mut State, person: usize, at: StepRef) {
        let who = self.cast.people[person];
        for (a, b, weight) in contact::resting(Person { who, body: &state.bodies[person] }) {
            if let (Some(first), Some(second)) = (self.number(a), self.number(b)) {
                let arrived = self.arrivals.len();
                self.apply(state, Op::Touch(first, second, weight), at);
                if self.lasting.contains(&(a, b, weight)) {
                    self.arrivals.truncate(arrived);
                }
            }
        }
        if self.is_with_the_hazard(state, person) {
            state.bodies[person].exposed = true;
            self.land(state, person, Some(at), state.bodies[person].place);
        } else {
            state.bodies[person].bare.clear();
        }
        self.seep(state, person, Some(at));
    }

    /// Whoever the policy never sends to the hazard has met it by the time they take off.
    pub fn meet(&mut self, state: &mut State) {
        for person in 0..state.bodies.len() {
            if self.cast.meets[person] && !self.cast.goes_in[person] {
                state.bodies[person].exposed = true;
                if !state.bodies[person].worn.is_empty() {
                    self.notice_half(state, None, person);
                    self.land(state, person, None, None);
                    self.seep(state, person, None);
                }
            }
        }
        self.note_all_nearest(state);
    }

    pub(super) fn land(&mut self, state: &mut State, person: usize, at: Option<StepRef>, place: Option<PlaceId>) {
        self.notice_bare(state, person, at, place);
        self.lie_on(state, person, at);
    }

    fn lie_on(&mut self, state: &mut State, person: usize, at: Option<StepRef>) {
        let who = self.cast.people[person];
        for area in self.cast.kept[person].iter() {
            let top = state.bodies[person].top(area);
            let surface = Person { who, body: &state.bodies[person] }.outermost(area);
            self.land_on(state, surface, at);
            if let (true, Some(piece)) = (self.cast.every_outside, top) {
                self.land_on(state, Surface::Back { who, piece }, at);
            }
        }
        if self.cast.every_outside {
            for piece in state.bodies[person].worn.clone() {
                let grips: Vec<(u8, Area)> = self.cast.surfaces.grips(piece.item).collect();
                for (part, area) in grips {
                    if shield(self.policy, &state.bodies[person], piece, area).is_none() {
                        self.land_on(state, Surface::Grip { who, piece, part }, at);
                    }
                }
            }
        }
    }

    /// Nothing but skin or own clothes lies where the level keeps people covered: told when it comes about.
    fn notice_bare(&mut self, state: &mut State, person: usize, at: Option<StepRef>, place: Option<PlaceId>) {
        let (who, body) = (self.cast.people[person], &state.bodies[person]);
        let bare: Vec<(Area, bool)> = self.cast.kept[person]
            .iter()
            .filter_map(|area| match body.top(area) {
                None => Some((area, false)),
                Some(piece) => self.policy.item(piece.item).worn_beneath.then_some((area, true)),
            })
            .collect();
        for &(area, clothes) in bare.iter().filter(|now| !body.bare.contains(now)) {
            self.notice_plain(state, at, What::Bare { area, place, clothes }, who, who, None);
        }
        state.bodies[person].bare = bare;
    }

    fn land_on(&mut self, state: &mut State, surface: Surface, at: Option<StepRef>) {
        if let Some(number) = self.number(surface) {
            match at {
                Some(at) => self.apply(state, Op::Land(number, How::Landed), at),
                None => self.seen.trail.apply(state, Op::Land(number, How::Landed), None),
            }
        }
    }

    /// A hold looks at everybody whose kit the sequence handles.
    pub fn hold(&mut self, state: &mut State, now: Now) {
        let guarded: Vec<RoleId> = {
            let mut people: Vec<RoleId> = self
                .policy
                .steps(now.at.sequence)
                .iter()
                .filter_map(|step| super::script::wearer_of(&step.act))
                .collect();
            people.sort();
            people.dedup();
            people
        };
        self.notice_gone(state, now, &guarded);
        if let Act::Hold(hold) = &now.step.act {
            for (role, _) in &hold.confirms {
                if let Some(person) = self.cast.index(*role) {
                    self.notice_gone_or_fallen(state, now, person);
                }
            }
        }
        for who in guarded {
            let Some(person) = self.cast.index(who) else { continue };
            state.bodies[person].unchecked = false;
            let place = state.bodies[person].place;
            if let (true, Some(place)) = (self.script.putting_on.contains(&now.at.sequence), place)
                && self.policy.place(place).kind == PlaceKind::Contaminated
            {
                self.notice_plain(state, Some(now.at), What::HoldAfterEntry { place }, who, now.step.actor, None);
            }
        }
    }

    /// Who is to confirm has taken off and left for a clean place; somebody whom the hold guards stands elsewhere still.
    fn notice_gone(&mut self, state: &State, now: Now, guarded: &[RoleId]) {
        let Act::Hold(hold) = &now.step.act else { return };
        let is_clean = |place: PlaceId| self.policy.place(place).kind == PlaceKind::Clean;
        let at = |who: RoleId| self.cast.index(who).and_then(|person| state.bodies[person].place);
        for &(role, _) in &hold.confirms {
            let Some(body) = self.cast.index(role).map(|person| &state.bodies[person]) else { continue };
            let undressed = body.worn.iter().all(|piece| self.policy.item(piece.item).worn_beneath);
            let left = body.place.filter(|&place| is_clean(place) && undressed && !body.taken.is_empty());
            let waits = guarded.iter().find(|&&who| who != role && at(who).is_some_and(|place| !is_clean(place)));
            if let (Some(place), Some(&who)) = (left, waits) {
                self.notice_plain(state, Some(now.at), What::ConfirmerGone { role, place }, who, role, None);
            }
        }
    }

    /// Where somebody has put on all that they will, the sleeves must meet the gloves; so, too, for a helper who never goes
    /// in. At the end of somebody's last taking-off, the hands are the last thing that was cleaned.
    pub fn sequence_over(&mut self, state: &mut State, sequence: SequenceId) {
        for person in 0..state.bodies.len() {
            if self.cast.last_donning[person] == Some(sequence) {
                self.notice_gap(state, person);
            }
            if self.cast.last_removal[person] == Some(sequence)
                && let Some(at) = state.bodies[person].owes_hygiene
            {
                let who = self.cast.people[person];
                self.notice_plain(state, Some(at), What::NotLast, who, who, None);
            }
        }
    }

    pub fn finish(&mut self, state: &State) {
        for (person, body) in state.bodies.iter().enumerate() {
            let who = self.cast.people[person];
            for &piece in &body.worn {
                if self.policy.item(piece.item).worn_beneath {
                    continue;
                }
                let at = self.put_on_at(who, piece.item);
                if self.cast.last_removal[person].is_some() {
                    self.notice_plain(state, at, What::LeftOn { item: piece.item }, who, who, None);
                } else if !self.script.taking_off.is_empty() {
                    self.notice_plain(state, at, What::NeverTakesOff { item: piece.item }, who, who, None);
                }
            }
        }
    }

    /// The step of the script at which somebody puts an item on.
    pub fn put_on_at(&self, who: RoleId, item: ItemId) -> Option<StepRef> {
        self.script.entries.iter().find_map(|entry| match entry {
            Entry::Step(at, step) => match step.act {
                Act::PutOn { wearer, item: on, .. } if wearer == who && on == item => Some(*at),
                _ => None,
            },
            _ => None,
        })
    }

    /// The step of the script that connects two items of somebody.
    pub fn connected_at(&self, who: RoleId, a: ItemId, b: ItemId) -> Option<StepRef> {
        let joins = |act: &Act| match act {
            Act::Connect { item: Target::Item { item, wearer }, to: Target::Item { item: to, .. } } => {
                *wearer == who && ((*item, *to) == (a, b) || (*item, *to) == (b, a))
            }
            _ => false,
        };
        self.script.entries.iter().find_map(|entry| match entry {
            Entry::Step(at, step) if joins(&step.act) => Some(*at),
            _ => None,
        })
    }

    /// The step before this one at which the script takes the item off, where there is only one.
    pub fn taken_off_at(&self, who: RoleId, item: ItemId, before: StepRef) -> Option<StepRef> {
        let earlier = self.script.entries.iter().map_while(|entry| match entry {
            Entry::Step(at, _) if *at == before => None,
            other => Some(other),
        });
        let mut removals = earlier.filter_map(|entry| match entry {
            Entry::Step(at, step) => match &step.act {
                Act::TakeOff { wearer, item: off, together_with, .. }
                    if *wearer == who && (*off == item || together_with.contains(&item)) =>
                {
                    Some(*at)
                }
                _ => None,
            },
            _ => None,
        });
        let only = removals.next();
        only.filter(|_| removals.next().is_none())
    }

    /// What went on later and lies over the area where a part of this piece lies.
    pub fn shields(&self, body: &Body, piece: Piece, part: u8) -> Option<Piece> {
        let (_, area) = self.cast.surfaces.grips(piece.item).find(|&(at, _)| at == part)?;
        shield(self.policy, body, piece, area)
    }

    /// Counts one more step that puts this on, in this case and so far: played again, a later pair is not put on early.
    pub fn count_put_on(&self, state: &mut State, wearer: usize, item: ItemId) -> usize {
        if !self.cast.plays_again {
            return 0;
        }
        let times = &mut state.bodies[wearer].times_put_on;
        match times.iter_mut().find(|(known, _)| *known == item) {
            Some((_, count)) => {
                *count = count.saturating_add(1);
                usize::from(*count)
            }
            None => {
                times.push((item, 1));
                times.sort();
                1
            }
        }
    }

    /// By how many steps so far.
    pub fn times_put_on(&self, state: &State, wearer: usize, item: ItemId) -> usize {
        let known = state.bodies[wearer].times_put_on.iter().find(|(known, _)| *known == item);
        known.map_or(0, |&(_, count)| usize::from(count))
    }

    /// These entries are to be played again: what they put on is counted anew.
    pub fn count_anew(&self, state: &mut State, entries: std::ops::Range<usize>, of: SequenceId) {
        for entry in entries {
            if let Entry::Step(at, Step { act: Act::PutOn { wearer, item, .. }, guard, .. }) =
                self.script.entries[entry]
                && at.sequence == of
                && super::play::decided(guard, state) == Some(true)
                && let Some(person) = self.cast.index(*wearer)
            {
                let times = &mut state.bodies[person].times_put_on;
                for (_, count) in times.iter_mut().filter(|(known, _)| known == item) {
                    *count = count.saturating_sub(1);
                }
                times.retain(|(_, count)| *count > 0);
            }
        }
    }

    pub fn note_spell(&mut self, now: Now, wearer: RoleId, item: ItemId, on: bool) {
        if self.alone.is_none() || now.again {
            return;
        }
        let spells = &mut self.seen.spells;
        if on {
            spells.push(super::Spell { wearer, item, on_at: Some(now.at), off_at: None });
            return;
        }
        let open = |spell: &&mut super::Spell| spell.wearer == wearer && spell.item == item && spell.off_at.is_none();
        match spells.iter_mut().rev().find(open) {
            Some(spell) => spell.off_at = Some(now.at),
            None => spells.push(super::Spell { wearer, item, on_at: None, off_at: Some(now.at) }),
        }
    }
}

/// Something put on later over the area where a part of this piece lies.
fn shield(policy: &Policy, body: &Body, piece: Piece, area: Area) -> Option<Piece> {
    let at = body.worn.iter().position(|&other| other == piece)?;
    let over = |other: &&Piece| policy.item(other.item).covers.has(area) && !body.half.contains(other);
    body.worn[at + 1..].iter().rev().find(over).copied()
}

fn leads(policy: &Policy, from: PlaceId, to: PlaceId) -> bool {
    policy.ways.iter().any(|way| way.places.windows(2).any(|pair| pair == [from, to]))
}
