//! What differs between two views, before anything is weighed.
//!
//! In: the view of the old edition, in the names of the new one, and that of the new. Out: one [`Difference`] for each thing
//! that a reader would call one change. Must never tell a move as something added and something taken out.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use similar::{Algorithm, DiffTag, capture_diff_slices};

use super::change::{At, Edit, Key, What};
use super::field::Field;
use super::likeness::likeness;
use super::lines;
use super::matching::{self, Matching, heaviest_rise, matched};
use super::view::{Entry, Kind, Line, View, Word};

/// One change, with the lines that it concerns.
#[derive(Clone, Debug)]
pub struct Difference {
    pub what: What,
    pub kind: Kind,
    pub of: String,
    pub field: Option<Field>,
    pub before: Vec<Word>,
    pub after: Vec<Word>,
    pub old: Option<(At, Line)>,
    pub new: Option<(At, Line)>,
    /// How many lines moved together, headings among them.
    pub lines: usize,
    pub edits: Vec<Edit>,
}

impl Difference {
    fn of(what: What, entry: &Entry) -> Difference {
        Difference {
            what,
            kind: entry.kind,
            of: entry.name.shown.clone(),
            field: None,
            before: Vec::new(),
            after: Vec::new(),
            old: None,
            new: None,
            lines: 1,
            edits: Vec::new(),
        }
    }

    /// The line as it stands now, or as it stood.
    pub fn line(&self) -> Option<&Line> {
        self.new.as_ref().or(self.old.as_ref()).map(|(_, line)| line)
    }
}

/// Two sequences or contingencies of the same title, and which line of one is which of the other.
pub struct Pair<'a> {
    pub old: &'a Entry,
    pub new: &'a Entry,
    pub matching: Matching,
}

pub fn pairs<'a>(old: &'a View, new: &'a View) -> Vec<Pair<'a>> {
    let told = new.entries.iter().filter(|entry| matches!(entry.kind, Kind::Sequence | Kind::Contingency));
    told.filter_map(|new| {
        let old = old.entry(new.kind, &new.name.key)?;
        Some(Pair { old, new, matching: matched(&old.lines, &new.lines) })
    })
    .collect()
}

/// In the order of the kinds, then of the new edition.
pub fn differences(old: &View, new: &View, pairs: &[Pair]) -> Vec<Difference> {
    let mut found = Vec::new();
    let elsewhere = moved_elsewhere(pairs);
    for pair in pairs {
        of_lines(pair, pairs, &elsewhere, &mut found);
    }
    of_entries(old, new, &mut found);
    found.sort_by_key(|difference| difference.kind);
    found
}

fn of_entries(old: &View, new: &View, found: &mut Vec<Difference>) {
    for (at, entry) in new.entries.iter().enumerate() {
        match old.entry(entry.kind, &entry.name.key) {
            Some(before) => of_fields(before, entry, found),
            None => {
                let edits = vec![Edit::AddEntry { at, entry: entry.clone() }];
                found.push(Difference { edits, ..Difference::of(What::Added, entry) });
            }
        }
    }
    for entry in old.entries.iter().filter(|entry| new.entry(entry.kind, &entry.name.key).is_none()) {
        let edits = vec![Edit::TakeOutEntry(Key::of(entry))];
        found.push(Difference { edits, ..Difference::of(What::TakenOut, entry) });
    }
    order(old, new, found);
}

/// Entries of kinds whose order is printed or played, and that stand elsewhere among the others.
fn order(old: &View, new: &View, found: &mut Vec<Difference>) {
    let places: BTreeMap<Key, usize> = new.entries.iter().enumerate().map(|(at, entry)| (Key::of(entry), at)).collect();
    let kept: Vec<(&Entry, usize)> =
        old.entries.iter().filter_map(|entry| Some((entry, *places.get(&Key::of(entry))?))).collect();
    let numbers: Vec<usize> = kept.iter().map(|(_, at)| *at).collect();
    let stays = heaviest_rise(&numbers, &vec![0; numbers.len()], new.entries.len());
    for (at, (entry, to)) in kept.iter().enumerate() {
        if stays.binary_search(&at).is_err() {
            let edits = vec![Edit::MoveEntry { key: Key::of(entry), to: *to }];
            if entry.kind.is_ordered() {
                found.push(Difference { edits, ..Difference::of(What::Moved, entry) });
            }
        }
    }
}

