//! Comparisons as one JSON object, for other programs; `comparison.schema.json` beside this file says its shape.

use serde_json::json;

use super::Comparison;

pub const SCHEMA: &str = include_str!("comparison.schema.json");

/// `gone`, `come`: files that stand in one of two folders only.
pub fn report(comparisons: &[Comparison], gone: &[String], come: &[String]) -> String {
    let value = json!({
        "schema": "anteroom comparison 1",
        "program": env!("CARGO_PKG_VERSION"),
        "caution": crate::findings::closing::CAUTION,
        "comparisons": comparisons,
        "only_before": gone,
        "only_now": come,
    });
    format!("{value:#}\n")
}
