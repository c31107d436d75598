//! One step: who does what, with its prompts and reasons.

use serde::Serialize;

use super::{Area, CitationId, CleanerId, ContainerId, Guard, ItemId, PlaceId, RoleId, Seconds, SurfaceId};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Step {
    /// The number printed; holds have none.
    pub number: Option<u32>,
    /// Who does it; for a hold, who confirms (the first, where several do).
    pub actor: RoleId,
    pub act: Act,
    /// From `if`, `unless` and the branches around it.
    pub guard: Guard,
    pub prompts: Prompts,
    /// The sentence as written, without its prompts.
    pub words: String,
    #[serde(skip)]
    pub span: Span,
}

impl Step {
    /// Whether somebody in that role acts, or confirms the hold.
    pub fn has_part_for(&self, role: RoleId) -> bool {
        match &self.act {
            Act::Hold(hold) => hold.confirms.iter().any(|(confirming, _)| *confirming == role),
            _ => self.actor == role,
        }
    }
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Act {
    /// `wearer`: on whom. It is the actor, or the one who is helped.
    PutOn {
        wearer: RoleId,
        item: ItemId,
        fresh: bool,
        /// The uppermost area that is covered so far: `as far as the waist` is the legs.
        as_far_as: Option<Area>,
    },
    PullUp {
        wearer: RoleId,
        item: ItemId,
    },
    Change {
        wearer: RoleId,
        item: ItemId,
    },
    /// `grip` as written, in lower case; none where the policy does not say.
    TakeOff {
        wearer: RoleId,
        item: ItemId,
        grip: Option<String>,
        inside_out: bool,
        together_with: Vec<ItemId>,
        into: Option<Dest>,
    },
    CleanHands(With),
    Wipe {
        target: Target,
        with: With,
    },
    Spray {
        target: Target,
        with: With,
    },
    Check(Target),
    Go(PlaceId),
    Put {
        what: Target,
        into: Dest,
    },
    SwitchOn(Target),
    SwitchOff(Target),
    Connect {
        item: Target,
        to: Target,
    },
    Disconnect {
        item: Target,
        from: Option<Target>,
    },
    Cut {
        part: Option<String>,
        item: Target,
        tool: Option<ItemId>,
    },
    Break {
        part: Option<String>,
        item: Target,
    },
    Untie(Target),
    StepOnto(SurfaceId),
    StepOff(SurfaceId),
    SitOn(SurfaceId),
    StandUp,
    Open(Target),
    Close(Target),
    Fold(SurfaceId),
    /// `does "…"`: the checker does not look inside.
    Other(String),
    Hold(Hold),
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct With {
    pub cleaner: CleanerId,
    pub time: Option<Seconds>,
}

/// What is wiped, checked, put down or opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Target {
    /// An item that `wearer` wears or carries.
    Item {
        item: ItemId,
        wearer: RoleId,
    },
    Surface(SurfaceId),
    Container(ContainerId),
    Person(RoleId),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Dest {
    Container(ContainerId),
    Surface(SurfaceId),
}

/// Nobody goes on until every named role has confirmed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Hold {
    pub title: String,
    pub confirms: Vec<(RoleId, String)>,
    /// None where the policy does not say what happens if it is not so.
    pub if_not: Option<IfNot>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum IfNot {
    /// The index of the step, in this sequence, at which to begin again.
    GoBack {
        title: String,
        step: usize,
    },
    Start {
        title: String,
        sequence: super::SequenceId,
    },
    /// A title that nothing bears; a problem tells of it.
    Nowhere,
}

/// Lines beneath a step, in the order written.
#[derive(Clone, Debug, Default, Serialize)]
pub struct Prompts {
    pub say: Vec<String>,
    pub look_for: Vec<String>,
    pub stop_if: Vec<String>,
    pub caution: Vec<String>,
    pub warning: Vec<String>,
    pub danger: Vec<String>,
    pub because: Vec<Because>,
    pub takes: Option<Seconds>,
    pub print_as: Option<String>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Because {
    pub reason: String,
    pub citation: Option<CitationId>,
}