fn of_fields(old: &Entry, new: &Entry, found: &mut Vec<Difference>) {
    for (field, before, after) in old.fields.differences(&new.fields) {
        let set = Edit::SetField { key: Key::of(new), field, value: after.to_vec() };
        for (part, (before, after)) in parted(field, before, after).into_iter().enumerate() {
            let what = what_of(field, &before, &after);
            let edits = if part == 0 { vec![set.clone()] } else { Vec::new() };
            found.push(Difference { field: Some(field), before, after, edits, ..Difference::of(what, new) });
        }
    }
}

/// Words that came or went are told so; otherwise what the field is of says what it is to change it.
fn what_of(field: Field, before: &[Word], after: &[Word]) -> What {
    match (field.what(), before.is_empty(), after.is_empty()) {
        (What::Reworded, true, _) if field != Field::Printed => What::Added,
        (What::Reworded, _, true) if field != Field::Printed => What::TakenOut,
        (what, ..) => what,
    }
}

/// Old lines that stand in another sequence now, with their places there: (pair, line) by (pair, line).
type Elsewhere = BTreeMap<(usize, usize), (usize, usize)>;

fn moved_elsewhere(pairs: &[Pair]) -> Elsewhere {
    // That hands are cleaned, and a heading, say too little to know them again in another sequence.
    let says_enough = |line: &Line| !line.is_heading() && line.key(Field::Act) != lines::CLEANS_HANDS;
    let mut open: BTreeMap<matching::Key, VecDeque<(usize, usize)>> = BTreeMap::new();
    for (of, pair) in pairs.iter().enumerate() {
        let lines = pair.new.lines.iter().enumerate().filter(|(at, _)| pair.matching.old_of[*at].is_none());
        for (at, line) in lines.filter(|(_, line)| says_enough(line)) {
            if let Some(key) = matching::whole(line) {
                open.entry(key).or_default().push_back((of, at));
            }
        }
    }
    let mut found = Elsewhere::new();
    for (of, pair) in pairs.iter().enumerate() {
        let lines = pair.old.lines.iter().enumerate().filter(|(at, _)| pair.matching.new_of[*at].is_none());
        for (at, line) in lines {
            let Some(places) = matching::whole(line).and_then(|key| open.get_mut(&key)) else { continue };
            if let Some(to) = places.iter().position(|(other, _)| *other != of).and_then(|at| places.remove(at)) {
                found.insert((of, at), to);
            }
        }
    }
    found
}

fn at(entry: &Entry, line: usize) -> At {
    let told = &entry.lines[line];
    At { sequence: entry.name.shown.clone(), name: told.name(), words: told.words.clone(), line }
}

