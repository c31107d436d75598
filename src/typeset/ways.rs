//! Lanes for the moves of an area plan that pass by other places.
//!
//! In: moves between numbered places. Out: a lane for each, so that no two that overlap share one.

use crate::aids::plan::AreaMove;

/// The lane of each move, none where it leads to the very next place; and how many lanes there are. The shorter the move,
/// the nearer its lane to the places.
pub(super) fn lanes(moves: &[AreaMove]) -> (Vec<Option<usize>>, usize) {
    let span = |step: &AreaMove| (step.from.min(step.to), step.from.max(step.to));
    let mut order: Vec<usize> = (0..moves.len()).filter(|&at| !is_next(&moves[at])).collect();
    order.sort_by_key(|&at| (span(&moves[at]).1 - span(&moves[at]).0, at));
    let mut ways = vec![None; moves.len()];
    let mut taken: Vec<Vec<(usize, usize)>> = Vec::new();
    for at in order {
        let (low, high) = span(&moves[at]);
        let free = |lane: &Vec<(usize, usize)>| lane.iter().all(|&(from, to)| high < from || to < low);
        let lane = taken.iter().position(free).unwrap_or(taken.len());
        if lane == taken.len() {
            taken.push(Vec::new());
        }
        taken[lane].push((low, high));
        ways[at] = Some(lane);
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
