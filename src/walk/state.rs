//! One state of a run: the people, the answers still in play, and how near the hazard has come to each surface, with the
//! trail of touches that brought it there.

use super::body::Body;
use super::event::{How, StepRef};
use crate::policy::FactId;

/// Out of reach.
pub const FAR: u16 = u16::MAX;

/// How near the hazard has come to a surface, and the node that tells how.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mark {
    pub distance: u16,
    pub node: u32,
}

const NOWHERE: u32 = u32::MAX;

impl Mark {
    pub const FAR: Mark = Mark { distance: FAR, node: NOWHERE };
}

/// The most slips that are reckoned with at once.
pub const MOST_SLIPS: usize = 2;

/// The marks of all surfaces: as planned, after at most one slip, after at most two.
pub type Marks = [Vec<Mark>; MOST_SLIPS + 1];

#[derive(Clone, Debug)]
pub struct State {
    pub bodies: Vec<Body>,
    /// The answers given so far that a later step asks again, by fact.
    pub facts: Vec<(FactId, bool)>,
    pub marks: Marks,
    pub path: u32,
}

impl State {
    /// States with the same key go on in the same way, but for their distances.
    pub fn same_key(&self, other: &State) -> bool {
        self.facts == other.facts && self.bodies == other.bodies
    }

    pub fn answer(&self, fact: FactId) -> Option<bool> {
        self.facts.iter().find(|(known, _)| *known == fact).map(|&(_, holds)| holds)
    }

    /// As planned, without a slip.
    pub fn mark(&self, surface: usize) -> Mark {
        self.marks[0][surface]
    }

    pub fn distance(&self, surface: usize) -> u16 {
        self.mark(surface).distance
    }
}

/// One change of a mark.
#[derive(Clone, Copy, Debug)]
pub struct Node {
    pub surface: u16,
    pub distance: u16,
    pub how: How,
    pub step: Option<StepRef>,
    /// The node from which the hazard came.
    pub from: Option<u32>,
    /// The decisions under which it came.
    path: u32,
    /// Only says which of several merged states it comes from; no touch of its own.
    merged: bool,
}

/// Something done to marks, by the numbers of the surfaces.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Op {
    /// Two surfaces meet, by a touch (1) or a brush (2).
    Touch(usize, usize, u16),
    /// Two surfaces that meet only if this step slips.
    Slip(usize, usize, u16),
    Land(usize, How),
    /// Set back by so many touches.
    Clean(usize, u16),
    /// A new thing in place of the old.
    Fresh(usize),
}

/// Which way a branch went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decision {
    Fact(FactId, bool),
    /// A hold was not confirmed at first.
    Fails(StepRef),
}

#[derive(Clone, Debug)]
struct Fork {
    decision: Option<Decision>,
    parents: Vec<u32>,
}

/// All touches and decisions of one play.
#[derive(Clone, Debug)]
pub struct Trail {
    nodes: Vec<Node>,
    forks: Vec<Fork>,
}

impl Default for Trail {
    fn default() -> Trail {
        Trail { nodes: Vec::new(), forks: vec![Fork { decision: None, parents: Vec::new() }] }
    }
}

impl Trail {
    pub fn node(&self, id: u32) -> Option<&Node> {
        self.nodes.get(id as usize)
    }

    fn push(&mut self, node: Node) -> u32 {
        self.nodes.push(node);
        (self.nodes.len() - 1) as u32
    }

    pub fn decide(&mut self, state: &mut State, decision: Decision) {
        self.forks.push(Fork { decision: Some(decision), parents: vec![state.path] });
        state.path = (self.forks.len() - 1) as u32;
    }

    /// Does something to the marks as planned and after slips alike; what only a slip does, to none of them.
    pub fn apply(&mut self, state: &mut State, op: Op, step: Option<StepRef>) {
        if !matches!(op, Op::Slip(..)) {
            let path = state.path;
            for marks in &mut state.marks {
                self.apply_to(marks, op, path, step);
            }
        }
    }

    /// One slip more, in the step that `ops` are of: from the marks `before` the step with one slip less.
    /// What was cleaned or changed on the way, as it was just before: after so many slips, by number.
    pub fn slip(&mut self, state: &mut State, before: &Marks, ops: &[Op], step: StepRef) -> Vec<(usize, usize, Mark)> {
        let mut raised = Vec::new();
        for slips in 1..=MOST_SLIPS {
            let mut slipped = before[slips - 1].clone();
            for &op in ops {
                if let Op::Clean(number, _) | Op::Fresh(number) = op {
                    raised.push((slips, number, slipped[number]));
                }
                self.apply_to(&mut slipped, op, state.path, Some(step));
            }
            for (mark, other) in state.marks[slips].iter_mut().zip(slipped) {
                if other.distance < mark.distance {
                    *mark = other;
                }
            }
        }
        raised
    }

