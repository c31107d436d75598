//! The changes of a comparison done to the view of the old edition, by code that the product does not have.

use std::collections::BTreeMap;

use anteroom::compare::change::{Change, Edit, Key};
use anteroom::compare::view::{Line, View};

pub fn applied(old: &View, changes: &[Change]) -> View {
    let edits: Vec<&Edit> = changes.iter().flat_map(|change| &change.edits).collect();
    let mut entries = old.entries.clone();
    entries.retain(|entry| !edits.contains(&&Edit::TakeOutEntry(Key::of(entry))));
    let of_line = |edit: &&&Edit| {
        matches!(
            ***edit,
            Edit::AddLine { .. } | Edit::TakeOutLine { .. } | Edit::MoveLine { .. } | Edit::SetLine { .. }
        )
    };
    let line_edits: Vec<&Edit> = edits.iter().filter(of_line).copied().collect();
    let arriving = arriving(old, &line_edits);
    for entry in &mut entries {
        let key = Key::of(entry);
        entry.lines = lines(&key, &entry.lines, &line_edits, arriving.get(&key));
        for edit in &edits {
            match edit {
                Edit::SetField { key: of, field, value } if *of == key => entry.fields.set(*field, value.clone()),
                _ => {}
            }
        }
    }
    let mut placed: BTreeMap<usize, _> = BTreeMap::new();
    for edit in &edits {
        match edit {
            Edit::AddEntry { at, entry } => drop(placed.insert(*at, entry.clone())),
            Edit::MoveEntry { key, to } => {
                let from = entries.iter().position(|entry| Key::of(entry) == *key).expect("it stands there");
                placed.insert(*to, entries.remove(from));
            }
            _ => {}
        }
    }
    View { entries: filled(placed, entries) }
}

/// Things at their places, the others in their order between them.
fn filled<T>(mut placed: BTreeMap<usize, T>, others: Vec<T>) -> Vec<T> {
    let mut others = others.into_iter();
    let mut all = Vec::new();
    loop {
        match placed.remove(&all.len()).or_else(|| others.next()) {
            Some(next) => all.push(next),
            None if placed.is_empty() => return all,
            None => panic!("a place is left open: {}", all.len()),
        }
    }
}

/// Lines that come to a sequence: new ones, and those that moved there or within it.
fn arriving(old: &View, edits: &[&Edit]) -> BTreeMap<Key, BTreeMap<usize, Line>> {
    let mut all: BTreeMap<Key, BTreeMap<usize, Line>> = BTreeMap::new();
    for edit in edits {
        match edit {
            Edit::AddLine { key, at, line } => drop(all.entry(key.clone()).or_default().insert(*at, line.clone())),
            Edit::MoveLine { key, old: from, to_key, to } => {
                let entry = old.entries.iter().find(|entry| Key::of(entry) == *key).expect("it is there");
                all.entry(to_key.clone()).or_default().insert(*to, entry.lines[*from].clone());
            }
            _ => {}
        }
    }
    all
}

fn lines(key: &Key, old: &[Line], edits: &[&Edit], arriving: Option<&BTreeMap<usize, Line>>) -> Vec<Line> {
    let leaves = |at: usize| {
        edits.iter().any(|edit| match edit {
            Edit::TakeOutLine { key: of, old } | Edit::MoveLine { key: of, old, .. } => of == key && *old == at,
            _ => false,
        })
    };
    let stay = old.iter().enumerate().filter(|(at, _)| !leaves(*at)).map(|(_, line)| line.clone()).collect();
    let mut lines = filled(arriving.cloned().unwrap_or_default(), stay);
    for edit in edits {
        match edit {
            Edit::SetLine { key: of, at, field, value } if of == key => lines[*at].fields.set(*field, value.clone()),
            _ => {}
        }
    }
    lines
}
