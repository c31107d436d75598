//! Comparisons as one JSON object, for other programs; `comparison.schema.json` beside this file says its shape.

use serde::Serialize;

use super::Comparison;
use crate::findings::closing::CAUTION;

/// JSON Schema 2020-12 of [`report`].
pub const SCHEMA: &str = include_str!("comparison.schema.json");

/// `gone`, `come`: files that stand in one of two folders only.
pub fn report(comparisons: &[Comparison], gone: &[String], come: &[String]) -> String {
    let shape = Shape {
        tool: "anteroom",
        version: env!("CARGO_PKG_VERSION"),
        comparisons,
        only_before: gone,
        only_now: come,
        caution: CAUTION,
    };
    serde_json::to_string_pretty(&shape).unwrap_or_default() + "\n"
}

#[derive(Serialize)]
struct Shape<'a> {
    tool: &'static str,
    version: &'static str,
    comparisons: &'a [Comparison],
    only_before: &'a [String],
    only_now: &'a [String],
    caution: &'static str,
}
