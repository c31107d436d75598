//! A reasoned, dated acceptance of one finding.

use serde::Serialize;

use super::Day;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Exception {
    /// The finding's name, two words.
    pub finding: String,
    /// The title of the sequence, hold, part or contingency in which it is accepted.
    pub at: String,
    pub because: String,
    pub until: Day,
    #[serde(skip)]
    pub span: Span,
    /// Where the finding's name stands.
    #[serde(skip)]
    pub finding_span: Span,
}
