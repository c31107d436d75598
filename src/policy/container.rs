//! Where things end.

use serde::Serialize;

use super::PlaceId;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Container {
    pub name: String,
    pub printed: String,
    pub purpose: Option<Purpose>,
    /// The words after `for`, as written.
    pub purpose_words: String,
    pub place: Option<PlaceId>,
    pub millilitres: Option<u64>,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Purpose {
    /// Any waste that is not for sharps.
    Waste,
    Sharps,
    Reuse,
}
