//! What the walk noticed, as plain data: whether it is a fault is for the rules to say.

use serde::Serialize;

use super::body::Block;
use super::cleaning::Shortfall;
use super::surfaces::Surface;
use crate::policy::{Area, FactId, ItemId, PlaceId, RoleId};

/// A step of a sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct StepRef {
    pub sequence: crate::policy::SequenceId,
    pub step: usize,
}

/// Something noticed at a step, with the least case in which it happens.
#[derive(Clone, Debug)]
pub struct Event {
    pub what: What,
    /// None for what is noticed at the end, or of no single step.
    pub step: Option<StepRef>,
    /// Whom it concerns: the wearer of the item, or whose skin it is.
    pub who: RoleId,
    /// Who acted.
    pub actor: RoleId,
    pub case: Case,
    /// How the hazard came there; empty where no distance is in question.
    pub chain: Vec<Link>,
    /// The earlier step that brought it about: where the item in question went on or came off.
    pub earlier: Option<StepRef>,
}

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum What {
    // Order.
    /// `by` keeps `item` from coming off.
    Blocked {
        item: ItemId,
        by: ItemId,
        how: Block,
    },
    /// The part by which `item` is to be taken off lies beneath `by`, which went on later, although `item` itself is free.
    Trapped {
        item: ItemId,
        by: ItemId,
    },
    AlreadyOn {
        item: ItemId,
    },
    /// Taken off, pulled up or changed while it is not on; `was_on`: it was on before.
    NotOn {
        item: ItemId,
        was_on: bool,
    },
    /// `item` goes on although `over`, whose edge belongs on top of it, is on already.
    GoesOnLate {
        item: ItemId,
        over: ItemId,
    },
    /// Still on at the end.
    LeftOn {
        item: ItemId,
    },
    /// Put on by somebody who takes nothing off in any sequence of the level.
    NeverTakesOff {
        item: ItemId,
    },
    /// Left half on.
    LeftHalfOn {
        item: ItemId,
    },
    /// A mask or respirator comes off while `still_on` (eye protection or a garment) is on.
    FaceBefore {
        item: ItemId,
        still_on: ItemId,
    },

    // Cover.
    /// An area that is to be covered is bare in a contaminated place; `clothes`: own clothes lie there.
    Bare {
        area: Area,
        place: Option<PlaceId>,
        clothes: bool,
    },
    /// Glove and sleeve have no edge over each other.
    Gap {
        glove: ItemId,
        sleeve: ItemId,
    },

    // Touch.
    /// Nearer than the margin: `surface` is skin or own clothes.
    Near {
        surface: Surface,
        distance: u16,
        margin: u16,
    },
    /// Nearer than the margin after so many slips, though not without them.
    NearAfterSlip {
        surface: Surface,
        distance: u16,
        margin: u16,
        slips: u8,
    },
    /// A bare hand on something that the hazard itself may lie on.
    BareHand {
        surface: Surface,
    },
    /// Unclean hands on something clean: a fresh item, a surface that starts clean.
    UncleanHands {
        surface: Surface,
        distance: u16,
        margin: u16,
    },
    /// Taken off by its front.
    FrontGrip {
        item: ItemId,
    },

    // Hygiene.
    Shortfall {
        why: Shortfall,
    },
    /// Kit goes on in a putting-on before its wearer has cleaned hands at all.
    NotFirst {
        item: ItemId,
    },
    /// Nothing clean at the end: no hand cleaning after the last removal of a sequence.
    NotLast,
    /// Gloves came off and the hands went on without being cleaned; the event's `earlier` is what they went on to, none
    /// where one step changes the gloves.
    AfterGloves,
    /// A garment came off and a face item was reached for without cleaning hands in between.
    BeforeFace {
        item: ItemId,
    },

    // Role and place.
    /// Actor and the one acted on are in different places.
    Elsewhere {
        actor_at: PlaceId,
        other: RoleId,
        other_at: PlaceId,
    },
    /// Acts in a sequence that happens in another place, and has not gone there.
    NotHere {
        at: PlaceId,
        wanted: PlaceId,
    },
    /// A move against the ways.
    NoWay {
        from: PlaceId,
        to: PlaceId,
    },
    PutOnInContaminated {
        item: ItemId,
        place: PlaceId,
    },
    /// A tight-fitting respirator comes off in a contaminated place.
    TakenOffInContaminated {
        item: ItemId,
        place: PlaceId,
    },
    /// A clean place is entered with this on, at this distance.
    DirtyEntry {
        item: ItemId,
        place: PlaceId,
        distance: u16,
        margin: u16,
    },
    /// A clean place is entered after kit came off at `earlier`, with no hand cleaning in between.
    UncleanEntry {
        place: PlaceId,
    },
    /// A contaminated place is entered with nobody having checked since the last item went on.
    Unchecked {
        place: PlaceId,
    },
    /// The person whom a hold guards is already in a contaminated place.
    HoldAfterEntry {
        place: PlaceId,
    },
    /// A hold is to be confirmed by somebody who has taken off and gone to a clean place, while `who` is not there.
    ConfirmerGone {
        role: RoleId,
        place: PlaceId,
    },
    /// The act touches a person or what that person wears.
    Handles {
        other: RoleId,
    },

    // Drills.
    /// Somebody who is gone or lies unconscious is to act or to confirm.
    CannotAct,
    /// When all is over, what the event brought near has not been cleaned far enough.
    StillNear {
        surface: Surface,
        distance: u16,
        margin: u16,
    },
    /// When all is over, somebody is where the hazard is.
    EndsInside {
        place: PlaceId,
    },
    /// What gives clean air has failed, the drill is over, and its wearer is still where the hazard is.
    WithoutAir {
        item: ItemId,
        place: PlaceId,
    },

    /// A case or a chain did not come out the same when it was played alone: a fault of this program.
    NotReplayed,
}

