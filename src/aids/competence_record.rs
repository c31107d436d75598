//! The competence record: one person, every step, how it was done.
//!
//! In: procedures. Out: a [`Form`]. Must never number a step otherwise than its poster does.

use super::forms;
use super::plan::{Control, Form, FormCell, FormColumn, FormRow, FormSection};
use super::rows::Telling;
use super::words::{Words, say};

/// How a step was done.
const OUTCOMES: [&str; 4] = ["done", "prompted", "corrected", "missed"];

/// `edition`: the words of the edition that is assessed.
pub fn form<'a>(words: &Words, control: &Control, procedures: impl Iterator<Item = Telling<'a>>) -> Form {
    let tell = |key: &str| say(&words.forms, key, &[]);
    let about = FormSection {
        rows: vec![
            forms::fields(words, &[("who", 3), ("role", 2), ("date", 1)]),
            FormRow::Fields(vec![
                forms::known(words, "assessor", "", 3),
                forms::known(words, "assessed_on", &control.edition, 3),
            ]),
            forms::ticks(words, &["method_entry", "method_exercise", "method_shown"]),
        ],
        ..forms::untitled()
    };
    let table = |telling: Telling| FormSection {
        title: telling.procedure.title.to_string(),
        note: String::new(),
        columns: columns(words),
        rows: forms::entries(&telling),
    };
    let outcome = FormSection {
        title: tell("outcome"),
        note: tell("fades"),
        columns: Vec::new(),
        rows: vec![
            forms::ticks(words, &["passed", "again"]),
            forms::tall(words, "remarks"),
            forms::fields(words, &[("signed_assessor", 3), ("signed_person", 3), ("next", 2)]),
        ],
    };
    let sections = std::iter::once(about).chain(procedures.map(table)).chain([outcome]);
    Form { intro: tell("record_intro"), sections: sections.collect() }
}

fn columns(words: &Words) -> Vec<FormColumn> {
    let step = FormColumn { label: say(&words.forms, "step", &[]), holds: FormCell::Words, share: 10 };
    let outcome = |key: &str| FormColumn { label: say(&words.forms, key, &[]), holds: FormCell::Tick, share: 2 };
    std::iter::once(step).chain(OUTCOMES.map(outcome)).collect()
}