    fn apply_to(&mut self, marks: &mut [Mark], op: Op, path: u32, step: Option<StepRef>) {
        let mut set = |marks: &mut [Mark], at: usize, distance: u16, how: How, from: Option<u32>| {
            let node = Node { surface: at as u16, distance, how, step, from, path, merged: false };
            marks[at] = Mark { distance, node: self.push(node) };
        };
        match op {
            // Each of two surfaces that touch takes the lesser of its own distance and the other's plus the weight.
            Op::Touch(a, b, weight) | Op::Slip(a, b, weight) => {
                let how = match op {
                    Op::Slip(..) => How::Slipped,
                    _ if weight > 1 => How::Brushed,
                    _ => How::Touched,
                };
                for (from, to) in [(a, b), (b, a)] {
                    let near = marks[from].distance.saturating_add(weight);
                    if near < marks[to].distance {
                        let came_from = marks[from].node;
                        set(marks, to, near, how, Some(came_from));
                    }
                }
            }
            Op::Land(at, how) if marks[at].distance > 0 => set(marks, at, 0, how, None),
            Op::Clean(at, touches) if marks[at].distance != FAR && touches > 0 => {
                let Mark { distance, node } = marks[at];
                set(marks, at, distance.saturating_add(touches).min(FAR - 1), How::Cleaned, Some(node));
            }
            Op::Fresh(at) => marks[at] = Mark::FAR,
            Op::Land(..) | Op::Clean(..) => {}
        }
    }

    /// Takes into `kept` whatever is nearer in `other`, which has the same key.
    pub fn merge(&mut self, kept: &mut State, other: &State) {
        let (kept_path, other_path) = (kept.path, other.path);
        self.forks.push(Fork { decision: None, parents: vec![kept_path, other_path] });
        let path = (self.forks.len() - 1) as u32;
        let theirs = other.marks.iter().flatten().copied();
        for (mark, theirs) in kept.marks.iter_mut().flatten().zip(theirs) {
            if *mark == theirs {
                continue;
            }
            let (nearer, path) =
                if theirs.distance < mark.distance { (theirs, other_path) } else { (*mark, kept_path) };
            if let Some(&node) = self.node(nearer.node) {
                let wrapped = Node { from: Some(nearer.node), path, merged: true, ..node };
                *mark = Mark { distance: nearer.distance, node: self.push(wrapped) };
            }
        }
        kept.path = path;
    }

    /// The touches that lead to a node, first to last.
    pub fn chain(&self, node: u32) -> Vec<Node> {
        let mut chain = Vec::new();
        let mut at = self.node(node);
        while let Some(node) = at {
            if !node.merged {
                chain.push(*node);
            }
            at = node.from.and_then(|from| self.node(from));
        }
        chain.reverse();
        chain
    }

    /// Decisions under which a state at `path` holds the mark `node`.
    pub fn decisions(&self, path: u32, node: Option<u32>) -> Vec<Decision> {
        let mut decisions = Vec::new();
        let mut here = path;
        let mut at = node.and_then(|node| self.node(node));
        while let Some(node) = at {
            if self.climb(here, node.path, &mut decisions) {
                here = node.path;
            }
            at = node.from.and_then(|from| self.node(from));
        }
        self.climb(here, 0, &mut decisions);
        decisions
    }

    /// Walks from one fork up to an earlier one, by whatever parents lead there, and notes the decisions on the way.
    fn climb(&self, from: u32, to: u32, decisions: &mut Vec<Decision>) -> bool {
        // Parents have smaller numbers than their children, so nothing below `to` can lead to it.
        let mut came_from = std::collections::HashMap::from([(from, from)]);
        let mut open = vec![from];
        while let Some(at) = open.pop() {
            if at == to {
                let mut back = at;
                while back != from {
                    back = came_from[&back];
                    decisions.extend(self.forks[back as usize].decision);
                }
                return true;
            }
            for &parent in self.forks[at as usize].parents.iter().rev() {
                if parent >= to && !came_from.contains_key(&parent) {
                    came_from.insert(parent, at);
                    open.push(parent);
                }
            }
        }
        false
    }
}
