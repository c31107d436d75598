//! Where the policy says something that could not be read or resolved, and what may follow from it.
//!
//! In: lines that are told as problems. Out: what they belong to, so that nothing is reported because of what is missing.

use super::{ItemId, LevelId};
use crate::text::Span;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gap {
    pub span: Span,
    pub of: GapOf,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GapOf {
    /// A place, a way, a role, a cleaner or the like: every level may depend on it.
    Everything,
    Item(ItemId),
    /// A line of a level itself.
    Level(LevelId),
    /// A line among the steps of one of the level's sequences: what comes after it may depend on it.
    Steps(LevelId),
    /// A line of the choice of level.
    Choice,
    /// A line of a contingency.
    Contingency,
}
