//! The overview as one JSON object, for other programs. Its shape is published in `status.schema.json` beside this file.
//!
//! In: an overview. Out: JSON text. Must never leave out a field because it is empty.

use serde::Serialize;

use super::Overview;
use crate::findings::closing::CAUTION;

/// JSON Schema 2020-12 of [`json`].
pub const SCHEMA: &str = include_str!("status.schema.json");

#[derive(Serialize)]
struct Shape<'a> {
    tool: &'static str,
    version: &'static str,
    #[serde(flatten)]
    overview: &'a Overview,
    unread: Vec<Unread<'a>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct Unread<'a> {
    file: &'a str,
    why: &'a str,
}

/// `unread`: each file that could not be read, and why.
pub fn json(overview: &Overview, unread: &[(String, String)]) -> String {
    let shape = Shape {
        tool: "anteroom",
        version: env!("CARGO_PKG_VERSION"),
        overview,
        unread: unread.iter().map(|(file, why)| Unread { file, why }).collect(),
        caution: CAUTION,
    };
    serde_json::to_string_pretty(&shape).unwrap_or_default() + "\n"
}
