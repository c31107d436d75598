//! Which statement of one text is which of another.
//!
//! In: the blocks of two texts that stand beneath the same thing. Out: pairs. First those that stand in the same order, by
//! what they say and what stands beside them; then those that were moved; then those that were written anew in their place.
//! Must never take more time than the product of a few thousand blocks.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::ops::Range;

use super::blocks::Block;

#[derive(Debug)]
pub struct Pairing {
    /// For each block of the one text its place in the other.
    pub to: Vec<Option<usize>>,
    pub from: Vec<Option<usize>>,
    /// By the place in the one text: whether it stands elsewhere in the other.
    pub moved: Vec<bool>,
}

/// Blocks to be compared each with each; above, they are paired by what they say, the first with the first.
const MOST_CELLS: usize = 4_000_000;
const MOST_RESEMBLING: usize = 10_000;
/// Of so many that say the same, none is taken for another that was moved.
const MOST_ALIKE: usize = 64;

pub fn pair(one: &[Block], other: &[Block]) -> Pairing {
    let mut pairs = Pairs {
        one,
        other,
        pairing: Pairing { to: vec![None; one.len()], from: vec![None; other.len()], moved: vec![false; one.len()] },
    };
    let (middle, other_middle) = pairs.ends();
    let mut at = (middle.start, other_middle.start);
    for (anchor, other_anchor) in pairs.anchors(middle.clone(), other_middle.clone()) {
        pairs.in_order(at.0..anchor, at.1..other_anchor);
        pairs.join(anchor, other_anchor);
        at = (anchor + 1, other_anchor + 1);
    }
    pairs.in_order(at.0..middle.end, at.1..other_middle.end);
    pairs.moved();
    pairs.written_anew();
    pairs.pairing
}

struct Pairs<'a, 't> {
    one: &'a [Block<'t>],
    other: &'a [Block<'t>],
    pairing: Pairing,
}

impl Pairs<'_, '_> {
    fn join(&mut self, at: usize, other: usize) {
        self.pairing.to[at] = Some(other);
        self.pairing.from[other] = Some(at);
    }

    /// Pairs what is the same from the beginning and from the end; out: what lies between.
    fn ends(&mut self) -> (Range<usize>, Range<usize>) {
        let (mut start, mut end, mut other_end) = (0, self.one.len(), self.other.len());
        while start < end && start < other_end && self.one[start].all == self.other[start].all {
            self.join(start, start);
            start += 1;
        }
        while end > start && other_end > start && self.one[end - 1].all == self.other[other_end - 1].all {
            (end, other_end) = (end - 1, other_end - 1);
            self.join(end, other_end);
        }
        (start..end, start..other_end)
    }

    /// Blocks that both texts hold exactly once, as many as stand in the same order.
    fn anchors(&self, here: Range<usize>, there: Range<usize>) -> Vec<(usize, usize)> {
        let once = |blocks: &[Block], within: Range<usize>| {
            let mut places: HashMap<u32, Option<usize>> = HashMap::new();
            for at in within {
                places.entry(blocks[at].all).and_modify(|place| *place = None).or_insert(Some(at));
            }
            places
        };
        let (ours, theirs) = (once(self.one, here.clone()), once(self.other, there));
        let both = here.filter_map(|at| {
            let all = self.one[at].all;
            ours.get(&all).copied().flatten()?;
            Some((at, theirs.get(&all).copied().flatten()?))
        });
        longest_in_order(&both.collect::<Vec<_>>())
    }

    /// The pairs with the highest worth in all that stand in the same order.
    fn in_order(&mut self, here: Range<usize>, there: Range<usize>) {
        let (rows, columns) = (here.len(), there.len());
        if rows == 0 || columns == 0 {
            return;
        }
        if rows * columns > MOST_CELLS {
            return self.first_with_first(here, there);
        }
        let width = columns + 1;
        let mut best = vec![0_u32; (rows + 1) * width];
        for row in (0..rows).rev() {
            for column in (0..columns).rev() {
                let apart = best[(row + 1) * width + column].max(best[row * width + column + 1]);
                let worth = self.worth(here.start + row, there.start + column);
                let joined = if worth > 0 { best[(row + 1) * width + column + 1] + worth } else { 0 };
                best[row * width + column] = apart.max(joined);
            }
        }
        let (mut row, mut column) = (0, 0);
        while row < rows && column < columns {
            let worth = self.worth(here.start + row, there.start + column);
            let here_best = best[row * width + column];
            if worth > 0 && here_best == best[(row + 1) * width + column + 1] + worth {
                self.join(here.start + row, there.start + column);
                (row, column) = (row + 1, column + 1);
            } else if here_best == best[row * width + column + 1] {
                column += 1;
            } else {
                row += 1;
            }
        }
    }

    fn first_with_first(&mut self, here: Range<usize>, there: Range<usize>) {
        let mut places: HashMap<u32, Vec<usize>> = HashMap::new();
        for at in there.rev() {
            places.entry(self.other[at].says).or_default().push(at);
        }
        let found = here.filter_map(|at| Some((at, places.get_mut(&self.one[at].says)?.pop()?)));
        for (at, other) in longest_in_order(&found.collect::<Vec<_>>()) {
            self.join(at, other);
        }
    }

