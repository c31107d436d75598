//! The order of what two sides have, where both began with the same.
//!
//! In: the numbers of statements in each side's order. Out: one row of what stands in both, and between these what only one
//! side has there. Must never put a number in twice, but where both sides moved it to different places.

use std::collections::{HashMap, HashSet};

use super::pairing::longest_in_order;

#[derive(Debug, PartialEq, Eq)]
pub enum Thread {
    Both(usize),
    /// At one place: what the left side has there, and what the right side has there.
    Apart(Vec<usize>, Vec<usize>),
}

pub struct Woven {
    pub threads: Vec<Thread>,
    /// In both rows, in different orders.
    pub torn: HashSet<usize>,
}

/// `may_fall`: of what both have in different orders, what is left in the place of the left side.
pub fn weave(left: &[usize], right: &[usize], may_fall: impl Fn(usize) -> bool) -> Woven {
    let places: HashMap<usize, usize> = right.iter().enumerate().map(|(at, &id)| (id, at)).collect();
    let common: Vec<(usize, usize)> =
        left.iter().enumerate().filter_map(|(at, id)| Some((at, *places.get(id)?))).collect();
    let row = longest_in_order(&common);
    let straight: HashSet<usize> = row.iter().map(|&(at, _)| left[at]).collect();
    let crossed = common.iter().map(|&(at, _)| left[at]).filter(|id| !straight.contains(id));
    let (fallen, torn): (HashSet<usize>, HashSet<usize>) = crossed.partition(|&id| may_fall(id));
    let mut threads = Vec::new();
    let (mut at, mut other_at) = (0, 0);
    for &(next, other_next) in row.iter().chain([&(left.len(), right.len())]) {
        let here = left[at..next].to_vec();
        let there: Vec<usize> = right[other_at..other_next].iter().copied().filter(|id| !fallen.contains(id)).collect();
        if !here.is_empty() || !there.is_empty() {
            threads.push(Thread::Apart(here, there));
        }
        threads.extend(left.get(next).map(|&id| Thread::Both(id)));
        (at, other_at) = (next + 1, other_next + 1);
    }
    Woven { threads, torn }
}

#[cfg(test)]
mod tests {
    use super::{Thread, weave};

    #[test]
    fn what_one_side_put_in_stands_where_it_put_it() {
        let woven = weave(&[1, 7, 2, 3], &[1, 2, 8, 3, 9], |_| false);
        let threads = [
            Thread::Both(1),
            Thread::Apart(vec![7], vec![]),
            Thread::Both(2),
            Thread::Apart(vec![], vec![8]),
            Thread::Both(3),
            Thread::Apart(vec![], vec![9]),
        ];
        assert_eq!(woven.threads, threads);
    }

    #[test]
    fn what_both_moved_to_different_places_stands_in_both_or_in_the_first() {
        let woven = weave(&[1, 2, 3], &[3, 1, 2], |_| false);
        assert_eq!(woven.torn, [3].into());
        let ends = [Thread::Apart(vec![], vec![3]), Thread::Apart(vec![3], vec![])];
        assert_eq!([&woven.threads[0], &woven.threads[3]], [&ends[0], &ends[1]]);
        let woven = weave(&[1, 2, 3], &[3, 1, 2], |_| true);
        assert_eq!(woven.threads[2], Thread::Apart(vec![3], vec![]), "{:?}", woven.threads);
        assert_eq!(woven.threads.len(), 3);
    }
}