/// The answers under which something happens.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Case {
    pub facts: Vec<(FactId, bool)>,
    /// Holds that are not confirmed at first.
    pub failing: Vec<StepRef>,
    /// The event of a contingency that happens, if any.
    pub strike: Option<Strike>,
}

/// The event of a contingency, at one moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
pub struct Strike {
    /// By its place in the policy.
    pub contingency: usize,
    /// To whom it happens.
    pub who: RoleId,
    /// The step after which it happens; none: while the wearer is with the hazard, where no step sends them there.
    pub after: Option<StepRef>,
    /// The hold that was not confirmed, where it happens in what is played again for that, or started instead.
    pub again: Option<StepRef>,
}

impl Case {
    pub fn is_every(&self) -> bool {
        self.facts.is_empty() && self.failing.is_empty() && self.strike.is_none()
    }

    /// Whatever is so in the wider case is so in this one.
    pub fn is_within(&self, wider: &Case) -> bool {
        wider.facts.iter().all(|fact| self.facts.contains(fact))
            && wider.failing.iter().all(|at| self.failing.contains(at))
            && (wider.strike.is_none() || wider.strike == self.strike)
    }
}

/// One link of a touch chain.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Link {
    /// Where the hazard is after it.
    pub surface: Surface,
    /// Where it came from; the surface itself for `Landed` and `Cleaned`.
    pub from: Surface,
    pub how: How,
    /// In touches, after it.
    pub distance: u16,
    /// None for what is so from the beginning.
    pub step: Option<StepRef>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// In a contaminated place.
    Landed,
    /// By the event of a contingency.
    Happened,
    /// Through a tear, to what lies beneath.
    CameThrough,
    /// So from the beginning.
    Starts,
    Touched,
    Brushed,
    /// Met because the step slipped: the outside instead of the grip.
    Slipped,
    Cleaned,
}