fn of_lines(pair: &Pair, pairs: &[Pair], elsewhere: &Elsewhere, found: &mut Vec<Difference>) {
    let of = pairs.iter().position(|other| std::ptr::eq(other, pair)).unwrap_or(0);
    let (key, old, new) = (Key::of(pair.new), &pair.old.lines, &pair.new.lines);
    let old_line = |line: usize| Some((at(pair.old, line), old[line].clone()));
    let new_line = |line: usize| Some((at(pair.new, line), new[line].clone()));
    let arrived: BTreeSet<(usize, usize)> = elsewhere.values().copied().collect();
    for (line, matched) in pair.matching.old_of.iter().enumerate() {
        match matched {
            Some(before) => within_line(pair, *before, line, found),
            None if arrived.contains(&(of, line)) => {}
            None => found.push(Difference {
                new: new_line(line),
                edits: vec![Edit::AddLine { key: key.clone(), at: line, line: new[line].clone() }],
                ..Difference::of(What::Added, pair.new)
            }),
        }
    }
    for (line, _) in pair.matching.new_of.iter().enumerate().filter(|(_, matched)| matched.is_none()) {
        let moved = elsewhere.get(&(of, line)).map(|&(to, at_new)| (pairs[to].new, at_new));
        found.push(match moved {
            Some((to, at_new)) => Difference {
                old: old_line(line),
                new: Some((at(to, at_new), to.lines[at_new].clone())),
                edits: vec![Edit::MoveLine { key: key.clone(), old: line, to_key: Key::of(to), to: at_new }],
                ..Difference::of(What::Moved, pair.new)
            },
            None => Difference {
                old: old_line(line),
                edits: vec![Edit::TakeOutLine { key: key.clone(), old: line }],
                ..Difference::of(What::TakenOut, pair.new)
            },
        });
    }
    moves(pair, found);
}

/// Lines that moved together, one after another in both editions, are one change.
fn moves(pair: &Pair, found: &mut Vec<Difference>) {
    let key = Key::of(pair.new);
    let mut together: Option<(usize, usize)> = None;
    for (old, moved) in pair.matching.moved.iter().enumerate() {
        let Some(new) = pair.matching.new_of[old].filter(|_| *moved) else { continue };
        let edit = Edit::MoveLine { key: key.clone(), old, to_key: key.clone(), to: new };
        if together == Some((old, new))
            && let Some(last) = found.last_mut()
        {
            last.lines += 1;
            last.edits.push(edit);
            // A step says more of what moved than the heading above it.
            if last.line().is_some_and(Line::is_heading) {
                last.old = Some((at(pair.old, old), pair.old.lines[old].clone()));
                last.new = Some((at(pair.new, new), pair.new.lines[new].clone()));
            }
        } else {
            found.push(Difference {
                old: Some((at(pair.old, old), pair.old.lines[old].clone())),
                new: Some((at(pair.new, new), pair.new.lines[new].clone())),
                edits: vec![edit],
                ..Difference::of(What::Moved, pair.new)
            });
        }
        together = Some((old + 1, new + 1));
    }
}

fn within_line(pair: &Pair, old: usize, new: usize, found: &mut Vec<Difference>) {
    let (before, after) = (&pair.old.lines[old], &pair.new.lines[new]);
    let differ = before.fields.differences(&after.fields);
    let has = |field| differ.iter().any(|(other, ..)| *other == field);
    // Whoever acts on themselves before and after: one change of role.
    let own = |line: &Line| line.key(Field::Actor) == line.key(Field::Wearer);
    let folded = has(Field::Actor) && has(Field::Wearer) && own(before) && own(after);
    let set = |field, value: &[Word]| Edit::SetLine { key: Key::of(pair.new), at: new, field, value: value.to_vec() };
    for (field, was, is) in differ {
        if field == Field::Wearer && folded {
            continue;
        }
        for (part, (was, is_now)) in parted(field, was, is).into_iter().enumerate() {
            let mut edits = if part == 0 { vec![set(field, is)] } else { Vec::new() };
            if field == Field::Actor && folded {
                edits.push(set(Field::Wearer, after.fields.get(Field::Wearer)));
            }
            found.push(Difference {
                field: Some(field),
                what: line_what(field, after, &was, &is_now),
                before: was,
                after: is_now,
                old: Some((at(pair.old, old), before.clone())),
                new: Some((at(pair.new, new), after.clone())),
                edits,
                ..Difference::of(What::Act, pair.new)
            });
        }
    }
}

/// Who confirms what is confirmed.
pub(super) fn confirming(word: &Word) -> &str {
    word.key.split(": ").next().unwrap_or_default()
}

