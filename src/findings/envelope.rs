//! What every report for other programs begins and ends with: who tells it, and the usual caution.
//!
//! In: what is told. Out: JSON text. Must never leave out a field because it is empty.

use serde::Serialize;

use super::closing::CAUTION;

#[derive(Serialize)]
struct Envelope<'a, T> {
    tool: &'static str,
    version: &'static str,
    #[serde(flatten)]
    told: &'a T,
    caution: &'static str,
}

/// `told`: a struct or a map; its fields stand in the one object.
pub fn json(told: &impl Serialize) -> String {
    let envelope = Envelope { tool: "anteroom", version: env!("CARGO_PKG_VERSION"), told, caution: CAUTION };
    serde_json::to_string_pretty(&envelope).unwrap_or_default() + "\n"
}

/// A file that could not be read, and why, a clause.
#[derive(Serialize)]
pub struct Unread<'a> {
    file: &'a str,
    why: &'a str,
}

pub fn unread(files: &[(String, String)]) -> Vec<Unread<'_>> {
    files.iter().map(|(file, why)| Unread { file, why }).collect()
}
