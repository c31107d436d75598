//! A piece of kit.

use serde::Serialize;

use super::picture::Picture;
use super::{Area, Areas, CleanerId, ContainerId, ItemId, Seconds};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Item {
    pub name: String,
    /// What is printed; the name where the policy gives nothing else.
    pub printed: String,
    pub covers: Areas,
    /// The edge of this item lies over that of each of these.
    pub goes_over: Vec<ItemId>,
    /// The edge of this item is tucked into each of these.
    pub tucks_into: Vec<ItemId>,
    pub holds_down: Vec<ItemId>,
    pub connects_to: Vec<ItemId>,
    /// The parts that the policy lists, in its order.
    pub grips: Vec<Grip>,
    pub meets: Vec<String>,
    /// A drawing of the hospital's own, in place of the program's.
    pub picture: Option<Picture>,
    pub needs_fit_test: bool,
    pub single_use: bool,
    pub reused_after: Option<Reuse>,
    pub goes_to: Option<ContainerId>,
    pub sharp: bool,
    pub runs_for: Option<Seconds>,
    /// The room that one of it takes in its container.
    pub millilitres: Option<u64>,
    /// The wearer's own clothes beneath the kit: on from the beginning, and to stay clean.
    pub worn_beneath: bool,
    pub pairs: Option<u32>,
    pub sizes: Vec<String>,
    #[serde(skip)]
    pub span: Span,
}

/// A part that is taken hold of, and where it lies.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Grip {
    pub part: String,
    pub lies: Lies,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Lies {
    /// Where the walk's table of parts puts it, by the part's name and what the item covers.
    ByCustom,
    On(Area),
}

#[derive(Clone, Debug, Serialize)]
pub struct Reuse {
    pub cleaners: Vec<CleanerId>,
}
