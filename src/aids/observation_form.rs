//! The form for audits: every step, a column for each person who is watched.
//!
//! In: procedures. Out: a [`Form`]. Must never ask who somebody is: an audit counts steps, not people.

use super::forms;
use super::plan::{Form, FormCell, FormColumn, FormSection};
use super::rows::Telling;
use super::words::{Words, say};

/// Persons watched on one form.
const PERSONS: usize = 6;

pub fn form<'a>(words: &Words, procedures: impl Iterator<Item = Telling<'a>>) -> Form {
    let tell = |key: &str| say(&words.forms, key, &[]);
    let about = FormSection {
        rows: vec![forms::fields(words, &[("place", 2), ("observed_by", 2), ("date", 1)])],
        ..forms::untitled()
    };
    let table = |telling: Telling| FormSection {
        title: telling.procedure.title.to_string(),
        note: tell("marks"),
        columns: columns(words),
        rows: forms::entries(&telling),
    };
    let after = FormSection {
        title: tell("afterwards"),
        rows: vec![forms::tall(words, "seen_besides"), forms::tall(words, "told_whom")],
        ..forms::untitled()
    };
    let sections = std::iter::once(about).chain(procedures.map(table)).chain([after]);
    Form { intro: tell("observation_intro"), sections: sections.collect() }
}

fn columns(words: &Words) -> Vec<FormColumn> {
    let step = FormColumn { label: say(&words.forms, "step", &[]), holds: FormCell::Words, share: 14 };
    let person = |number: usize| FormColumn { label: number.to_string(), holds: FormCell::Blank, share: 2 };
    std::iter::once(step).chain((1..=PERSONS).map(person)).collect()
}
