//! Where faces break: rows over pages, so that all are evenly filled and parts stay whole where they can.
//!
//! In: heights. Out: ranges. Knows nothing of what is drawn.

use std::ops::Range;

/// One piece that is never divided. All heights in points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    pub height: f64,
    /// Space above it, dropped at the top of a face.
    pub gap: f64,
    /// What must be added above it where a face begins with it: the title of its part, continued.
    pub again: f64,
    /// What a break before it costs; infinite where none may be.
    pub cost: f64,
    /// A face begins with it, unless that leaves most of one bare.
    pub begins: bool,
}

/// The least number of faces, and among those the evenest. None where a piece is taller than a face.
pub(super) fn into_faces(blocks: &[Block], first: f64, others: f64) -> Option<Vec<Range<usize>>> {
    // best[end]: faces, cost and the start of the last face, for the blocks before `end`.
    let mut best: Vec<Option<(usize, f64, usize)>> = vec![None; blocks.len() + 1];
    best[0] = Some((0, 0.0, 0));
    for end in 1..=blocks.len() {
        let mut height = 0.0;
        for start in (0..end).rev() {
            let block = blocks[start];
            let fill = height + block.height + block.again;
            height += block.height + block.gap;
            let room = if start == 0 { first } else { others };
            if height - block.gap > first.max(others) {
                break;
            }
            let Some((faces, cost, _)) = best[start] else { continue };
            if fill > room || (start > 0 && block.cost.is_infinite()) {
                continue;
            }
            let slack = (room - fill) / room;
            let break_cost = if start > 0 { block.cost } else { 0.0 };
            let candidate = (faces + 1, cost + slack * slack * 100.0 + break_cost, start);
            if best[end].is_none_or(|(faces, cost, _)| (candidate.0, candidate.1) < (faces, cost)) {
                best[end] = Some(candidate);
            }
        }
    }
    let mut ranges = Vec::new();
    let mut end = blocks.len();
    while end > 0 {
        let (_, _, start) = best[end]?;
        ranges.push(start..end);
        end = start;
    }
    ranges.reverse();
    Some(ranges)
}

/// What begins a face stands beneath other matter where that has taken less than this share of it.
const WELL_USED: f64 = 0.4;

/// A break that costs as much leaves a row alone.
const ALONE: f64 = 7.0;

/// Each face as full as it can be, one after another: where what comes first matters most. None where a piece is taller than a
/// face.
pub(super) fn one_after_another(blocks: &[Block], first: f64, others: f64) -> Option<Vec<Range<usize>>> {
    let mut ranges = Vec::new();
    let mut start = 0;
    while start < blocks.len() {
        let room = if start == 0 { first } else { others };
        let mut height = blocks[start].again + blocks[start].height;
        if height > room {
            return None;
        }
        // The furthest end at which a break may be, and the furthest at which none leaves a row alone.
        let (mut end, mut good, mut at) = (None, None, start + 1);
        while at < blocks.len() {
            if blocks[at].cost.is_finite() {
                end = Some(at);
            }
            if blocks[at].cost < ALONE {
                good = Some(at);
            }
            height += blocks[at].gap + blocks[at].height;
            if height > room || (blocks[at].begins && height > WELL_USED * room) {
                break;
            }
            at += 1;
        }
        let end = if at == blocks.len() { at } else { good.or(end)? };
        ranges.push(start..end);
        start = end;
    }
    Some(ranges)
}

#[cfg(test)]
mod tests {
    use super::{Block, into_faces, one_after_another};

    fn row(height: f64, cost: f64) -> Block {
        Block { height, gap: 0.0, again: 0.0, cost, begins: false }
    }

    #[test]
    fn faces_are_evenly_filled() {
        let rows = [row(10.0, 0.0); 12];
        assert_eq!(into_faces(&rows, 50.0, 50.0), Some(vec![0..4, 4..8, 8..12]));
        assert_eq!(into_faces(&rows, 120.0, 10.0).map(|ranges| ranges.len()), Some(1));
        assert_eq!(into_faces(&[], 1.0, 1.0), Some(vec![]));
    }

