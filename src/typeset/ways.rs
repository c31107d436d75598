//! Lanes for moves that pass by other places: of an area plan, or of a review sheet from line to line.
//!
//! In: moves between numbered places. Out: a lane for each, so that no two that overlap share one.

use crate::aids::plan::{AreaMove, Review, ReviewRow};

/// The lane of each move, none where it leads to the very next place; and how many lanes there are. The shorter the move,
/// the nearer its lane to the places.
pub(super) fn lanes(moves: &[AreaMove]) -> (Vec<Option<usize>>, usize) {
    let far = (0..moves.len()).filter(|&at| !is_next(&moves[at]));
    let spans: Vec<(usize, (usize, usize))> = far.map(|at| (at, (moves[at].from, moves[at].to))).collect();
    let mut ways = vec![None; moves.len()];
    let (found, lanes) = apart(&spans.iter().map(|(_, span)| *span).collect::<Vec<_>>());
    for ((at, _), lane) in spans.iter().zip(found) {
        ways[*at] = Some(lane);
    }
    (ways, lanes)
}

/// More lanes than this leave no room for words: the rest of the moves are told, and not drawn.
const MOST_LANES: usize = 16;

/// The same for the rows of a review sheet, all sections one after another: the lane of each row in which one end of a move
/// stands.
pub(super) fn lanes_of_rows(review: &Review) -> (Vec<Option<usize>>, usize) {
    let (mut ways, mut most) = (Vec::new(), 0);
    for section in &review.sections {
        let other = |row: &ReviewRow| match row {
            ReviewRow::Pair(pair) => pair.row.other_end,
            _ => None,
        };
        let ends = section.rows.iter().map(other);
        let spans: Vec<(usize, usize)> = ends
            .enumerate()
            .filter_map(|(at, other)| other.filter(|other| at < *other).map(|other| (at, other)))
            .collect();
        let (found, _) = apart(&spans);
        let first = ways.len();
        ways.resize(first + section.rows.len(), None);
        for ((one, other), lane) in spans.into_iter().zip(found).filter(|(_, lane)| *lane < MOST_LANES) {
            ways[first + one] = Some(lane);
            ways[first + other] = Some(lane);
            most = most.max(lane + 1);
        }
    }
    (ways, most)
}

/// The lane of each span, and how many lanes there are; the shorter the span, the lower its lane.
fn apart(spans: &[(usize, usize)]) -> (Vec<usize>, usize) {
    let ends = |at: usize| (spans[at].0.min(spans[at].1), spans[at].0.max(spans[at].1));
    let mut order: Vec<usize> = (0..spans.len()).collect();
    order.sort_by_key(|&at| (ends(at).1 - ends(at).0, at));
    let mut ways = vec![0; spans.len()];
    let mut taken: Vec<Vec<(usize, usize)>> = Vec::new();
    for at in order {
        let (low, high) = ends(at);
        let free = |lane: &Vec<(usize, usize)>| lane.iter().all(|&(from, to)| high < from || to < low);
        let lane = taken.iter().position(free).unwrap_or(taken.len());
        if lane == taken.len() {
            taken.push(Vec::new());
        }
        taken[lane].push((low, high));
        ways[at] = lane;
    }
    (ways, taken.len())
}

/// Straight down to the next place.
fn is_next(step: &AreaMove) -> bool {
    step.to == step.from + 1 || (step.both && step.from == step.to + 1)
}

#[cfg(test)]
mod tests {
    use super::lanes;
    use crate::aids::plan::AreaMove;

    #[test]
    fn moves_that_overlap_have_lanes_of_their_own() {
        let one_way = |from, to| AreaMove { from, to, both: false };
        let moves = [one_way(0, 1), one_way(1, 2), one_way(2, 3), one_way(3, 0), one_way(1, 3)];
        assert_eq!(lanes(&moves), (vec![None, None, None, Some(1), Some(0)], 2));
        let apart = [one_way(1, 0), one_way(3, 2)];
        assert_eq!(lanes(&apart), (vec![Some(0), Some(0)], 1));
        let back = [AreaMove { from: 1, to: 0, both: true }];
        assert_eq!(lanes(&back), (vec![None], 0));
    }
}
