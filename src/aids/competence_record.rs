//! The competence record: one person, every step, how it was done.
//!
//! In: procedures. Out: a [`Form`]. Must never number a step otherwise than its poster does.

use super::forms;
use super::plan::{Control, Form, FormCell, FormColumn, FormRow, FormSection};
use super::rows::Telling;
use super::words::{Patterns, Words, say};

/// How a step was done.
const OUTCOMES: [&str; 4] = ["done", "prompted", "corrected", "missed"];

/// `edition`: the words of the edition that is assessed.
pub fn form<'a>(words: &Words, control: &Control, procedures: impl Iterator<Item = Telling<'a>>) -> Form {
    let asked = &words.forms;
    let tell = |key: &str| say(asked, key, &[]);
    let about = forms::untitled(vec![
        forms::fields(asked, &[("who", 3), ("role", 2), ("date", 1)]),
        FormRow::Fields(vec![
            forms::known(asked, "assessor", "", 3),
            forms::known(asked, "assessed_against", &control.edition, 3),
        ]),
        forms::ticks(asked, &["method_entry", "method_exercise", "method_shown"]),
    ]);
    let table =
        |telling: Telling| forms::table(telling.procedure.title.to_string(), columns(asked), forms::entries(&telling));
    let ended = vec![
        forms::ticks(asked, &["passed", "again"]),
        forms::tall(asked, "remarks"),
        forms::fields(asked, &[("signed_assessor", 3), ("signed_person", 3), ("next", 2)]),
    ];
    let outcome = FormSection { note: tell("fades"), ..forms::section(tell("outcome"), ended) };
    let sections = std::iter::once(about).chain(procedures.map(table)).chain([outcome]);
    Form { intro: tell("record_intro"), sections: sections.collect() }
}

fn columns(asked: &Patterns) -> Vec<FormColumn> {
    let step = forms::column(asked, "step", FormCell::Words, 10);
    let outcome = |key: &str| forms::column(asked, key, FormCell::Tick, 2);
    std::iter::once(step).chain(OUTCOMES.map(outcome)).collect()
}
