//! Both editions side by side, line by line, with the words that differ marked.
//!
//! In: two views and which line is which. Out: [`Sides`] of each sequence and contingency in which something differs. Must
//! never leave out a line, changed or not.

use std::collections::BTreeMap;

use serde::Serialize;

use super::change::{At, Change, Weight};
use super::differences::Pair;
use super::field::Field;
use super::likeness::{Piece, pieces};
use super::view::{Entry, Kind, Line, View};

#[derive(Clone, Debug, Serialize)]
pub struct Sides {
    pub kind: Kind,
    pub title: String,
    pub rows: Vec<Row>,
}

/// One line of both editions, or of one; what moved stands in two rows, which name each other.
#[derive(Clone, Debug, Serialize)]
pub struct Row {
    pub mark: Mark,
    /// The gravest of what changed about the line; none where nothing did.
    pub weight: Option<Weight>,
    pub old: Option<Cell>,
    pub new: Option<Cell>,
    /// For what moved: the row in which the other end stands.
    pub other_end: Option<usize>,
    /// The places of the line among those of each edition.
    #[serde(skip)]
    lines: [Option<usize>; 2],
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Mark {
    Same,
    Changed,
    Added,
    TakenOut,
    MovedFrom,
    MovedTo,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cell {
    pub number: Option<u32>,
    pub is_heading: bool,
    pub is_hold: bool,
    pub words: Vec<Piece>,
    /// What stands beneath the line and differs: `look for`, and its words.
    pub beneath: Vec<(&'static str, Vec<Piece>)>,
}

pub fn sides(old: &View, new: &View, pairs: &[Pair], changes: &[Change]) -> Vec<Sides> {
    let mut all: Vec<Sides> = Vec::new();
    let told = |entry: &&Entry| matches!(entry.kind, Kind::Sequence | Kind::Contingency);
    for entry in new.entries.iter().filter(told) {
        let pair = pairs.iter().find(|pair| pair.new.kind == entry.kind && pair.new.name == entry.name);
        let rows = match pair {
            Some(pair) => rows(pair),
            None => entry.lines.iter().enumerate().map(|line| single(Mark::Added, None, Some(line))).collect(),
        };
        all.push(Sides { kind: entry.kind, title: entry.name.shown.clone(), rows });
    }
    for entry in old.entries.iter().filter(told).filter(|entry| new.entry(entry.kind, &entry.name.key).is_none()) {
        let rows = entry.lines.iter().enumerate().map(|line| single(Mark::TakenOut, Some(line), None)).collect();
        all.push(Sides { kind: entry.kind, title: entry.name.shown.clone(), rows });
    }
    all.retain(|sides| sides.rows.iter().any(|row| row.mark != Mark::Same));
    weigh(&mut all, changes);
    all
}

/// Each row bears the gravest weight of the changes at its line.
fn weigh(all: &mut [Sides], changes: &[Change]) {
    let mut weights: BTreeMap<(usize, &str, usize), Weight> = BTreeMap::new();
    for change in changes {
        for (edition, at) in [&change.before_at, &change.after_at].into_iter().enumerate() {
            let Some(At { sequence, line, .. }) = at else { continue };
            let known = weights.entry((edition, sequence, *line)).or_insert(change.weight);
            *known = change.weight.min(*known);
        }
    }
    for Sides { title, rows, .. } in all {
        for row in rows.iter_mut().filter(|row| row.mark != Mark::Same) {
            let of = |(edition, line): (usize, Option<usize>)| weights.get(&(edition, title.as_str(), line?)).copied();
            row.weight = [(0, row.lines[0]), (1, row.lines[1])].into_iter().filter_map(of).min();
        }
    }
}

/// A line with its place, in one edition only.
type Single<'a> = Option<(usize, &'a Line)>;

fn single(mark: Mark, old: Single, new: Single) -> Row {
    let cell = |(_, line): (usize, &Line)| {
        let nothing = Line::default();
        cells(line, &nothing, false).0
    };
    let lines = [old, new].map(|single| single.map(|(at, _)| at));
    Row { mark, weight: None, old: old.map(cell), new: new.map(cell), other_end: None, lines }
}

/// In the order of the new edition; what is gone stands where it stood among what stayed.
fn rows(pair: &Pair) -> Vec<Row> {
    let (old, new, matching) = (&pair.old.lines, &pair.new.lines, &pair.matching);
    let mut rows: Vec<Row> = Vec::new();
    let (mut from, mut to): (Vec<Option<usize>>, Vec<Option<usize>>) = (vec![None; old.len()], vec![None; old.len()]);
    let mut next = 0;
    let mut leave = |rows: &mut Vec<Row>, lines: std::ops::Range<usize>| {
        for line in lines {
            match matching.new_of[line] {
                Some(_) if matching.moved[line] => {
                    from[line] = Some(rows.len());
                    rows.push(single(Mark::MovedFrom, Some((line, &old[line])), None));
                }
                None => rows.push(single(Mark::TakenOut, Some((line, &old[line])), None)),
                Some(_) => {}
            }
        }
    };
    for (line, before) in matching.old_of.iter().enumerate() {
        match *before {
            None => rows.push(single(Mark::Added, None, Some((line, &new[line])))),
            Some(before) if matching.moved[before] => {
                to[before] = Some(rows.len());
                let (_, cell) = cells(&old[before], &new[line], true);
                rows.push(Row { new: Some(cell), ..single(Mark::MovedTo, None, Some((line, &new[line]))) });
            }
            Some(before) => {
                leave(&mut rows, next..before);
                // Its own row follows; the next to leave stands after it.
                next = before + 1;
                let (left, right) = cells(&old[before], &new[line], true);
                let mark = if old[before] == new[line] { Mark::Same } else { Mark::Changed };
                let lines = [Some(before), Some(line)];
                rows.push(Row { mark, weight: None, old: Some(left), new: Some(right), other_end: None, lines });
            }
        }
    }
    leave(&mut rows, next..old.len());
    for (one, other) in from.iter().zip(&to) {
        if let (Some(one), Some(other)) = (*one, *other) {
            rows[one].other_end = Some(other);
            rows[other].other_end = Some(one);
        }
    }
    rows
}

/// The lines that stand beneath a step, by what a writer calls them.
const BENEATH: [(Field, &str); 12] = [
    (Field::Condition, "when"),
    (Field::PrintAs, "print as"),
    (Field::Confirms, "confirms"),
    (Field::IfNot, "if not"),
    (Field::Say, "say"),
    (Field::LookFor, "look for"),
    (Field::StopIf, "stop if"),
    (Field::Caution, "caution"),
    (Field::Warning, "warning"),
    (Field::Danger, "danger"),
    (Field::Because, "because"),
    (Field::Takes, "takes"),
];

/// Both lines; where they are the same line of two editions, only what differs beneath them is told.
fn cells(old: &Line, new: &Line, both: bool) -> (Cell, Cell) {
    let (left, right) = if both { pieces(&old.words, &new.words) } else { (whole(&old.words), whole(&new.words)) };
    let cell = |line: &Line, words: Vec<Piece>| Cell {
        number: line.number,
        is_heading: line.is_heading(),
        is_hold: line.is_hold(),
        words,
        beneath: Vec::new(),
    };
    let (mut one, mut other) = (cell(old, left), cell(new, right));
    for (field, name) in BENEATH {
        let text = |line: &Line| line.fields.get(field).iter().map(|w| w.shown.as_str()).collect::<Vec<_>>().join(" ");
        let (before, after) = (text(old), text(new));
        if both && before == after {
            continue;
        }
        let (left, right) = if both { pieces(&before, &after) } else { (whole(&before), whole(&after)) };
        if !left.is_empty() {
            one.beneath.push((name, left));
        }
        if !right.is_empty() {
            other.beneath.push((name, right));
        }
    }
    (one, other)
}

fn whole(text: &str) -> Vec<Piece> {
    if text.is_empty() { Vec::new() } else { vec![Piece { text: text.to_owned(), changed: false }] }
}