    /// How much it is worth to take two blocks for the same.
    fn worth(&self, at: usize, other: usize) -> u32 {
        let (one, two) = (&self.one[at], &self.other[other]);
        let alike = match () {
            () if one.all == two.all => 20,
            () if one.says == two.says && one.key == two.key => 16,
            () if one.key == two.key => 8,
            () => return 0,
        };
        alike + 2 * self.neighbours(at, other)
    }

    /// How many of the neighbours say the same, too.
    fn neighbours(&self, at: usize, other: usize) -> u32 {
        let says = |blocks: &[Block], at: Option<usize>| at.and_then(|at| blocks.get(at)).map(|block| block.says);
        let before = says(self.one, at.checked_sub(1)) == says(self.other, other.checked_sub(1));
        let after = says(self.one, Some(at + 1)) == says(self.other, Some(other + 1));
        u32::from(before) + u32::from(after)
    }

    /// What is left on both sides, wherever it stands: the same, or what bears the same name.
    fn moved(&mut self) {
        self.moved_by(|block| Some(block.all));
        self.moved_by(|block| Some(block.says));
        self.moved_by(|block| (!block.like.is_common).then_some(block.key));
    }

    fn moved_by(&mut self, mark: impl Fn(&Block) -> Option<u32>) {
        let mut left: BTreeMap<Option<u32>, (Vec<usize>, Vec<usize>)> = BTreeMap::new();
        for (at, block) in self.one.iter().enumerate().filter(|(at, _)| self.pairing.to[*at].is_none()) {
            left.entry(mark(block)).or_default().0.push(at);
        }
        for (at, block) in self.other.iter().enumerate().filter(|(at, _)| self.pairing.from[*at].is_none()) {
            left.entry(mark(block)).or_default().1.push(at);
        }
        left.remove(&None);
        for (ours, mut theirs) in left.into_values() {
            let is_only = ours.len() == 1 && theirs.len() == 1;
            if ours.len().max(theirs.len()) > MOST_ALIKE {
                continue;
            }
            for at in ours {
                // Among several alike, the neighbours tell which it is.
                let near = |&other: &usize| self.neighbours(at, other);
                let Some(other) = theirs.iter().copied().max_by_key(|other| (near(other), std::cmp::Reverse(*other)))
                else {
                    break;
                };
                if is_only || near(&other) > 0 {
                    theirs.retain(|&left| left != other);
                    self.join(at, other);
                    self.pairing.moved[at] = true;
                }
            }
        }
    }

    /// Between two pairs that stand in order: what is left on both sides, if the one may have been made from the other.
    fn written_anew(&mut self) {
        let stays = |pairing: &Pairing, at: usize| pairing.to[at].filter(|_| !pairing.moved[at]);
        let (mut start, mut other_start) = (0, 0);
        for at in 0..=self.one.len() {
            let other = if at == self.one.len() { Some(self.other.len()) } else { stays(&self.pairing, at) };
            let Some(other) = other else { continue };
            self.written_anew_between(start..at, other_start..other);
            (start, other_start) = (at + 1, other + 1);
        }
    }

    fn written_anew_between(&mut self, here: Range<usize>, there: Range<usize>) {
        let ours: Vec<usize> = here.filter(|&at| self.pairing.to[at].is_none()).collect();
        let mut theirs: Vec<usize> = there.filter(|&at| self.pairing.from[at].is_none()).collect();
        if ours.len() * theirs.len() > MOST_RESEMBLING {
            return;
        }
        for at in ours {
            if let Some(found) = theirs.iter().position(|&other| resembles(&self.one[at], &self.other[other])) {
                self.join(at, theirs[found]);
                theirs.drain(..=found);
            }
        }
    }
}

/// By its words; or, for what has lines beneath it, by half of those.
fn resembles(one: &Block, other: &Block) -> bool {
    if one.like.resembles(&other.like) {
        return true;
    }
    let beneath: HashSet<u32> = other.beneath.iter().map(|block| block.says).collect();
    let shared = one.beneath.iter().filter(|block| beneath.contains(&block.says)).count();
    one.like.kind == other.like.kind && shared > 1 && 4 * shared >= one.beneath.len() + other.beneath.len()
}

/// Of pairs in the order of their first places, as many as stand in the order of their second places, too.
pub fn longest_in_order(pairs: &[(usize, usize)]) -> Vec<(usize, usize)> {
    // The last pair of the best row of each length, and for each pair the one before it in its row.
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = Vec::with_capacity(pairs.len());
    for (at, &(_, place)) in pairs.iter().enumerate() {
        let length = ends.partition_point(|&end| pairs[end].1 < place);
        before.push(length.checked_sub(1).map(|shorter| ends[shorter]));
        if length == ends.len() { ends.push(at) } else { ends[length] = at }
    }
    let mut row = Vec::new();
    let mut next = ends.last().copied();
    while let Some(at) = next {
        row.push(pairs[at]);
        next = before[at];
    }
    row.reverse();
    row
}
