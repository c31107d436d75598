//! What forms share: lines to write on, boxes to tick, and a procedure as the rows of a table.
//!
//! In: keys of the words, procedures. Out: pieces of a [`Form`](super::plan::Form). Must never choose what a form asks.

use super::plan::{FormEntry, FormField, FormRow, FormSection, Row};
use super::poster;
use super::rows::Telling;
use super::words::{Words, say};

/// Lines side by side, each a key of the words and its share of the width.
pub fn fields(words: &Words, fields: &[(&str, u8)]) -> FormRow {
    let field = |&(key, share): &(&str, u8)| FormField {
        label: say(&words.forms, key, &[]),
        value: String::new(),
        share,
        tall: false,
    };
    FormRow::Fields(fields.iter().map(field).collect())
}

/// Room for several lines.
pub fn tall(words: &Words, key: &str) -> FormRow {
    let label = say(&words.forms, key, &[]);
    FormRow::Fields(vec![FormField { label, value: String::new(), share: 1, tall: true }])
}

/// A line of which the words are known.
pub fn known(words: &Words, key: &str, value: &str, share: u8) -> FormField {
    FormField { label: say(&words.forms, key, &[]), value: value.to_string(), share, tall: false }
}

pub fn ticks(words: &Words, keys: &[&str]) -> FormRow {
    FormRow::Ticks(keys.iter().map(|key| say(&words.forms, key, &[])).collect())
}

pub fn untitled() -> FormSection {
    FormSection { title: String::new(), note: String::new(), columns: Vec::new(), rows: Vec::new() }
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
                    is_hold: false,
                    mark: String::new(),
                }
            }
            Row::Hold(hold) => FormEntry {
                number: String::new(),
                words: format!("{} · {}", telling.words.labels.hold, hold.title),
                detail: hold.when,
                is_hold: true,
                mark: String::new(),
            },
        })
    };
    rows.map(entry).collect()
}