    #[test]
    fn a_part_stays_whole_and_a_title_never_ends_a_face() {
        let mut rows = [row(10.0, 10.0); 8];
        rows[5].cost = 0.0;
        assert_eq!(into_faces(&rows, 50.0, 50.0), Some(vec![0..5, 5..8]));
        rows[4].cost = f64::INFINITY;
        assert_eq!(into_faces(&rows, 40.0, 50.0), Some(vec![0..3, 3..8]));
    }

    #[test]
    fn what_is_too_tall_fits_no_face() {
        assert_eq!(into_faces(&[row(10.0, 0.0), row(60.0, 0.0)], 50.0, 50.0), None);
        assert_eq!(into_faces(&[row(10.0, 0.0), Block { again: 45.0, ..row(10.0, 0.0) }], 15.0, 50.0), None);
    }

    #[test]
    fn one_after_another_fills_the_first_face_first() {
        let mut rows = [row(10.0, 0.0); 7];
        assert_eq!(one_after_another(&rows, 35.0, 50.0), Some(vec![0..3, 3..7]));
        rows[3].cost = f64::INFINITY;
        assert_eq!(one_after_another(&rows, 35.0, 50.0), Some(vec![0..2, 2..7]));
        rows[5].begins = true;
        assert_eq!(one_after_another(&rows, 35.0, 50.0), Some(vec![0..2, 2..5, 5..7]));
        assert_eq!(one_after_another(&rows, 9.0, 50.0), None);
        assert_eq!(one_after_another(&[], 9.0, 50.0), Some(vec![]));
        // Nothing that may not be divided is.
        let stiff = [row(10.0, 0.0), row(10.0, f64::INFINITY), row(10.0, f64::INFINITY)];
        assert_eq!(one_after_another(&stiff, 25.0, 25.0), None);
    }

    /// The same answer as trying every way to break.
    #[test]
    fn no_other_way_is_better() {
        let heights = [9.0, 3.0, 14.0, 7.0, 3.0, 12.0, 5.0, 8.0, 3.0, 10.0];
        let blocks: Vec<Block> = heights
            .iter()
            .enumerate()
            .map(|(i, &h)| Block { height: h, gap: 2.0, again: 1.5, cost: (i % 3) as f64, begins: false })
            .collect();
        let price = |ranges: &[std::ops::Range<usize>]| {
            let mut total = 0.0;
            for range in ranges {
                let gaps: f64 = blocks[range.clone()].iter().skip(1).map(|b| b.gap).sum();
                let fill =
                    blocks[range.clone()].iter().map(|b| b.height).sum::<f64>() + gaps + blocks[range.start].again;
                let room = if range.start == 0 { 25.0 } else { 30.0 };
                if fill > room {
                    return None;
                }
                total += ((room - fill) / room).powi(2) * 100.0
                    + if range.start > 0 { blocks[range.start].cost } else { 0.0 };
            }
            Some((ranges.len(), total))
        };
        let mut best: Option<(usize, f64)> = None;
        for mask in 0..1u32 << (blocks.len() - 1) {
            let mut ranges = Vec::new();
            let mut start = 0;
            for end in 1..=blocks.len() {
                if end == blocks.len() || mask >> (end - 1) & 1 == 1 {
                    ranges.push(start..end);
                    start = end;
                }
            }
            if let Some(found) = price(&ranges)
                && best.is_none_or(|best| found < best)
            {
                best = Some(found);
            }
        }
        let chosen = into_faces(&blocks, 25.0, 30.0).and_then(|ranges| price(&ranges)).expect("it fits");
        let best = best.expect("it fits");
        assert_eq!(chosen.0, best.0);
        assert!((chosen.1 - best.1).abs() < 1e-9);
    }
}
