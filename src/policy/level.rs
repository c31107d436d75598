//! A kit level: who wears what against what, and how near the hazard may come.

use serde::Serialize;

use super::{Areas, HazardId, ItemId, RoleId, Routes, Seconds, Wish};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Level {
    pub name: String,
    pub against_hazards: Vec<HazardId>,
    /// The routes named, and those of the hazards named.
    pub routes: Routes,
    pub kits: Vec<Kit>,
    pub keep_covered: Areas,
    pub assume: Option<Assumption>,
    pub margins: Vec<Margin>,
    pub stay: Option<Seconds>,
    /// Rules of the house that the level turns on.
    pub wishes: Vec<Wish>,
    #[serde(skip)]
    pub span: Span,
    /// From the opening line to the last line beneath it.
    #[serde(skip)]
    pub extent: Span,
}

#[derive(Clone, Debug, Serialize)]
pub struct Kit {
    pub role: RoleId,
    pub items: Vec<Worn>,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Debug, Serialize)]
pub struct Worn {
    pub item: ItemId,
    pub pairs: u32,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Assumption {
    Fronts,
    EveryOutside,
}

/// `keep WHAT N touches away`, after `slips` slips.
#[derive(Clone, Debug, Serialize)]
pub struct Margin {
    pub shield: Shield,
    pub touches: u32,
    pub slips: u8,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Shield {
    Skin,
    Face,
    Clothes,
}

impl Level {
    pub fn kit(&self, role: RoleId) -> Option<&Kit> {
        self.kits.iter().find(|kit| kit.role == role)
    }

    /// What the policy asks without a slip; none where it asks nothing.
    pub fn margin(&self, shield: Shield) -> Option<&Margin> {
        self.margins.iter().find(|margin| margin.shield == shield && margin.slips == 0)
    }
}
