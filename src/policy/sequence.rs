//! The steps of one putting-on, taking-off or other procedure.

use serde::Serialize;

use super::{LevelId, PlaceId, RoleId, Step};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Sequence {
    pub title: String,
    pub level: LevelId,
    pub place: Option<PlaceId>,
    pub parts: Vec<Part>,
    pub steps: Vec<Step>,
    #[serde(skip)]
    pub span: Span,
    /// From the opening line to the last line beneath it.
    #[serde(skip)]
    pub extent: Span,
}

/// A named group of steps: a band on the poster, a place to go back to.
#[derive(Clone, Debug, Serialize)]
pub struct Part {
    pub title: String,
    /// The index in `steps` of the first step of the part; it runs to the next part's first.
    pub first: usize,
    #[serde(skip)]
    pub span: Span,
}

impl Sequence {
    /// Whether somebody in that role acts or confirms here.
    pub fn has_part_for(&self, role: RoleId) -> bool {
        self.steps.iter().any(|step| step.has_part_for(role))
    }

    /// The part in which a step stands; none before the first part.
    pub fn part_of(&self, step: usize) -> Option<&Part> {
        self.parts.iter().rev().find(|part| part.first <= step)
    }
}
