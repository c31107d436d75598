//! Which line of one edition is which of the other, and which of them moved.
//!
//! In: two rows of lines. Out: pairs, and those pairs that changed their place. Lines are matched by what they do: first what
//! is word for word the same, in order; then the same elsewhere, which moved; then the same act with a change. Must never
//! match one line twice, and calls as few lines moved as can be.

use std::collections::BTreeMap;

use similar::{Algorithm, DiffTag, capture_diff_slices};

use super::field::Field;
use super::likeness::likeness;
use super::view::Line;

/// How many lines further on the same line in other words is looked for: who rewrote more than that wrote something new.
const FARTHEST: usize = 40;

/// Texts at least this alike are the same text reworded.
const ALIKE: f64 = 0.5;

pub struct Matching {
    /// By the old line: the new one.
    pub new_of: Vec<Option<usize>>,
    /// By the new line: the old one.
    pub old_of: Vec<Option<usize>>,
    /// By the old line: it stands elsewhere among those that stayed.
    pub moved: Vec<bool>,
}

/// The same whichever side is the old one.
pub fn matched(old: &[Line], new: &[Line]) -> Matching {
    let says = |lines: &[Line]| lines.iter().map(whole).collect::<Vec<_>>();
    if says(old) <= says(new) {
        return from_one_side(old, new);
    }
    let other = from_one_side(new, old);
    let mut moved = vec![false; old.len()];
    for (new, old) in other.new_of.iter().enumerate() {
        if let Some(old) = old {
            moved[*old] = other.moved[new];
        }
    }
    Matching { new_of: other.old_of, old_of: other.new_of, moved }
}

fn from_one_side(old: &[Line], new: &[Line]) -> Matching {
    let mut work = Work { old, new, new_of: vec![None; old.len()], old_of: vec![None; new.len()] };
    work.in_order(whole);
    work.anywhere(whole);
    work.in_gaps(manner);
    work.about_gaps(manner);
    work.in_gaps(core);
    work.anywhere(act);
    work.in_gaps(like_act);
    work.alike_in_gaps();
    let moved = work.moved();
    Matching { new_of: work.new_of, old_of: work.old_of, moved }
}

pub(super) type Key = Vec<String>;

/// Everything that the line says.
pub(super) fn whole(line: &Line) -> Option<Key> {
    let mut key = Vec::new();
    for (field, value) in line.fields.iter() {
        key.push(field.words().to_owned());
        key.extend(value.iter().map(|word| word.key.clone()));
    }
    Some(key)
}

/// What is done and how, whenever that is: all but the condition and what stands beneath the line.
fn manner(line: &Line) -> Option<Key> {
    let of_manner = |field: &Field| *field < Field::PrintAs && *field != Field::Condition;
    let fields: Vec<Field> = line.fields.iter().map(|(field, _)| *field).filter(of_manner).collect();
    Some(fields.iter().map(|field| field.words().to_owned()).chain(key_of(line, &fields)).collect())
}

/// What is done, by whom and when: all but what stands beneath the line.
fn act(line: &Line) -> Option<Key> {
    // That hands are cleaned says too little to know a line again elsewhere.
    if line.key(Field::Act) == super::lines::CLEANS_HANDS {
        return None;
    }
    Some(key_of(line, &[Field::Act, Field::Object, Field::Wearer, Field::Actor, Field::Condition]))
}

/// What is done to what.
fn core(line: &Line) -> Option<Key> {
    Some(key_of(line, &[Field::Act, Field::Object, Field::Wearer]))
}

/// The same kind of act by the same person, where other things differ: never headings, whose titles say all.
fn like_act(line: &Line) -> Option<Key> {
    let says_all = line.is_heading() || line.is_hold() || line.key(Field::Act) == super::lines::DOES;
    (!says_all).then(|| key_of(line, &[Field::Act, Field::Object])).filter(|key| !key[1].is_empty())
}

fn key_of(line: &Line, fields: &[Field]) -> Key {
    fields
        .iter()
        .map(|&field| line.fields.get(field).iter().map(|word| word.key.as_str()).collect::<Vec<_>>().join("|"))
        .collect()
}

