//! A published source that `because` lines cite.

use serde::Serialize;

use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Citation {
    pub name: String,
    pub title: String,
    pub from: Option<String>,
    pub dated: Option<String>,
    pub page: Option<String>,
    pub link: Option<String>,
    #[serde(skip)]
    pub span: Span,
}
