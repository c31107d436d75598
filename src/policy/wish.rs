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
    /// Comes off after everything else, or together with it.
    OffLast(ItemId),
    /// Goes on after everything else.
    OnLast(ItemId),
    /// Is looked at before it goes on.
    CheckedFirst(ItemId),
    /// Hands are cleaned after every item that comes off.
    HandsAfterEveryItem,
    /// Nothing is sprayed that somebody wears.
    NoSpraying,
    /// Hands are not cleaned while gloves are on.
    BareHandsOnly,
    /// The cuffs are taped as the kit goes on.
    Taping,
    /// Nothing is taped.
    NoTaping,
}

impl Asks {
    /// Sentences that are understood after `needs`, as examples; any item may stand where one stands here.
    pub const NEEDED: [&str; 7] = [
        "goggles off before gown",
        "mask on before goggles",
        "inner gloves off last",
        "outer gloves on last",
        "gown checked first",
        "hands cleaned after every item",
        "taping",
    ];
    /// The same after `forbids`.
    pub const FORBIDDEN: [&str; 5] =
        ["goggles off before gown", "mask on before goggles", "spraying people", "cleaning gloved hands", "taping"];
}