/// What a change of a line's field is, by what the line does.
fn line_what(field: Field, line: &Line, before: &[Word], after: &[Word]) -> What {
    let who = |words: &[Word]| words.iter().map(|word| confirming(word).to_owned()).collect::<Vec<_>>();
    match (field, line.key(Field::Act)) {
        (Field::Object, lines::DOES) => What::Reworded,
        (Field::Object, lines::HOLD | lines::HEADING) => What::Renamed,
        (Field::Object, lines::GOES_TO) => What::Place,
        (Field::Confirms, _) if before.len() != after.len() => What::Hold,
        (Field::Confirms, _) if who(before) != who(after) => What::Role,
        (Field::Confirms, _) => What::Reworded,
        _ => what_of(field, before, after),
    }
}

/// The words of a field as a reader tells them apart: what came, what went, and what took the place of what.
fn parted(field: Field, before: &[Word], after: &[Word]) -> Vec<(Vec<Word>, Vec<Word>)> {
    let is_list = matches!(
        field,
        Field::Say
            | Field::LookFor
            | Field::StopIf
            | Field::Caution
            | Field::Warning
            | Field::Danger
            | Field::Because
            | Field::Confirms
            | Field::Endings
            | Field::Lines
    );
    if field == Field::Condition || !(field.is_set() || is_list) {
        return vec![(before.to_vec(), after.to_vec())];
    }
    if is_list { parted_list(field, before, after) } else { parted_set(before, after) }
}

fn parted_set(before: &[Word], after: &[Word]) -> Vec<(Vec<Word>, Vec<Word>)> {
    // `skin as planned: 3` is of the skin as planned; `2 x gloves` of gloves.
    let stem = |word: &Word| {
        let key = word.key.split_once(": ").map_or(word.key.as_str(), |(stem, _)| stem);
        key.split_once(" x ").map_or(key, |(_, item)| item).to_owned()
    };
    let gone: Vec<&Word> = before.iter().filter(|word| !after.contains(word)).collect();
    let mut come: Vec<&Word> = after.iter().filter(|word| !before.contains(word)).collect();
    let mut parts = Vec::new();
    for word in gone {
        match come.iter().position(|other| stem(other) == stem(word)) {
            Some(at) => parts.push((vec![word.clone()], vec![come.remove(at).clone()])),
            None => parts.push((vec![word.clone()], Vec::new())),
        }
    }
    parts.extend(come.into_iter().map(|word| (Vec::new(), vec![word.clone()])));
    parts
}

/// Texts at least this alike are one text reworded; a single text is always.
const ALIKE: f64 = 0.3;

fn parted_list(field: Field, before: &[Word], after: &[Word]) -> Vec<(Vec<Word>, Vec<Word>)> {
    let keys = |words: &[Word]| words.iter().map(|word| word.key.clone()).collect::<Vec<_>>();
    let mut parts = Vec::new();
    for op in capture_diff_slices(Algorithm::Myers, &keys(before), &keys(after)) {
        if op.tag() == DiffTag::Equal {
            continue;
        }
        let (gone, come) = (&before[op.old_range()], &after[op.new_range()]);
        let single = gone.len() == 1 && come.len() == 1;
        let mut from = 0;
        for word in gone {
            // What somebody confirms takes the place of what that same person confirmed, unless it is the only one.
            let is_theirs = |other: &Word| field != Field::Confirms || confirming(word) == confirming(other);
            let alike = |other: &Word| single || is_theirs(other) && likeness(&word.key, &other.key) >= ALIKE;
            match come[from..].iter().position(alike) {
                Some(at) => {
                    parts.extend(come[from..from + at].iter().map(|word| (Vec::new(), vec![word.clone()])));
                    parts.push((vec![word.clone()], vec![come[from + at].clone()]));
                    from += at + 1;
                }
                None => parts.push((vec![word.clone()], Vec::new())),
            }
        }
        parts.extend(come[from..].iter().map(|word| (Vec::new(), vec![word.clone()])));
    }
    if parts.is_empty() {
        // The same texts in another order.
        parts.push((before.to_vec(), after.to_vec()));
    }
    parts
}
