//! The merge itself: of statements, of their notes and of the lines beneath them, each against what both sides began with.
//!
//! In: the blocks of three texts. Out: pieces of text and conflicts, in order. Must never choose between two different
//! wishes, nor drop a statement that a side changed. Left and right stand in a set order, whoever merges.

use std::collections::{HashMap, HashSet};

use super::blocks::{Block, clash};
use super::likeness::Order;
use super::pairing::{Pairing, longest_in_order, pair};
use super::weave::{Thread, weave};
use super::{Conflict, Piece};

/// What there is to decide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// Both sides changed the same statement.
    Changed,
    /// Both sides changed the notes before a statement.
    Notes,
    /// One side changed what the other took out.
    TakenOut,
    /// Both sides put something in at one place, and its order matters.
    SamePlace,
    /// Both sides moved it, to different places.
    MovedApart,
    /// It was put beside a step that the other side moved.
    BesideMoved,
}

pub fn merge(base: &[Block], left: &[Block], right: &[Block]) -> Vec<Piece> {
    let mut out = Out::default();
    lists(base, left, right, &mut out);
    out.pieces
}

#[derive(Default)]
struct Out {
    pieces: Vec<Piece>,
}

impl Out {
    fn text(&mut self, text: &str) {
        match self.pieces.last_mut() {
            Some(Piece::Text(last)) => last.push_str(text),
            _ if text.is_empty() => {}
            _ => self.pieces.push(Piece::Text(text.to_owned())),
        }
    }

    fn conflict(&mut self, why: Why, left: String, right: String) {
        self.pieces.push(Piece::Conflict(Conflict { why, ours: left, theirs: right }));
    }
}

/// One statement in up to three texts, by its places among its neighbours.
#[derive(Clone, Copy, Debug, Default)]
struct Entry {
    base: Option<usize>,
    left: Option<usize>,
    right: Option<usize>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Right,
}

struct Lists<'a, 't> {
    base: &'a [Block<'t>],
    left: &'a [Block<'t>],
    right: &'a [Block<'t>],
    to_left: Pairing,
    to_right: Pairing,
    entries: Vec<Entry>,
    /// The numbers of the entries in each side's order.
    left_row: Vec<usize>,
    right_row: Vec<usize>,
    /// What the sides do not agree on.
    contested: HashMap<usize, Why>,
}

fn lists(base: &[Block], left: &[Block], right: &[Block], out: &mut Out) {
    if base.is_empty() && left.is_empty() && right.is_empty() {
        return;
    }
    let mut lists = Lists {
        base,
        left,
        right,
        to_left: pair(base, left),
        to_right: pair(base, right),
        entries: Vec::new(),
        left_row: Vec::new(),
        right_row: Vec::new(),
        contested: HashMap::new(),
    };
    lists.number();
    lists.contest();
    let gone: HashSet<usize> = (0..lists.entries.len()).filter(|&id| lists.is_gone(id)).collect();
    let stays = |id: &usize, moved_by_other: bool| !gone.contains(id) && !moved_by_other;
    let left_row: Vec<usize> =
        lists.left_row.iter().copied().filter(|id| stays(id, lists.moved_only(*id, Side::Right))).collect();
    let right_row: Vec<usize> =
        lists.right_row.iter().copied().filter(|id| stays(id, lists.moved_only(*id, Side::Left))).collect();
    let woven = weave(&left_row, &right_row, |id| lists.any(id).like.order == Order::Free);
    lists.contested.extend(woven.torn.iter().map(|&id| (id, Why::MovedApart)));
    for thread in &woven.threads {
        match thread {
            Thread::Both(id) => lists.content(*id, out),
            Thread::Apart(here, there) => lists.apart(here, there, out),
        }
    }
}

