//! What every face of an edition is marked with that is not in force.
//!
//! In: a checked policy, or the edition that has replaced it. Out: the word and the reasons. Must never judge: what holds
//! is the session's to say.

use super::plan::Marking;
use super::words::{Words, say};
use crate::session::{Checked, Standing, standing};

/// `unapproved`: why the words that it is told in make it a draft, whatever the policy is.
pub fn of(checked: &Checked, words: &Words, unapproved: Vec<String>) -> Option<Marking> {
    let tell = |key: &str, day| say(&words.marks, key, &[("date", &words.day(day))]);
    let draft = |reasons: Vec<String>| ("draft", [unapproved.clone(), reasons].concat());
    let (key, reasons) = match standing(checked) {
        Standing::Withdrawn(day) => ("withdrawn", vec![tell("withdrawn_why", day)]),
        Standing::Draft(reasons) => draft(reasons),
        Standing::InForce if unapproved.is_empty() => return None,
        Standing::InForce => draft(Vec::new()),
        Standing::NotYet(day) if unapproved.is_empty() => ("not_yet", vec![tell("not_yet_why", day)]),
        Standing::NotYet(day) => draft(vec![tell("not_yet_why", day)]),
    };
    Some(Marking { word: say(&words.marks, key, &[]), reasons })
}

/// `by`: the number of the edition that has replaced it, where it is known.
pub fn superseded(words: &Words, by: Option<u32>) -> Marking {
    let later = match by {
        Some(number) => say(&words.marks, "edition", &[("number", &number.to_string())]),
        None => say(&words.marks, "later_edition", &[]),
    };
    let reasons = vec![say(&words.marks, "superseded_why", &[("later", &later)])];
    Marking { word: say(&words.marks, "superseded", &[]), reasons }
}
