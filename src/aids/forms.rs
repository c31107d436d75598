//! What forms are made of: lines to write on, boxes to tick, tables, and a procedure as the rows of one.
//!
//! In: a table of words and keys of it, procedures. Out: pieces of a [`Form`](super::plan::Form). Must never choose what a form asks.

use super::plan::{FormCell, FormColumn, FormEntry, FormField, FormRow, FormSection, Row};
use super::poster;
use super::rows::Telling;
use super::words::{Patterns, say};

/// Lines side by side, each a key of the words and its share of the width.
pub fn fields(words: &Patterns, fields: &[(&str, u8)]) -> FormRow {
    FormRow::Fields(fields.iter().map(|&(key, share)| known(words, key, "", share)).collect())
}

/// Room for several lines.
pub fn tall(words: &Patterns, key: &str) -> FormRow {
    FormRow::Fields(vec![FormField { tall: true, ..known(words, key, "", 1) }])
}

/// A line of which the words are known; empty where they are to be written.
pub fn known(words: &Patterns, key: &str, value: &str, share: u8) -> FormField {
    FormField { label: say(words, key, &[]), value: value.to_string(), share, tall: false }
}

pub fn ticks(words: &Patterns, keys: &[&str]) -> FormRow {
    FormRow::Ticks(keys.iter().map(|key| say(words, key, &[])).collect())
}

pub fn column(words: &Patterns, key: &str, holds: FormCell, share: u8) -> FormColumn {
    FormColumn { label: say(words, key, &[]), holds, share }
}

/// One row of a table that is no step: what it is about, and more of it in another column or beneath.
pub fn entry(words: String, detail: String) -> FormRow {
    FormRow::Entry(FormEntry { words, detail, ..FormEntry::default() })
}

pub fn section(title: String, rows: Vec<FormRow>) -> FormSection {
    table(title, Vec::new(), rows)
}

pub fn untitled(rows: Vec<FormRow>) -> FormSection {
    section(String::new(), rows)
}

pub fn table(title: String, columns: Vec<FormColumn>, rows: Vec<FormRow>) -> FormSection {
    FormSection { title, note: String::new(), columns, rows, bound: false }
}

/// Every step and hold of a procedure, numbered as on its poster.
pub fn entries(telling: &Telling) -> Vec<FormRow> {
    let rows = poster::steps(telling).bands.into_iter().flat_map(|band| band.rows);
    let entry = |row: Row| {
        FormRow::Entry(match row {
            Row::Step(step) => {
                let slots = [("actor", step.who.as_str()), ("act", step.act.as_str())];
                let told = say(&telling.words.voices, "say_to_other", &slots);
                FormEntry {
                    number: step.number.to_string(),
                    words: if step.who.is_empty() { step.act } else { told },
                    detail: step.when,
                    ..FormEntry::default()
                }
            }
            Row::Hold(hold) => FormEntry {
                words: format!("{} · {}", telling.words.labels.hold, hold.title),
                detail: hold.when,
                is_hold: true,
                ..FormEntry::default()
            },
        })
    };
    rows.map(entry).collect()
}
