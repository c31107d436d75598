//! The trolley check: every item of the kit list, a week of boxes beside it.
//!
//! In: a level. Out: a [`Form`]. Must never list another number of items than the kit list does.

use super::forms;
use super::kit_list;
use super::plan::{Form, FormCell, FormColumn, KitRow};
use super::words::{Words, say};
use crate::policy::{LevelId, Policy};

pub fn form(policy: &Policy, words: &Words, level: LevelId) -> Form {
    let tell = |key: &str| say(&words.forms, key, &[]);
    let kit = kit_list::kit(policy, words, level);
    let groups = kit.roles.into_iter().map(|role| (role.role, role.rows));
    let supplies = (!kit.supplies.is_empty()).then_some((kit.supplies_title, kit.supplies));
    let entry = |row: KitRow| forms::entry(row.name, row.count);
    let table = |(title, rows): (String, Vec<KitRow>)| {
        forms::table(title, columns(words), rows.into_iter().map(entry).collect())
    };
    let about = [("trolley", 2), ("week_of", 1), ("checked_by", 2)];
    let about = forms::untitled(vec![forms::fields(&words.forms, &about)]);
    let sections = std::iter::once(about).chain(groups.chain(supplies).map(table));
    Form { intro: tell("trolley_intro"), sections: sections.collect() }
}

fn columns(words: &Words) -> Vec<FormColumn> {
    let column = |label: String, holds: FormCell, share: u8| FormColumn { label, holds, share };
    let mut columns = vec![
        column(words.labels.item.clone(), FormCell::Words, 10),
        column(words.labels.count.clone(), FormCell::Words, 4),
        forms::column(&words.forms, "expires", FormCell::Blank, 5),
    ];
    columns.extend((0..DAYS).map(|_| column(String::new(), FormCell::Blank, 2)));
    columns
}

/// One column a day, for the date and whoever looked.
const DAYS: usize = 7;
