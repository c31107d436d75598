//! Who acts.

use serde::Serialize;

use super::RoleId;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Role {
    pub name: String,
    /// May touch the roles named here.
    pub helps: Vec<RoleId>,
    /// Watches and never touches.
    pub watches: bool,
    pub leads: bool,
    #[serde(skip)]
    pub span: Span,
}
