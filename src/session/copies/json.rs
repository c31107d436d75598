//! An answer as one JSON object, for other programs. Its shape is published in `verify.schema.json` beside this file.
//!
//! In: an answer. Out: JSON text. Must never leave out a field because it is empty.

use serde::Serialize;

use super::Answer;
use crate::findings::envelope::{self, Unread};
use crate::policy::Day;

/// JSON Schema 2020-12 of [`json`].
pub const SCHEMA: &str = include_str!("verify.schema.json");

#[derive(Serialize)]
struct Shape<'a> {
    today: Day,
    #[serde(flatten)]
    answer: &'a Answer,
    unread: Vec<Unread<'a>>,
}

/// `unread`: each file that could not be read, and why.
pub fn json(answer: &Answer, today: Day, unread: &[(String, String)]) -> String {
    envelope::json(&Shape { today, answer, unread: envelope::unread(unread) })
}
