//! The overview as one JSON object, for other programs. Its shape is published in `status.schema.json` beside this file.
//!
//! In: an overview. Out: JSON text. Must never leave out a field because it is empty.

use serde::Serialize;

use super::Overview;
use crate::findings::envelope::{self, Unread};

/// JSON Schema 2020-12 of [`json`].
pub const SCHEMA: &str = include_str!("status.schema.json");

#[derive(Serialize)]
struct Shape<'a> {
    #[serde(flatten)]
    overview: &'a Overview,
    unread: Vec<Unread<'a>>,
}

/// `unread`: each file that could not be read, and why.
pub fn json(overview: &Overview, unread: &[(String, String)]) -> String {
    envelope::json(&Shape { overview, unread: envelope::unread(unread) })
}