struct Work<'a> {
    old: &'a [Line],
    new: &'a [Line],
    new_of: Vec<Option<usize>>,
    old_of: Vec<Option<usize>>,
}

impl Work<'_> {
    fn pair(&mut self, old: usize, new: usize) {
        self.new_of[old] = Some(new);
        self.old_of[new] = Some(old);
    }

    /// The longest row of lines with the same keys in the same order.
    fn in_order(&mut self, key: impl Fn(&Line) -> Option<Key>) {
        let all_old: Vec<usize> = (0..self.old.len()).collect();
        let all_new: Vec<usize> = (0..self.new.len()).collect();
        self.in_order_of(&all_old, &all_new, &key);
    }

    fn in_order_of(&mut self, olds: &[usize], news: &[usize], key: &impl Fn(&Line) -> Option<Key>) {
        let keyed = |lines: &[Line], those: &[usize]| -> Vec<(usize, Key)> {
            those.iter().filter_map(|&at| Some((at, key(&lines[at])?))).collect()
        };
        let (olds, news) = (keyed(self.old, olds), keyed(self.new, news));
        let mut numbers = BTreeMap::new();
        let old_keys: Vec<usize> = olds.iter().map(|(_, key)| number(&mut numbers, key)).collect();
        let new_keys: Vec<usize> = news.iter().map(|(_, key)| number(&mut numbers, key)).collect();
        for op in capture_diff_slices(Algorithm::Myers, &old_keys, &new_keys) {
            if op.tag() == DiffTag::Equal {
                for (old, new) in op.old_range().zip(op.new_range()) {
                    self.pair(olds[old].0, news[new].0);
                }
            }
        }
    }

    /// The same keys wherever they stand, first with first.
    fn anywhere(&mut self, key: impl Fn(&Line) -> Option<Key>) {
        let olds: Vec<usize> = (0..self.old.len()).filter(|&old| self.new_of[old].is_none()).collect();
        let news: Vec<usize> = (0..self.new.len()).filter(|&new| self.old_of[new].is_none()).collect();
        self.about(&olds, &news, &key);
    }

    /// Lines between the same two neighbours that stayed, in whatever order.
    fn about_gaps(&mut self, key: impl Fn(&Line) -> Option<Key>) {
        for (olds, news) in self.gaps() {
            self.about(&olds, &news, &key);
        }
    }

    fn about(&mut self, olds: &[usize], news: &[usize], key: &impl Fn(&Line) -> Option<Key>) {
        let mut open: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
        for &new in news.iter().rev() {
            if let Some(key) = key(&self.new[new]) {
                open.entry(key).or_default().push(new);
            }
        }
        for &old in olds {
            let found = key(&self.old[old]).and_then(|key| open.get_mut(&key)?.pop());
            if let Some(new) = found {
                self.pair(old, new);
            }
        }
    }

    /// Lines between the same two neighbours that stayed, in order.
    fn in_gaps(&mut self, key: impl Fn(&Line) -> Option<Key>) {
        for (olds, news) in self.gaps() {
            self.in_order_of(&olds, &news, &key);
        }
    }

    /// The open lines on both sides between pairs that stayed in order.
    fn gaps(&self) -> Vec<(Vec<usize>, Vec<usize>)> {
        let moved = self.moved();
        let mut gaps = vec![(Vec::new(), Vec::new())];
        let mut next = 0;
        let mut close = |gaps: &mut Vec<(Vec<usize>, Vec<usize>)>, until: usize| {
            let news = (next..until).filter(|&new| self.old_of[new].is_none());
            gaps.last_mut().into_iter().for_each(|gap| gap.1.extend(news.clone()));
            gaps.push((Vec::new(), Vec::new()));
            next = until;
        };
        for (old, (new, moved)) in self.new_of.iter().zip(&moved).enumerate() {
            match new {
                Some(new) if !moved => close(&mut gaps, *new),
                Some(_) => {}
                None => gaps.last_mut().into_iter().for_each(|gap| gap.0.push(old)),
            }
        }
        close(&mut gaps, self.new.len());
        gaps.retain(|(olds, news)| !olds.is_empty() && !news.is_empty());
        gaps
    }

    /// What is left between the same neighbours: one piece of kit in place of another, words put in other words, a heading in
    /// place of the only other.
    fn alike_in_gaps(&mut self) {
        for (olds, news) in self.gaps() {
            let mut from = 0;
            let headings = |lines: &[Line], those: &[usize]| those.iter().filter(|&&at| lines[at].is_heading()).count();
            let is_only = headings(self.old, &olds) == 1 && headings(self.new, &news) == 1;
            for old in olds {
                let is_it =
                    |one: &Line, other: &Line| is_like(one, other) || is_only && one.is_heading() && other.is_heading();
                let found =
                    (from..news.len().min(from + FARTHEST)).find(|&at| is_it(&self.old[old], &self.new[news[at]]));
                if let Some(at) = found {
                    self.pair(old, news[at]);
                    from = at + 1;
                }
            }
        }
    }

    /// All pairs but a longest row of them that rises; where there is a choice, steps stay and headings move.
    fn moved(&self) -> Vec<bool> {
        let pairs: Vec<(usize, usize)> =
            self.new_of.iter().enumerate().filter_map(|(old, new)| Some((old, (*new)?))).collect();
        let weights: Vec<u64> = pairs.iter().map(|&(old, _)| u64::from(!self.old[old].is_heading())).collect();
        let rising = heaviest_rise(&pairs.iter().map(|&(_, new)| new).collect::<Vec<_>>(), &weights, self.new.len());
        let mut moved: Vec<bool> = self.new_of.iter().map(Option::is_some).collect();
        rising.into_iter().for_each(|at| moved[pairs[at].0] = false);
        moved
    }
}

