//! A drill that can be entered from any step.

use serde::Serialize;

use super::{Area, ItemId, RoleId, SequenceId, Step};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Contingency {
    pub title: String,
    pub event: Event,
    pub steps: Vec<Step>,
    pub endings: Vec<Ending>,
    /// All of its lines could be read and resolved; otherwise it is not played.
    #[serde(skip)]
    pub is_whole: bool,
    #[serde(skip)]
    pub span: Span,
    /// From the opening line to the last line beneath it.
    #[serde(skip)]
    pub extent: Span,
}

/// What happens, as written, and what it happens to where that is known.
#[derive(Clone, Debug, Serialize)]
pub struct Event {
    pub words: String,
    pub item: Option<ItemId>,
    pub area: Option<Area>,
    pub role: Option<RoleId>,
    /// torn, splashed, pierced, fails, unwell …
    pub state: String,
}

#[derive(Clone, Debug, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Ending {
    CarryOn,
    Start(SequenceId),
    /// A title that nothing bears; a problem tells of it.
    Nowhere,
}
