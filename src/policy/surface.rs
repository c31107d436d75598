//! What is stood on, sat on, laid on or handled.

use serde::Serialize;

use super::{ContainerId, PlaceId};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Surface {
    pub name: String,
    pub place: Option<PlaceId>,
    /// `laid in PLACE`: carried there and laid out, rather than standing there.
    pub laid: bool,
    pub starts_contaminated: bool,
    /// The policy says so; a surface of which it says nothing counts as neither.
    pub starts_clean: bool,
    pub goes_to: Option<ContainerId>,
    #[serde(skip)]
    pub span: Span,
}