fn number<K: Ord + Clone>(numbers: &mut BTreeMap<K, usize>, key: &K) -> usize {
    let next = numbers.len();
    *numbers.entry(key.clone()).or_insert(next)
}

fn is_like(old: &Line, new: &Line) -> bool {
    let same = |field| old.key(field) == new.key(field);
    if !same(Field::Act) {
        return false;
    }
    let alike = |field| likeness(old.key(field), new.key(field)) >= ALIKE;
    if old.is_heading() || old.key(Field::Act) == super::lines::DOES {
        return alike(Field::Object);
    }
    if old.is_hold() {
        let confirms = |line: &Line| {
            line.fields.get(Field::Confirms).iter().map(|word| word.key.as_str()).collect::<Vec<_>>().join(" ")
        };
        return alike(Field::Object) || likeness(&confirms(old), &confirms(new)) >= ALIKE;
    }
    same(Field::Actor) && same(Field::Wearer)
}

/// A longest rising row of different numbers below `below`, of the greatest weight among the longest; by places, in order.
/// In n log n: a tree of prefix maxima (Fenwick, 1994).
pub fn heaviest_rise(numbers: &[usize], weights: &[u64], below: usize) -> Vec<usize> {
    // The best row that ends at or before each number: how long, how heavy, and its last place.
    let mut best: Vec<(u64, u64, Option<usize>)> = vec![(0, 0, None); below + 1];
    let mut came = vec![None; numbers.len()];
    let mut top = (0, 0, None);
    for (place, (&number, &weight)) in numbers.iter().zip(weights).enumerate() {
        let mut before = (0, 0, None);
        let mut at = number;
        while at > 0 {
            before = better(before, best[at]);
            at &= at - 1;
        }
        came[place] = before.2;
        let here = (before.0 + 1, before.1 + weight, Some(place));
        let mut at = number + 1;
        while at <= below {
            best[at] = better(best[at], here);
            at += at & at.wrapping_neg();
        }
        top = better(top, here);
    }
    let mut row = Vec::new();
    let mut at = top.2;
    while let Some(place) = at {
        row.push(place);
        at = came[place];
    }
    row.reverse();
    row
}

/// The first of two that are equally good.
fn better(one: (u64, u64, Option<usize>), other: (u64, u64, Option<usize>)) -> (u64, u64, Option<usize>) {
    if (other.0, other.1) > (one.0, one.1) { other } else { one }
}
