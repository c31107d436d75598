//! One state of a run: the people, the answers still in play, and how near the hazard has come to each surface, with the
//! trail of touches that brought it there.

use super::body::Body;
use super::event::{How, StepRef, Strike};
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

/// The marks of all surfaces: as planned, after at most one slip, after at most two. After the event of a contingency only
/// the first are kept.
pub type Marks = [Vec<Mark>; MOST_SLIPS + 1];

#[derive(Clone, Debug)]
pub struct State {
    pub bodies: Vec<Body>,
    /// The answers given so far that a later step asks again, by fact.
    pub facts: Vec<(FactId, bool)>,
    pub marks: Marks,
    /// After the event of a contingency: how near the event by itself has come, and cleaning has left it. Before: empty.
    pub brought: Vec<Mark>,
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

    /// This state as planned: what an event can find.
    pub fn planned(&self) -> State {
        State {
            bodies: self.bodies.clone(),
            facts: self.facts.clone(),
            marks: [self.marks[0].clone(), Vec::new(), Vec::new()],
            brought: Vec::new(),
            path: self.path,
        }
    }

    /// The same once an event has found it.
    pub fn struck(&self) -> State {
        State { brought: vec![Mark::FAR; self.marks[0].len()], ..self.planned() }
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
    /// From an outside through its tear to what lies beneath.
    Through(usize, usize),
    /// Set back by so many touches.
    Clean(usize, u16),
    /// A new thing in place of the old.
    Fresh(usize),
}

/// An op of the step in hand, and how near it brought each of its two surfaces as planned, whether or not they had been
/// nearer before.
#[derive(Clone, Copy, Debug)]
pub struct Done {
    pub op: Op,
    pub near: [u16; 2],
}

/// A touch that brings the hazard to a surface.
#[derive(Clone, Copy, Debug)]
pub struct Arrival {
    pub slips: usize,
    pub surface: usize,
    pub distance: u16,
    pub node: u32,
}

/// What a slip of the step brought about.
#[derive(Debug, Default)]
pub struct Slipped {
    /// What was cleaned or changed on the way, as it was just before: after so many slips, by number.
    pub raised: Vec<(usize, usize, Mark)>,
    /// Touches that come nearer than they do as planned.
    pub arrivals: Vec<Arrival>,
}

/// Which way a branch went.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Decision {
    Fact(FactId, bool),
    /// A hold was not confirmed at first.
    Fails(StepRef),
    /// The event of a contingency happened.
    Strikes(Strike),
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

/// The two surfaces that meet.
pub fn ends(op: Op) -> [Option<usize>; 2] {
    match op {
        Op::Touch(a, b, _) | Op::Slip(a, b, _) => [Some(a), Some(b)],
        _ => [None, None],
    }
}

/// What a meeting brings to each of the two surfaces by the other alone: how near, and the node from which it comes.
pub fn brings(marks: &[Mark], op: Op) -> [Mark; 2] {
    let by = |other: usize, weight| Mark { distance: marks[other].distance.saturating_add(weight), ..marks[other] };
    match op {
        Op::Touch(a, b, weight) | Op::Slip(a, b, weight) => [by(b, weight), by(a, weight)],
        _ => [Mark::FAR; 2],
    }
}

fn how_of(op: Op) -> How {
    match op {
        Op::Slip(..) => How::Slipped,
        Op::Touch(_, _, weight) if weight > 1 => How::Brushed,
        _ => How::Touched,
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
            for marks in state.marks.iter_mut().filter(|marks| !marks.is_empty()) {
                self.apply_to(marks, op, path, step);
            }
            if !state.brought.is_empty() {
                self.bring(state, op, step);
            }
        }
    }

