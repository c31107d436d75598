//! Levels that outrank one another in a circle.

use std::collections::BTreeMap;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Choice, LevelId};
use crate::rules::choosing::quoted_level;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Circle;

impl Rule for Circle {
    fn name(&self) -> Name {
        Name { family: "choice", word: "circle" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("circle.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let Some(choice) = &policy.choice else { return };
        for circle in circles(choice) {
            let line = |&at: &usize| {
                let (higher, lower) = choice.outranks[at];
                (choice.outrank_spans[at], format!("{} outranks {}", policy.level(higher).name, policy.level(lower).name))
            };
            let mut lines: Vec<_> = circle.iter().map(line).collect();
            lines.sort();
            let Some((span, _)) = lines.pop() else { continue };
            let said = Said {
                title: "Levels outrank one another in a circle".to_string(),
                message: format!(
                    "Nobody can tell which level protects more. By these lines, {} outranks itself.",
                    quoted_level(policy, choice.outranks[circle[0]].0)
                ),
                way_out: "Take out the line that is the wrong way round.".to_string(),
            };
            findings.push(Finding { related: lines, ..plain(self, span, said) });
        }
    }
}

/// Circles as lines of the choice, each in its own order; no level in two of them.
fn circles(choice: &Choice) -> Vec<Vec<usize>> {
    let mut below: BTreeMap<LevelId, Vec<usize>> = BTreeMap::new();
    for (at, &(higher, _)) in choice.outranks.iter().enumerate() {
        below.entry(higher).or_default().push(at);
    }
    let mut state: BTreeMap<LevelId, State> = BTreeMap::new();
    let mut circles = Vec::new();
    for &top in below.keys() {
        if state.contains_key(&top) {
            continue;
        }
        // The way down from the top: each level with the line that led on from it, and how many were tried.
        let mut way = vec![(top, 0)];
        state.insert(top, State::OnTheWay(0));
        while let Some((level, tried)) = way.last_mut() {
            let lines = below.get(level).map(Vec::as_slice).unwrap_or_default();
            let Some(&line) = lines.get(*tried) else {
                state.insert(*level, State::Done);
                way.pop();
                continue;
            };
            *tried += 1;
            let lower = choice.outranks[line].1;
            match state.get(&lower) {
                None => {
                    state.insert(lower, State::OnTheWay(way.len()));
                    way.push((lower, 0));
                }
                Some(State::Done) => {}
                Some(&State::OnTheWay(from)) => {
                    circles.push(way[from..].iter().map(|(level, tried)| below[level][tried - 1]).collect());
                    for (level, _) in way.drain(from..) {
                        state.insert(level, State::Done);
                    }
                }
            }
        }
    }
    circles
}

#[derive(Clone, Copy)]
enum State {
    OnTheWay(usize),
    Done,
}
