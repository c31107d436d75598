//! An answer as one JSON object, for other programs. Its shape is published in `verify.schema.json` beside this file.
//!
//! In: an answer. Out: JSON text. Must never leave out a field because it is empty.

use serde::Serialize;

use super::Answer;
use crate::findings::closing::CAUTION;
use crate::policy::Day;

/// JSON Schema 2020-12 of [`json`].
pub const SCHEMA: &str = include_str!("verify.schema.json");

#[derive(Serialize)]
struct Shape<'a> {
    tool: &'static str,
    version: &'static str,
    today: Day,
    #[serde(flatten)]
    answer: &'a Answer,
    unread: Vec<Unread<'a>>,
    caution: &'static str,
}

#[derive(Serialize)]
struct Unread<'a> {
    file: &'a str,
    why: &'a str,
}

/// `unread`: each file that could not be read, and why.
pub fn json(answer: &Answer, today: Day, unread: &[(String, String)]) -> String {
    let shape = Shape {
        tool: "anteroom",
        version: env!("CARGO_PKG_VERSION"),
        today,
        answer,
        unread: unread.iter().map(|(file, why)| Unread { file, why }).collect(),
        caution: CAUTION,
    };
    serde_json::to_string_pretty(&shape).unwrap_or_default() + "\n"
}
