//! The form for audits: every step, a column for each person who is watched.
//!
//! In: procedures. Out: a [`Form`]. Must never ask who somebody is: an audit counts steps, not people.

use super::forms;
use super::plan::{Form, FormCell, FormColumn, FormSection};
use super::rows::Telling;
use super::words::{Patterns, Words, say};

/// Persons watched on one form.
const PERSONS: usize = 6;

pub fn form<'a>(words: &Words, procedures: impl Iterator<Item = Telling<'a>>) -> Form {
    let asked = &words.forms;
    let tell = |key: &str| say(asked, key, &[]);
    let about = forms::untitled(vec![forms::fields(asked, &[("place", 2), ("observed_by", 2), ("date", 1)])]);
    let table = |telling: Telling| FormSection {
        note: tell("marks"),
        ..forms::table(telling.procedure.title.to_string(), columns(asked), forms::entries(&telling))
    };
    let after = vec![forms::tall(asked, "seen_besides"), forms::tall(asked, "told_whom")];
    let after = forms::section(tell("afterwards"), after);
    let sections = std::iter::once(about).chain(procedures.map(table)).chain([after]);
    Form { intro: tell("observation_intro"), sections: sections.collect() }
}

fn columns(asked: &Patterns) -> Vec<FormColumn> {
    let step = forms::column(asked, "step", FormCell::Words, 14);
    let person = |number: usize| FormColumn { label: number.to_string(), holds: FormCell::Blank, share: 2 };
    std::iter::once(step).chain((1..=PERSONS).map(person)).collect()
}
