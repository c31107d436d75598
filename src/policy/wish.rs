//! A rule of the house that a level turns on: `this level needs …`, `this level forbids …`.
//!
//! Published bodies contradict each other on these orders (GUIDANCE.md A5), so none of them holds unless a level says so.

use serde::Serialize;

use super::ItemId;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Wish {
    /// As written, after `needs` or `forbids`, in lower case.
    pub words: String,
    pub forbids: bool,
    pub asks: Asks,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Asks {
    /// The first comes off before the second, or together with it.
    OffBefore(ItemId, ItemId),
    /// The first goes on before the second.
    OnBefore(ItemId, ItemId),
    /// Hands are cleaned after every item that comes off.
    HandsAfterEveryItem,
    /// Nothing is sprayed that somebody wears.
    NoSpraying,
    /// Hands are not cleaned while gloves are on.
    BareHandsOnly,
}

impl Asks {
    /// Sentences that are understood after `needs`, as examples; any two items may stand in the first two.
    pub const NEEDED: [&str; 3] =
        ["goggles off before gown", "mask on before goggles", "hands cleaned after every item"];
    /// The same after `forbids`.
    pub const FORBIDDEN: [&str; 4] =
        ["goggles off before gown", "mask on before goggles", "spraying people", "cleaning gloved hands"];
}
