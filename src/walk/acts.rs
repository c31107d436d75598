//! What each act does to a state: who wears what, what has touched what, and what is noticed on the way.

use super::body::{Block, Piece};
use super::cast::{is_face_mask, is_tight_respirator};
use super::cleaning::{self, On};
use super::contact::{self, Contact, Person, Removal, TOUCH};
use super::event::{StepRef, What};
use super::parts::is_garment;
use super::play::{Key, Now, Play, Sighting};
use super::state::{FAR, MOST_SLIPS, Marks, Op, State};
use super::surfaces::Surface;
use crate::policy::{Act, Area, Dest, ItemId, PlaceKind, RoleId, Target, With};

impl<'a> Play<'a> {
    pub fn play_step(&mut self, state: &mut State, now: Now<'a>) {
        self.seen.steps_played += 1;
        let Some(actor) = self.cast.index(now.step.actor) else { return };
        let before = state.marks.clone();
        self.ops.clear();
        self.meets_other(state, actor, now);
        self.notice_absence(state, now, actor);
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
                if let (true, Some(into), Some(piece)) = (off, into, gone) {
                    self.touch(state, now.at, Surface::Front { who: *wearer, piece }, destination(*into), TOUCH);
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
        if self.ops.iter().any(|op| matches!(op, Op::Slip(..))) {
            let ops = std::mem::take(&mut self.ops);
            self.seen.trail.slip(state, &before, &ops, now.at);
        }
        for slips in 0..=MOST_SLIPS {
            self.compare(state, now, &before, slips);
        }
    }

    /// Gloves that were cleaned in the step before may be changed in one: CDC for Ebola, 2015 (GUIDANCE.md D4, D5).
    fn change(&mut self, state: &mut State, now: Now, who: RoleId, item: ItemId) {
        let gloves = self.policy.item(item).covers.has(Area::Hands);
        let grip = gloves.then_some("cuff");
        if !self.take_off(state, now, who, item, grip, false, &[]) {
            return;
        }
        let cleaned = self.cast.index(who).is_some_and(|wearer| state.bodies[wearer].hands_just_cleaned);
        if gloves && !cleaned {
            self.notice_plain(state, Some(now.at), What::AfterGloves, who, now.step.actor, None);
        }
        self.put_on(state, now, who, item, true, None);
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
            Act::Put { what, into } => {
                if !self.is_held(now, what) {
                    self.handle_target(state, now, actor, what, None);
                }
                if let Some(surface) = self.front_of(state, what) {
                    self.touch(state, now.at, surface, destination(*into), TOUCH);
                }
            }
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

    /// What somebody took off and has not put down is still held by the part that it was taken by.
    fn is_held(&self, now: Now, what: &Target) -> bool {
        let Target::Item { item, wearer } = *what else { return false };
        let before = self.policy.sequence(now.at.sequence).steps[..now.at.step].iter().rev();
        let last = before.filter(|step| step.actor == now.step.actor).find_map(|step| match &step.act {
            Act::TakeOff { item: taken, wearer: from, into, .. } if (*taken, *from) == (item, wearer) => {
                Some(into.is_none())
            }
            Act::Put { what: put, .. } if put == what => Some(false),
            _ => None,
        });
        last.unwrap_or(false)
    }

    fn person<'s>(&self, state: &'s State, index: usize) -> Person<'s> {
        Person { who: self.cast.people[index], body: &state.bodies[index] }
    }

    fn piece(&self, state: &State, who: RoleId, item: ItemId) -> Option<Piece> {
        self.cast.index(who).and_then(|person| state.bodies[person].piece(item))
    }

    fn touch(&mut self, state: &mut State, at: StepRef, a: Surface, b: Surface, weight: u16) {
        if let (Some(a), Some(b)) = (self.number(a), self.number(b))
            && a != b
        {
            self.apply(state, Op::Touch(a, b, weight), at);
        }
    }

    /// Does something to the marks, and remembers it in case the step slips.
    pub fn apply(&mut self, state: &mut State, op: Op, at: StepRef) {
        self.seen.trail.apply(state, op, Some(at));
        self.ops.push(op);
    }

