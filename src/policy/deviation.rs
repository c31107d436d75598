//! Why a policy departs from the one that it is compared with.

use serde::Serialize;

use super::Because;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Deviation {
    /// The words of a step of either policy, a title, or a name: whatever the comparison tells of.
    pub at: String,
    pub because: Because,
    #[serde(skip)]
    pub span: Span,
}
