//! Comparisons as one JSON object, for other programs; `comparison.schema.json` beside this file says its shape.

use serde::Serialize;

use super::Comparison;
use crate::findings::envelope;

/// JSON Schema 2020-12 of [`report`].
pub const SCHEMA: &str = include_str!("comparison.schema.json");

#[derive(Serialize)]
struct Shape<'a> {
    comparisons: &'a [Comparison],
    only_before: &'a [String],
    only_now: &'a [String],
}

/// `gone`, `come`: files that stand in one of two folders only.
pub fn report(comparisons: &[Comparison], gone: &[String], come: &[String]) -> String {
    envelope::json(&Shape { comparisons, only_before: gone, only_now: come })
}
