//! Putting on, pulling up, changing and taking off: who wears what from then on, what has touched what, and what is noticed.

use super::body::{Block, Piece};
use super::cast::{is_face_mask, is_tight_respirator};
use super::contact::{self, Removal};
use super::event::What;
use super::parts::is_garment;
use super::play::{Now, Play};
use super::state::{Op, State};
use super::surfaces::Surface;
use crate::policy::{Act, Area, ItemId, PlaceKind, RoleId};

impl Play<'_> {
    /// Gloves that were cleaned in the step before may be changed in one: CDC for Ebola, 2015 (GUIDANCE.md D4, D5).
    pub(super) fn change(&mut self, state: &mut State, now: Now, who: RoleId, item: ItemId) {
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

    pub(super) fn put_on(
        &mut self,
        state: &mut State,
        now: Now,
        who: RoleId,
        item: ItemId,
        fresh: bool,
        as_far_as: Option<Area>,
    ) {
        let (Some(wearer), Some(actor)) = (self.cast.index(who), self.cast.index(now.step.actor)) else { return };
        let copies = state.bodies[wearer].copies(item);
        let changes = matches!(now.step.act, Act::Change { .. });
        let times = if changes { 0 } else { self.count_put_on(state, wearer, item) };
        let done = now.again && !changes && copies >= times;
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
        if !changes {
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
        for other in &mut state.bodies {
            other.held.retain(|&held| held != (who, item));
        }
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

    pub(super) fn pull_up(&mut self, state: &mut State, now: Now, who: RoleId, item: ItemId) {
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
    pub(super) fn take_off(
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
            contacts.extend(contact::coming_with(self.person(state, wearer), other));
        }
        for (a, b, weight) in contact::slipping(hand, self.person(state, wearer), piece) {
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
    pub(super) fn notice_absent(&mut self, state: &State, now: Now, wearer: usize, item: ItemId) {
        let was_on = state.bodies[wearer].taken.contains(&item);
        if now.again && was_on {
            return;
        }
        let who = self.cast.people[wearer];
        let earlier = if was_on { self.taken_off_at(who, item, now.at) } else { None };
        self.notice_plain(state, Some(now.at), What::NotOn { item, was_on }, who, now.step.actor, earlier);
    }

    /// `item` comes to lie over something whose edge belongs on top of it; `counts` says which pieces are in question.
    pub(super) fn notice_late(
        &mut self,
        state: &State,
        now: Now,
        wearer: usize,
        item: ItemId,
        counts: &dyn Fn(Piece) -> bool,
    ) {
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

    pub(super) fn came_off(&mut self, state: &mut State, now: Now, wearer: usize, actor: usize, piece: Piece) {
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
    pub(super) fn notice_removal(
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
    pub(super) fn notice_before_face(&mut self, state: &mut State, now: Now, actor: usize, piece: Piece) {
        let item = piece.item;
        if self.policy.item(item).covers.iter().any(Area::is_face)
            && let Some(earlier) = state.bodies[actor].owes_after_garment.take()
        {
            let who = now.step.actor;
            self.notice_plain(state, Some(now.at), What::BeforeFace { item }, who, who, Some(earlier));
        }
    }

    pub(super) fn surfaces_of(&self, who: RoleId, piece: Piece) -> Vec<usize> {
        let grips = self.cast.surfaces.grips(piece.item).map(|(part, _)| Surface::Grip { who, piece, part });
        [Surface::Front { who, piece }, Surface::Back { who, piece }, Surface::Inside { who, piece }]
            .into_iter()
            .chain(grips)
            .filter_map(|surface| self.number(surface))
            .collect()
    }
}