    fn touch_all(&mut self, state: &mut State, at: StepRef, contacts: Vec<Contact>) {
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
    fn notice_hand(&mut self, state: &State, now: Now, actor: usize, hand: Surface, surface: Surface) {
        let (Some(hand_at), Some(met_at)) = (self.number(hand), self.number(surface)) else { return };
        let who = self.cast.people[actor];
        if matches!(hand, Surface::Skin { .. }) && state.distance(met_at) == 0 && state.distance(hand_at) > 0 {
            let key = Key { step: Some(now.at), what: What::BareHand { surface }, who, actor: who, earlier: None };
            let mark = state.mark(met_at);
            self.notice(key, Sighting { distance: 0, path: state.path, node: Some(mark.node) });
        }
        if let (Surface::Fixture(id), Some(margin)) = (surface, self.cast.skin_margin)
            && self.policy.surface(id).starts_clean
            && state.distance(met_at) >= margin
        {
            self.notice_unclean(state, now, who, hand_at, surface, margin);
        }
    }

    fn notice_unclean(&mut self, state: &State, now: Now, actor: RoleId, hand: usize, surface: Surface, margin: u16) {
        let mark = state.mark(hand);
        if mark.distance < margin {
            let what = What::UncleanHands { surface, distance: 0, margin };
            let key = Key { step: Some(now.at), what, who: actor, actor, earlier: None };
            self.notice(key, Sighting { distance: mark.distance, path: state.path, node: Some(mark.node) });
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

    fn put_on(&mut self, state: &mut State, now: Now, who: RoleId, item: ItemId, fresh: bool, as_far_as: Option<Area>) {
        let (Some(wearer), Some(actor)) = (self.cast.index(who), self.cast.index(now.step.actor)) else { return };
        let copies = state.bodies[wearer].copies(item);
        let done = now.again && copies >= self.times_put_on(who, item, now.at);
        if done || copies >= self.cast.copies_listed(self.policy, who, item) {
            if !now.again {
                let earlier = self.put_on_at(who, item);
                self.notice_plain(state, Some(now.at), What::AlreadyOn { item }, who, now.step.actor, earlier);
            }
            return;
        }
        let piece = Piece { item, copy: copies as u8 };
        if fresh || self.policy.item(item).reused_after.is_none() {
            for surface in self.surfaces_of(who, piece) {
                self.apply(state, Op::Fresh(surface), now.at);
            }
        }
        // A change is told where it comes off: the edge lay beneath before, and does again.
        if !matches!(now.step.act, Act::Change { .. }) {
            self.notice_late(state, now, wearer, item, &|other| !state.bodies[wearer].half.contains(&other));
        }
        if let Some(place) = state.bodies[wearer].place
            && self.policy.place(place).kind == PlaceKind::Contaminated
        {
            self.notice_plain(
                state,
                Some(now.at),
                What::PutOnInContaminated { item, place },
                who,
                now.step.actor,
                None,
            );
        }
        let covers = self.policy.item(item).covers;
        let areas: Vec<Area> = covers.iter().filter(|&area| as_far_as.is_none_or(|limit| area >= limit)).collect();
        let hand = self.person(state, actor).hand();
        let front = Surface::Front { who, piece };
        if let (Some(number), Some(margin)) = (self.number(hand), self.cast.skin_margin) {
            self.notice_unclean(state, now, now.step.actor, number, front, margin);
        }
        let contacts = contact::putting_on(self.policy, hand, self.person(state, wearer), piece, &areas);
        self.touch_all(state, now.at, contacts);
        let beneath = self.policy.item(item).worn_beneath;
        if self.script.putting_on.contains(&now.at.sequence) && !beneath && !state.bodies[wearer].hands_cleaned {
            self.notice_plain(state, Some(now.at), What::NotFirst { item }, who, now.step.actor, None);
            state.bodies[wearer].hands_cleaned = true;
        }
        let body = &mut state.bodies[wearer];
        body.put_on(self.policy, piece, as_far_as);
        body.unchecked |= !beneath;
        // Fresh gloves stand in for clean hands before the face (GUIDANCE.md U3).
        if covers.has(Area::Hands) {
            body.owes_after_gloves = None;
            body.owes_after_garment = None;
        }
        self.note_spell(now, who, item, true);
    }

    fn pull_up(&mut self, state: &mut State, now: Now, who: RoleId, item: ItemId) {
        let (Some(wearer), Some(actor)) = (self.cast.index(who), self.cast.index(now.step.actor)) else { return };
        let Some(piece) = state.bodies[wearer].piece(item) else {
            self.notice_absent(state, now, wearer, item);
            return;
        };
        if !state.bodies[wearer].half.contains(&piece) {
            return;
        }
        let body = &state.bodies[wearer];
        let covers = self.policy.item(item).covers;
        let areas: Vec<Area> = covers.iter().filter(|&area| !body.stacks[area as usize].contains(&piece)).collect();
        // What went on while this was half on, all of it above what lay open: its edge is beneath from now on.
        let since = body.worn.iter().skip_while(|&&other| other != piece).copied().collect::<Vec<Piece>>();
        let above = |other: Piece| since.contains(&other) && !body.reaches(self.policy, piece, other.item);
        self.notice_late(state, now, wearer, item, &above);
        let hand = self.person(state, actor).hand();
        let contacts = contact::putting_on(self.policy, hand, self.person(state, wearer), piece, &areas);
        self.touch_all(state, now.at, contacts);
        state.bodies[wearer].pull_up(self.policy, piece);
        state.bodies[wearer].unchecked = true;
    }

    /// True where something came off.
    #[allow(clippy::too_many_arguments)]
    fn take_off(
        &mut self,
        state: &mut State,
        now: Now,
        who: RoleId,
        item: ItemId,
        grip: Option<&str>,
        inside_out: bool,
        together_with: &[ItemId],
    ) -> bool {
        let (Some(wearer), Some(actor)) = (self.cast.index(who), self.cast.index(now.step.actor)) else { return false };
        let Some(piece) = state.bodies[wearer].piece(item) else {
            self.notice_absent(state, now, wearer, item);
            return false;
        };
        for &missing in together_with {
            if state.bodies[wearer].piece(missing).is_none() {
                self.notice_absent(state, now, wearer, missing);
            }
        }
        self.notice_removal(state, now, wearer, piece, grip, together_with);
        self.notice_before_face(state, now, actor, piece);
        let hand = self.person(state, actor).hand();
        let met = self.cast.surfaces.grip(who, piece, grip);
        if hand != (Surface::Front { who, piece }) {
            self.notice_hand(state, now, actor, hand, met);
        }
        let how = Removal { piece, grip, inside_out };
        let mut contacts = contact::taking_off(self.policy, &self.cast.surfaces, hand, self.person(state, wearer), how);
        let also: Vec<Piece> = together_with.iter().filter_map(|&other| state.bodies[wearer].piece(other)).collect();
        for &other in &also {
            contacts.extend(contact::coming_with(self.policy, self.person(state, wearer), other));
        }
        for (a, b, weight) in contact::slipping(self.policy, hand, self.person(state, wearer), piece) {
            if let (Some(a), Some(b)) = (self.number(a), self.number(b)) {
                self.apply(state, Op::Slip(a, b, weight), now.at);
            }
        }
        self.touch_all(state, now.at, contacts);
        for gone in std::iter::once(piece).chain(also) {
            self.came_off(state, now, wearer, actor, gone);
        }
        true
    }

    /// Something is handled that is not on. Played again after a hold failed, what is off already is passed over.
    fn notice_absent(&mut self, state: &State, now: Now, wearer: usize, item: ItemId) {
        let was_on = state.bodies[wearer].taken.contains(&item);
        if now.again && was_on {
            return;
        }
        let who = self.cast.people[wearer];
        let earlier = if was_on { self.taken_off_at(who, item, now.at) } else { None };
        self.notice_plain(state, Some(now.at), What::NotOn { item, was_on }, who, now.step.actor, earlier);
    }

    /// `item` comes to lie over something whose edge belongs on top of it; `counts` says which pieces are in question.
    fn notice_late(&mut self, state: &State, now: Now, wearer: usize, item: ItemId, counts: &dyn Fn(Piece) -> bool) {
        let who = self.cast.people[wearer];
        for &other in &state.bodies[wearer].worn {
            let belongs_on_top = self.policy.item(other.item).goes_over.contains(&item) && other.item != item;
            if belongs_on_top && counts(other) {
                let what = What::GoesOnLate { item, over: other.item };
                let earlier = self.put_on_at(who, other.item);
                self.notice_plain(state, Some(now.at), what, who, now.step.actor, earlier);
            }
        }
    }

    fn came_off(&mut self, state: &mut State, now: Now, wearer: usize, actor: usize, piece: Piece) {
        let item = self.policy.item(piece.item);
        let body = &mut state.bodies[wearer];
        body.take_off(piece);
        if item.covers.has(Area::Hands) {
            body.owes_after_gloves = Some(now.at);
        }
        // Own clothes come off later, in the shower or at home (GUIDANCE.md D4).
        for person in [wearer, actor] {
            if !item.worn_beneath {
                state.bodies[person].owes_hygiene = Some(now.at);
            }
            if is_garment(item) && !item.worn_beneath {
                state.bodies[person].owes_after_garment = Some(now.at);
            }
        }
        self.note_spell(now, self.cast.people[wearer], piece.item, false);
    }

    /// What is wrong with taking this off now, in this way.
    fn notice_removal(
        &mut self,
        state: &State,
        now: Now,
        wearer: usize,
        piece: Piece,
        grip: Option<&str>,
        also: &[ItemId],
    ) {
        let (item, who, actor) = (piece.item, self.cast.people[wearer], now.step.actor);
        let body = &state.bodies[wearer];
        let step = Some(now.at);
        let comes: Vec<Piece> = also.iter().filter_map(|&other| body.piece(other)).chain([piece]).collect();
        let with: Vec<ItemId> = comes.iter().map(|piece| piece.item).collect();
        let blocks = |&lower: &Piece| body.blocks(self.policy, lower, &with).last().map(|&(by, how)| (lower, by, how));
        if let Some((lower, by, how)) = comes.iter().rev().find_map(blocks) {
            let joined = self.connected_at(who, lower.item, by.item).filter(|_| how == Block::Connected);
            let earlier = joined.or_else(|| self.put_on_at(who, by.item));
            let what = What::Blocked { item: lower.item, by: by.item, how };
            self.notice_plain(state, step, what, who, actor, earlier);
        } else if let Surface::Grip { part, .. } = self.cast.surfaces.grip(who, piece, grip)
            && let Some(by) = self.shields(body, piece, part).filter(|by| !with.contains(&by.item))
        {
            let earlier = self.put_on_at(who, by.item);
            self.notice_plain(state, step, What::Trapped { item, by: by.item }, who, actor, earlier);
        }
        let met_hazard = body.exposed || self.cast.meets[wearer];
        let covers = self.policy.item(item).covers;
        if is_face_mask(self.policy, item) && met_hazard {
            for &other in &body.worn {
                let worn = self.policy.item(other.item);
                let guards = worn.covers.has(Area::Eyes) || is_garment(worn);
                if other.item != item && guards && !worn.worn_beneath && !also.contains(&other.item) {
                    let what = What::FaceBefore { item, still_on: other.item };
                    self.notice_plain(state, step, what, who, actor, None);
                }
            }
        }
        if let Some(place) = body.place
            && is_tight_respirator(self.policy, item)
            && self.policy.place(place).kind == PlaceKind::Contaminated
        {
            self.notice_plain(state, step, What::TakenOffInContaminated { item, place }, who, actor, None);
        }
        let front = Surface::Front { who, piece };
        let is_face_item = covers.iter().any(Area::is_face);
        if grip.is_some() && is_face_item && self.cast.surfaces.grip(who, piece, grip) == front {
            self.notice_plain(state, step, What::FrontGrip { item }, who, actor, None);
        }
    }

    /// The hands that took a garment off reach for the first face item (GUIDANCE.md U3).
    fn notice_before_face(&mut self, state: &mut State, now: Now, actor: usize, piece: Piece) {
        let item = piece.item;
        if self.policy.item(item).covers.iter().any(Area::is_face)
            && let Some(earlier) = state.bodies[actor].owes_after_garment.take()
        {
            let who = now.step.actor;
            self.notice_plain(state, Some(now.at), What::BeforeFace { item }, who, who, Some(earlier));
        }
    }

    fn surfaces_of(&self, who: RoleId, piece: Piece) -> Vec<usize> {
        let grips = self.cast.surfaces.grips(piece.item).map(|(part, _)| Surface::Grip { who, piece, part });
        [Surface::Front { who, piece }, Surface::Back { who, piece }, Surface::Inside { who, piece }]
            .into_iter()
            .chain(grips)
            .filter_map(|surface| self.number(surface))
            .collect()
    }

    /// Acting on somebody else: whether that one is here, and that it happens at all.
    fn meets_other(&mut self, state: &State, actor: usize, now: Now) {
        // What has come off already is a thing, and no longer part of somebody.
        let worn_by = |target: &Target| match *target {
            Target::Item { item, wearer } => self.piece(state, wearer, item).map(|_| wearer),
            _ => None,
        };
        let is_on = |who: RoleId, item: ItemId| self.piece(state, who, item).is_some();
        let other = match &now.step.act {
            // What is done already is passed over.
            Act::PutOn { wearer, item, .. } if now.again && is_on(*wearer, *item) => None,
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

    /// Skin and clothes that have come nearer in this step than the margin allows, after so many slips.
    fn compare(&mut self, state: &State, now: Now, before: &Marks, slips: usize) {
        let cast = self.cast;
        for &number in &cast.guarded {
            let (mark, was) = (state.marks[slips][number], before[slips][number].distance);
            if mark.distance == FAR || (slips > 0 && mark.distance >= state.distance(number)) {
                continue;
            }
            let surface = cast.surfaces.at(number);
            let sighting = Sighting { distance: mark.distance, path: state.path, node: Some(mark.node) };
            match self.seen.nearest.get(&(slips, number)) {
                Some((known, _)) if known.distance <= mark.distance => {}
                _ => {
                    self.seen.nearest.insert((slips, number), (sighting, Some(now.at)));
                }
            }
            let landed = self.seen.trail.node(mark.node).is_some_and(|node| node.from.is_none());
            let who = owner(surface).unwrap_or(now.step.actor);
            if let Some(margin) = cast.margin_after(surface, slips)
                && mark.distance < margin
                && mark.distance < was
                && !landed
            {
                let what = match slips {
                    0 => What::Near { surface, distance: 0, margin },
                    _ => What::NearAfterSlip { surface, distance: 0, margin, slips: slips as u8 },
                };
                let key = Key { step: Some(now.at), what, who, actor: now.step.actor, earlier: None };
                self.notice(key, sighting);
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
