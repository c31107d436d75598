//! Who wears what over what, where they stand, and what hangs together: the part of a state that is not a distance.

use super::event::StepRef;
use crate::policy::{Area, ItemId, PlaceId, Policy, RoleId, SequenceId, SurfaceId};

/// One copy of an item on one person: of two pairs of gloves, each is a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Piece {
    pub item: ItemId,
    pub copy: u8,
}

/// One person.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Body {
    /// None for somebody whose place the policy never tells.
    pub place: Option<PlaceId>,
    /// The sequence in which they last went anywhere.
    pub moved_in: Option<SequenceId>,
    pub seat: Option<SurfaceId>,
    pub stands_on: Option<SurfaceId>,
    /// On each area, from the skin outwards.
    pub stacks: [Vec<Piece>; 11],
    /// In the order in which they went on.
    pub worn: Vec<Piece>,
    /// On, but not fully.
    pub half: Vec<Piece>,
    pub connected: Vec<(ItemId, ItemId)>,
    /// By how many steps so far each item was put on.
    pub times_put_on: Vec<(ItemId, u16)>,
    /// Taken off at some time before.
    pub taken: Vec<ItemId>,
    /// Taken off somebody by this person and not put down, where the policy says that it is put down.
    pub held: Vec<(RoleId, ItemId)>,
    /// The last step at which something came off, if the hands have not been cleaned since.
    pub owes_hygiene: Option<StepRef>,
    /// The same for gloves.
    pub owes_after_gloves: Option<StepRef>,
    /// The same for a garment.
    pub owes_after_garment: Option<StepRef>,
    /// Hands have been cleaned at some time since the beginning.
    pub hands_cleaned: bool,
    /// Hands were cleaned in this person's step before this one.
    pub hands_just_cleaned: bool,
    /// What was bare when the hazard last landed: an area, and whether own clothes lay there. Nothing outside its places.
    pub bare: Vec<(Area, bool)>,
    /// Has been in a contaminated place.
    pub exposed: bool,
    /// What an event has torn and that is still on.
    pub torn: Vec<Piece>,
    /// An event has called them away or laid them low.
    pub cannot_act: bool,
    /// Something went on since anybody last checked.
    pub unchecked: bool,
    /// Visible soil was found on the hands, and they have not been washed since.
    pub soiled_hands: bool,
}

/// Why something does not come off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Block {
    Covered,
    Edge,
    Tucked,
    HeldDown,
    Connected,
}

impl Body {
    pub fn top(&self, area: Area) -> Option<Piece> {
        self.stacks[area as usize].last().copied()
    }

    /// The outermost copy that is on.
    pub fn piece(&self, item: ItemId) -> Option<Piece> {
        self.worn.iter().rev().copied().find(|piece| piece.item == item)
    }

    pub fn copies(&self, item: ItemId) -> usize {
        self.worn.iter().filter(|piece| piece.item == item).count()
    }

    /// Where a piece lies: of one that is on half, only so far.
    pub fn areas_of(&self, piece: Piece) -> Vec<Area> {
        Area::ALL.into_iter().filter(|&area| self.stacks[area as usize].contains(&piece)).collect()
    }

    /// What lies directly beneath a piece on an area.
    pub fn beneath(&self, piece: Piece, area: Area) -> Option<Piece> {
        let stack = &self.stacks[area as usize];
        let at = stack.iter().position(|&other| other == piece)?;
        at.checked_sub(1).map(|below| stack[below])
    }

    /// Where a piece has been put on, from the feet up to an area where it is on half.
    pub fn put_on(&mut self, policy: &Policy, piece: Piece, as_far_as: Option<Area>) {
        self.worn.push(piece);
        if as_far_as.is_some() {
            self.half.push(piece);
        }
        for area in policy.item(piece.item).covers.iter() {
            if as_far_as.is_none_or(|limit| area >= limit) {
                self.stacks[area as usize].push(piece);
            }
        }
    }

    pub fn pull_up(&mut self, policy: &Policy, piece: Piece) {
        self.half.retain(|&other| other != piece);
        for area in policy.item(piece.item).covers.iter() {
            let stack = &mut self.stacks[area as usize];
            if !stack.contains(&piece) {
                stack.push(piece);
            }
        }
        // Fully on only now: what went on since lies beneath it at the edges.
        self.worn.retain(|&other| other != piece);
        self.worn.push(piece);
    }

    pub fn take_off(&mut self, piece: Piece) {
        self.worn.retain(|&other| other != piece);
        self.half.retain(|&other| other != piece);
        self.torn.retain(|&other| other != piece);
        for stack in &mut self.stacks {
            stack.retain(|&other| other != piece);
        }
        if self.piece(piece.item).is_none() {
            self.connected.retain(|&(a, b)| a != piece.item && b != piece.item);
        }
        if !self.taken.contains(&piece.item) {
            self.taken.push(piece.item);
            self.taken.sort();
        }
    }

    pub fn hold(&mut self, wearer: RoleId, item: ItemId) {
        if !self.held.contains(&(wearer, item)) {
            self.held.push((wearer, item));
            self.held.sort();
        }
    }

    /// Whether `upper` was put on after `lower`.
    fn later(&self, upper: Piece, lower: Piece) -> bool {
        let at = |piece| self.worn.iter().position(|&other| other == piece);
        at(upper) > at(lower)
    }

    /// Whether a piece, which may be on only half, has come as far as the edge of something else: a suit at the waist
    /// meets boots, but neither gloves nor a hood.
    pub fn reaches(&self, policy: &Policy, piece: Piece, edge_of: ItemId) -> bool {
        let open = |area: Area| {
            let lies_there = self.stacks[area as usize].contains(&piece);
            area == Area::Hands || area.is_head() || policy.item(piece.item).covers.has(area) && !lies_there
        };
        !self.half.contains(&piece) || !policy.item(edge_of).covers.iter().all(open)
    }

    /// What keeps a piece from coming off, and how; `also` comes off together with it.
    pub fn blocks(&self, policy: &Policy, piece: Piece, also: &[ItemId]) -> Vec<(Piece, Block)> {
        let mut found = Vec::new();
        let item = policy.item(piece.item);
        for &other in &self.worn {
            if other == piece || also.contains(&other.item) {
                continue;
            }
            let over = policy.item(other.item);
            let above = self.stacks.iter().any(|stack| {
                let at = |wanted| stack.iter().position(|&worn| worn == wanted);
                matches!((at(piece), at(other)), (Some(lower), Some(upper)) if upper > lower)
            });
            let block = if self.is_connected(piece.item, other.item) {
                Block::Connected
            } else if item.tucks_into.contains(&other.item) && self.later(other, piece) {
                Block::Tucked
            } else if over.holds_down.contains(&piece.item) {
                Block::HeldDown
            } else if above {
                Block::Covered
            } else if over.goes_over.contains(&piece.item)
                && self.later(other, piece)
                && self.reaches(policy, piece, other.item)
            {
                Block::Edge
            } else {
                continue;
            };
            found.push((other, block));
        }
        found
    }

    pub fn connect(&mut self, a: ItemId, b: ItemId) {
        if !self.is_connected(a, b) {
            self.connected.push((a.min(b), a.max(b)));
            self.connected.sort();
        }
    }

    pub fn is_connected(&self, a: ItemId, b: ItemId) -> bool {
        self.connected.contains(&(a.min(b), a.max(b)))
    }
}
