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

#[derive(Clone, Debug)]
pub struct State {
    pub bodies: Vec<Body>,
    /// The answers given so far that a later step asks again, by fact.
    pub facts: Vec<(FactId, bool)>,
    pub marks: Vec<Mark>,
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

    pub fn distance(&self, surface: usize) -> u16 {
        self.marks[surface].distance
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

    /// Each of two surfaces that touch takes the lesser of its own distance and the other's plus `weight`.
    pub fn touch(&mut self, state: &mut State, a: usize, b: usize, weight: u16, step: StepRef) {
        let how = if weight > 1 { How::Brushed } else { How::Touched };
        for (from, to) in [(a, b), (b, a)] {
            let near = state.marks[from].distance.saturating_add(weight);
            if near < state.marks[to].distance {
                let from = Some(state.marks[from].node);
                let node = Node {
                    surface: to as u16,
                    distance: near,
                    how,
                    step: Some(step),
                    from,
                    path: state.path,
                    merged: false,
                };
                state.marks[to] = Mark { distance: near, node: self.push(node) };
            }
        }
    }

    pub fn land(&mut self, state: &mut State, surface: usize, how: How, step: Option<StepRef>) {
        if state.marks[surface].distance > 0 {
            let node =
                Node { surface: surface as u16, distance: 0, how, step, from: None, path: state.path, merged: false };
            state.marks[surface] = Mark { distance: 0, node: self.push(node) };
        }
    }

    pub fn clean(&mut self, state: &mut State, surface: usize, touches: u16, step: StepRef) {
        let mark = state.marks[surface];
        if mark.distance == FAR || touches == 0 {
            return;
        }
        let distance = mark.distance.saturating_add(touches).min(FAR - 1);
        let node = Node {
            surface: surface as u16,
            distance,
            how: How::Cleaned,
            step: Some(step),
            from: Some(mark.node),
            path: state.path,
            merged: false,
        };
        state.marks[surface] = Mark { distance, node: self.push(node) };
    }

    /// Takes into `kept` whatever is nearer in `other`, which has the same key.
    pub fn merge(&mut self, kept: &mut State, other: &State) {
        let (kept_path, other_path) = (kept.path, other.path);
        self.forks.push(Fork { decision: None, parents: vec![kept_path, other_path] });
        let path = (self.forks.len() - 1) as u32;
        for at in 0..kept.marks.len() {
            let (mine, theirs) = (kept.marks[at], other.marks[at]);
            if mine == theirs {
                continue;
            }
            let (nearer, path) = if theirs.distance < mine.distance { (theirs, other_path) } else { (mine, kept_path) };
            if let Some(&node) = self.node(nearer.node) {
                let wrapped = Node { from: Some(nearer.node), path, merged: true, ..node };
                kept.marks[at] = Mark { distance: nearer.distance, node: self.push(wrapped) };
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
