//! The log of who went in and came out, with the time by which to leave where the level limits the stay.
//!
//! In: a level. Out: a [`Form`]. Must never ask for more about a person than who, when and what went wrong.

use super::forms;
use super::plan::{Form, FormCell, FormEntry, FormRow, FormSection};
use super::words::{Words, say};
use crate::policy::{LevelId, Policy};

/// As many as stand on a sheet of A4 with room to write.
const ROWS: usize = 13;

pub fn form(policy: &Policy, words: &Words, level: LevelId) -> Form {
    let stay = policy.level(level).stay;
    let watched = policy.roles.iter().any(|role| role.watches);
    let column = |key: &str, share: u8| forms::column(&words.forms, key, FormCell::Blank, share);
    let mut columns = vec![column("date", 3), column("who", 6), column("role", 4), column("went_in", 3)];
    columns.extend(stay.map(|_| column("leave_by", 3)));
    columns.push(column("came_out", 3));
    columns.extend(watched.then(|| column("watched_by", 5)));
    columns.push(column("went_wrong", 7));
    let note = stay.map(|time| say(&words.forms, "stay", &[("time", &words.duration(time))]));
    let rows = vec![FormRow::Entry(FormEntry::default()); ROWS];
    let table = FormSection { note: note.unwrap_or_default(), ..forms::table(String::new(), columns, rows) };
    Form { intro: say(&words.forms, "log_intro", &[]), sections: vec![table] }
}