impl<'t> Lists<'_, 't> {
    /// Numbers the statements: those of the base, then what the sides put in. What both put in under one name is one.
    fn number(&mut self) {
        let in_base = |at| Entry { base: Some(at), left: self.to_left.to[at], right: self.to_right.to[at] };
        self.entries = (0..self.base.len()).map(in_base).collect();
        let mut added: HashMap<u32, Vec<usize>> = HashMap::new();
        for (at, block) in self.left.iter().enumerate() {
            let id = self.to_left.from[at].unwrap_or_else(|| {
                self.entries.push(Entry { left: Some(at), ..Entry::default() });
                let id = self.entries.len() - 1;
                if block.like.order == Order::Free {
                    added.entry(block.key).or_default().insert(0, id);
                }
                id
            });
            self.left_row.push(id);
        }
        for (at, block) in self.right.iter().enumerate() {
            let id = self.to_right.from[at].unwrap_or_else(|| {
                let known = added.get_mut(&block.key).filter(|_| block.like.order == Order::Free);
                let id = known.and_then(Vec::pop).unwrap_or_else(|| {
                    self.entries.push(Entry::default());
                    self.entries.len() - 1
                });
                self.entries[id].right = Some(at);
                id
            });
            self.right_row.push(id);
        }
    }

    fn blocks(&self, id: usize) -> [Option<&Block<'t>>; 3] {
        let Entry { base, left, right } = self.entries[id];
        [base.map(|at| &self.base[at]), left.map(|at| &self.left[at]), right.map(|at| &self.right[at])]
    }

    fn any(&self, id: usize) -> &Block<'t> {
        let [base, left, right] = self.blocks(id);
        left.or(right).or(base).expect("a statement stands in at least one of the texts")
    }

    /// Whether that side moved it, and the other did not.
    fn moved_only(&self, id: usize, side: Side) -> bool {
        let Entry { base: Some(base), left: Some(_), right: Some(_) } = self.entries[id] else { return false };
        match side {
            Side::Left => self.to_left.moved[base] && !self.to_right.moved[base],
            Side::Right => self.to_right.moved[base] && !self.to_left.moved[base],
        }
    }

    /// Taken out by one side, and as it was on the other.
    fn is_gone(&self, id: usize) -> bool {
        let [base, left, right] = self.blocks(id);
        base.is_some() && (left.is_none() || right.is_none()) && !self.contested.contains_key(&id)
    }

    fn contest(&mut self) {
        for id in 0..self.entries.len() {
            let why = match self.blocks(id) {
                [Some(base), Some(kept), None] => self.is_taken_out(id, base, kept, &self.to_left),
                [Some(base), None, Some(kept)] => self.is_taken_out(id, base, kept, &self.to_right),
                [None, Some(_), None] => self.is_beside_moved(id, Side::Left),
                [None, None, Some(_)] => self.is_beside_moved(id, Side::Right),
                _ => None,
            };
            self.contested.extend(why.map(|why| (id, why)));
        }
    }

    /// Taken out on one side, and on the other changed or moved; or its neighbour was moved, so that nobody can tell which of
    /// the two it was.
    fn is_taken_out(&self, id: usize, base: &Block, kept: &Block, pairing: &Pairing) -> Option<Why> {
        let was_moved = |at: usize| pairing.moved[at] && clash(&self.base[at], kept);
        let at = self.entries[id].base?;
        let in_base = [Some(at), at.checked_sub(1), Some(at + 1).filter(|&next| next < self.base.len())];
        let place = pairing.to[at]?;
        let beside = [place.checked_sub(1), Some(place + 1)].into_iter().flatten();
        let in_side = beside.filter_map(|next| pairing.from.get(next).copied().flatten());
        let moved = in_base.into_iter().flatten().chain(in_side).any(was_moved);
        (base.all != kept.all || moved).then_some(Why::TakenOut)
    }

    /// Where a step is put in beside one that the other side moved, nobody knows to which place it belongs.
    fn is_beside_moved(&self, id: usize, side: Side) -> Option<Why> {
        let (row, at, other) = match side {
            Side::Left => (&self.left_row, self.entries[id].left?, Side::Right),
            Side::Right => (&self.right_row, self.entries[id].right?, Side::Left),
        };
        let beside = [at.checked_sub(1), Some(at + 1)].into_iter().flatten().filter_map(|at| row.get(at));
        let moved = |&&next: &&usize| self.moved_only(next, other) && clash(self.any(id), self.any(next));
        beside.into_iter().any(|next| moved(&next)).then_some(Why::BesideMoved)
    }

    /// What both sides have is merged; what one side has stands as it is.
    fn content(&self, id: usize, out: &mut Out) {
        let (base, left, right) = match self.blocks(id) {
            [base, Some(left), Some(right)] => (base, left, right),
            [_, Some(only), None] | [_, None, Some(only)] => {
                let mut text = String::new();
                only.write(&mut text);
                return out.text(&text);
            }
            _ => return,
        };
        statement(base, left, right, out);
    }

    /// What only one side has at a place.
    fn apart(&self, here: &[usize], there: &[usize], out: &mut Out) {
        let (mut at, mut other_at) = (0, 0);
        for (next, other_next) in self.put_in_by_both(here, there) {
            self.apart_only(&here[at..next], &there[other_at..other_next], out);
            self.same(here[next], there[other_next], out);
            (at, other_at) = (next + 1, other_next + 1);
        }
        self.apart_only(&here[at..], &there[other_at..], out);
    }

    /// The same, where nothing is the same on both sides.
    fn apart_only(&self, here: &[usize], there: &[usize], out: &mut Out) {
        if here.is_empty() || there.is_empty() {
            return self.one_sided(here, there, out);
        }
        let contested = here.iter().chain(there).find_map(|id| self.contested.get(id));
        let orders = |ids: &[usize]| -> HashSet<&Order> {
            ids.iter().map(|&id| &self.any(id).like.order).filter(|&order| *order != Order::Free).collect()
        };
        if contested.is_some() || !orders(here).is_disjoint(&orders(there)) {
            let why = contested.copied().unwrap_or(Why::SamePlace);
            let left = self.half(here, Side::Left) + &self.as_changed_by(Side::Left, there);
            let right = self.half(there, Side::Right) + &self.as_changed_by(Side::Right, here);
            return out.conflict(why, left, right);
        }
        let rank = |ids: &[usize]| ids.first().map(|&id| self.any(id).like.rank.clone());
        let in_turn = if rank(there) < rank(here) { [there, here] } else { [here, there] };
        in_turn.into_iter().flatten().for_each(|&id| self.content(id, out));
    }

    fn one_sided(&self, here: &[usize], there: &[usize], out: &mut Out) {
        let (ids, side) = if there.is_empty() { (here, Side::Left) } else { (there, Side::Right) };
        for &id in ids {
            match (self.contested.get(&id), side) {
                (None, _) => self.content(id, out),
                (Some(&why), Side::Left) => out.conflict(why, self.half(&[id], side), String::new()),
                (Some(&why), Side::Right) => out.conflict(why, String::new(), self.half(&[id], side)),
            }
        }
    }

    /// The statements that both sides put in at this place, by their places in each row.
    fn put_in_by_both(&self, here: &[usize], there: &[usize]) -> Vec<(usize, usize)> {
        let is_new = |id: usize| {
            let Entry { base, left, right } = self.entries[id];
            base.is_none() && (left.is_none() || right.is_none()) && !self.contested.contains_key(&id)
        };
        let mark = |id: usize| (self.any(id).key, self.any(id).says);
        let mut places: HashMap<(u32, u32), Vec<usize>> = HashMap::new();
        for (at, &id) in there.iter().enumerate().rev().filter(|(_, id)| is_new(**id)) {
            places.entry(mark(id)).or_default().push(at);
        }
        let found = here.iter().enumerate().filter(|(_, id)| is_new(**id));
        let found = found.filter_map(|(at, &id)| Some((at, places.get_mut(&mark(id))?.pop()?)));
        longest_in_order(&found.collect::<Vec<_>>())
    }

    fn same(&self, one: usize, other: usize, out: &mut Out) {
        if let ([_, Some(left), _], [_, _, Some(right)]) = (self.blocks(one), self.blocks(other)) {
            statement(None, left, right, out);
        }
    }

    /// Statements as one half of a conflict: merged where that is clean, else as the side has them.
    fn half(&self, ids: &[usize], side: Side) -> String {
        let mut half = String::new();
        for &id in ids {
            match (self.clean_content(id), self.of(side, id)) {
                (Some(text), _) => half.push_str(&text),
                (None, Some(own)) => own.write(&mut half),
                (None, None) => {}
            }
        }
        half
    }

    /// What the other side moved here and changed, where this side changed it otherwise.
    fn as_changed_by(&self, side: Side, ids: &[usize]) -> String {
        let mut text = String::new();
        let other = if side == Side::Left { Side::Right } else { Side::Left };
        let moved = ids.iter().filter(|&&id| self.moved_only(id, other) && self.clean_content(id).is_none());
        moved.filter_map(|&id| self.of(side, id)).for_each(|block| block.write(&mut text));
        text
    }

    fn of(&self, side: Side, id: usize) -> Option<&Block<'t>> {
        let [_, left, right] = self.blocks(id);
        if side == Side::Left { left } else { right }
    }

    fn clean_content(&self, id: usize) -> Option<String> {
        let mut out = Out::default();
        self.content(id, &mut out);
        let text = |piece: Piece| match piece {
            Piece::Text(text) => Some(text),
            Piece::Conflict(_) => None,
        };
        out.pieces.into_iter().map(text).collect()
    }
}