    /// What an event brought somewhere stays its own, whatever else has come as near; only cleaning sets it back.
    fn bring(&mut self, state: &mut State, op: Op, step: Option<StepRef>) {
        let path = state.path;
        match op {
            Op::Land(_, How::Happened) | Op::Clean(..) | Op::Fresh(_) => {
                self.apply_to(&mut state.brought, op, path, step);
            }
            Op::Through(outside, beneath) => {
                let outside = state.mark(outside);
                let distance = outside.distance.saturating_add(1);
                if distance < state.brought[beneath].distance {
                    let (surface, how, from) = (beneath as u16, How::CameThrough, Some(outside.node));
                    let node = self.push(Node { surface, distance, how, step, from, path, merged: false });
                    state.brought[beneath] = Mark { distance, node };
                }
            }
            _ => {}
        }
    }

    /// One slip more, in the step that `done` is of: from the marks `before` the step with one slip less. `margin`: how
    /// far a surface is to be kept after so many slips, where that is asked.
    pub fn slip(
        &mut self,
        state: &mut State,
        before: &Marks,
        done: &[Done],
        step: StepRef,
        margin: &dyn Fn(usize, usize) -> Option<u16>,
    ) -> Slipped {
        let mut found = Slipped::default();
        for slips in 1..=MOST_SLIPS {
            let mut slipped = before[slips - 1].clone();
            for &Done { op, near: planned } in done {
                if let Op::Clean(number, _) | Op::Fresh(number) = op {
                    found.raised.push((slips, number, slipped[number]));
                }
                let brings = brings(&slipped, op);
                self.apply_to(&mut slipped, op, state.path, Some(step));
                for (side, surface) in ends(op).into_iter().flatten().enumerate() {
                    let distance = brings[side].distance;
                    let is_near = margin(surface, slips).is_some_and(|margin| distance < margin);
                    if is_near && distance < planned[side] {
                        let node = self.arrival(&slipped, state.path, op, surface, brings[side], step);
                        found.arrivals.push(Arrival { slips, surface, distance, node });
                    }
                }
            }
            for (mark, other) in state.marks[slips].iter_mut().zip(slipped) {
                if other.distance < mark.distance {
                    *mark = other;
                }
            }
        }
        found
    }

    /// The node that tells how this touch came about: the one that it made, or one of its own where the surface has been
    /// as near before.
    pub fn arrival(&mut self, marks: &[Mark], path: u32, op: Op, surface: usize, brought: Mark, step: StepRef) -> u32 {
        let Mark { distance, node: from } = brought;
        let made = self.node(marks[surface].node).filter(|node| node.step == Some(step) && node.distance == distance);
        if made.is_some() {
            return marks[surface].node;
        }
        let (surface, how) = (surface as u16, how_of(op));
        self.push(Node { surface, distance, how, step: Some(step), from: Some(from), path, merged: false })
    }

    fn apply_to(&mut self, marks: &mut [Mark], op: Op, path: u32, step: Option<StepRef>) {
        let mut set = |marks: &mut [Mark], at: usize, distance: u16, how: How, from: Option<u32>| {
            let node = Node { surface: at as u16, distance, how, step, from, path, merged: false };
            marks[at] = Mark { distance, node: self.push(node) };
        };
        match op {
            // Each of two surfaces that touch takes the lesser of its own distance and the other's plus the weight.
            Op::Touch(a, b, weight) | Op::Slip(a, b, weight) => {
                let how = how_of(op);
                for (from, to) in [(a, b), (b, a)] {
                    let near = marks[from].distance.saturating_add(weight);
                    if near < marks[to].distance {
                        let came_from = marks[from].node;
                        set(marks, to, near, how, Some(came_from));
                    }
                }
            }
            Op::Land(at, how) if marks[at].distance > 0 => set(marks, at, 0, how, None),
            Op::Through(outside, beneath) => {
                let near = marks[outside].distance.saturating_add(1);
                if near < marks[beneath].distance {
                    let came_from = marks[outside].node;
                    set(marks, beneath, near, How::CameThrough, Some(came_from));
                }
            }
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
        let theirs = other.marks.iter().flatten().chain(&other.brought).copied();
        for (mark, theirs) in kept.marks.iter_mut().flatten().chain(&mut kept.brought).zip(theirs) {
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