/// A statement that both sides have: its notes, itself, and what stands beneath it.
fn statement<'t>(base: Option<&Block<'t>>, left: &Block<'t>, right: &Block<'t>, out: &mut Out) {
    let part = |block: &Block<'t>| (block.notes, block.lead);
    match merged(base.map(part), part(left), part(right)) {
        Some(lead) => out.text(lead),
        None => out.conflict(Why::Notes, left.lead.to_owned(), right.lead.to_owned()),
    }
    let part = |block: &Block<'t>| (block.says, block.lines);
    match merged(base.map(part), part(left), part(right)) {
        Some(lines) => out.text(lines),
        None => out.conflict(Why::Changed, left.lines.to_owned(), right.lines.to_owned()),
    }
    lists(base.map_or(&[], |base| &base.beneath), &left.beneath, &right.beneath, out);
}

/// What is said, and how it is laid out.
type Part<'t> = (u32, &'t str);

/// The part as the side has it that changed it; none where both did, differently. Where only the layout was changed, what
/// was said anew counts.
fn merged<'t>(base: Option<Part<'t>>, left: Part<'t>, right: Part<'t>) -> Option<&'t str> {
    let Some(base) = base else {
        let is_silent = |part: Part| part.1.trim().is_empty();
        return match () {
            () if left.0 == right.0 => Some(left.1.max(right.1)),
            () if is_silent(left) => Some(right.1),
            () if is_silent(right) => Some(left.1),
            () => None,
        };
    };
    match (left.0 == base.0, right.0 == base.0) {
        (true, true) if left.1 == base.1 => Some(right.1),
        (true, true) if right.1 == base.1 => Some(left.1),
        (true, false) => Some(right.1),
        (false, true) => Some(left.1),
        _ => (left.0 == right.0).then(|| left.1.max(right.1)),
    }
}
