//! In which order the sequences of a level are played, and which answers are still in play at each step.

use std::collections::HashMap;

use super::event::StepRef;
use crate::policy::{Act, FactId, Guard, IfNot, LevelId, Policy, RoleId, Sequence, SequenceId, Step};

/// One moment of the play.
#[derive(Clone, Copy, Debug)]
pub enum Entry<'a> {
    Step(StepRef, &'a Step),
    /// A sequence begins.
    Begin(SequenceId),
    /// Before the first taking-off: who never went anywhere has been with the hazard by now.
    Meet,
    /// A sequence is over.
    Over(SequenceId),
}

#[derive(Debug)]
pub struct Script<'a> {
    pub entries: Vec<Entry<'a>>,
    /// The entry of the first step of each sequence.
    starts: HashMap<SequenceId, usize>,
    /// The last entry at which each fact is asked.
    last_use: HashMap<FactId, usize>,
    pub putting_on: Vec<SequenceId>,
    pub taking_off: Vec<SequenceId>,
}

impl<'a> Script<'a> {
    /// Putting on first, then whatever does neither, then taking off; within each in the order of the policy. A sequence
    /// that is only started when something goes wrong, and handles no kit, is not played on the main way.
    pub fn new(policy: &'a Policy, level: LevelId) -> Script<'a> {
        let (mut putting_on, mut between, mut taking_off) = (Vec::new(), Vec::new(), Vec::new());
        for (id, sequence) in policy.sequences_of(level) {
            let (on, off) = handles_kit(sequence);
            match (on, off) {
                (0, 0) if is_started(policy, id) => {}
                (0, 0) => between.push(id),
                (on, off) if on > off => putting_on.push(id),
                _ => taking_off.push(id),
            }
        }
        let mut script =
            Script { entries: Vec::new(), starts: HashMap::new(), last_use: HashMap::new(), putting_on, taking_off };
        for id in script.putting_on.clone().into_iter().chain(between) {
            script.add(policy, id);
        }
        if !script.taking_off.is_empty() {
            script.entries.push(Entry::Meet);
        }
        for id in script.taking_off.clone() {
            script.add(policy, id);
        }
        script.note_uses(policy);
        script
    }

    fn add(&mut self, policy: &'a Policy, id: SequenceId) {
        self.entries.push(Entry::Begin(id));
        self.starts.insert(id, self.entries.len());
        for (step, data) in policy.sequence(id).steps.iter().enumerate() {
            self.entries.push(Entry::Step(StepRef { sequence: id, step }, data));
        }
        self.entries.push(Entry::Over(id));
    }

    fn note_uses(&mut self, policy: &Policy) {
        for at in 0..self.entries.len() {
            let Entry::Step(here, step) = self.entries[at] else { continue };
            self.note(&step.guard, at);
            let Act::Hold(hold) = &step.act else { continue };
            match &hold.if_not {
                Some(IfNot::GoBack { step: first, .. }) => {
                    for again in self.range(here.sequence, *first, at) {
                        if let Entry::Step(_, step) = self.entries[again] {
                            self.note(&step.guard, at);
                        }
                    }
                }
                Some(IfNot::Start { sequence, .. }) => {
                    for step in &policy.sequence(*sequence).steps {
                        self.note(&step.guard, at);
                    }
                }
                _ => {}
            }
        }
    }

    fn note(&mut self, guard: &Guard, at: usize) {
        for literal in guard.any.iter().flatten() {
            let last = self.last_use.entry(literal.fact).or_insert(at);
            *last = at.max(*last);
        }
    }

    /// The entries from a step of a sequence up to, not including, `until`.
    pub fn range(&self, sequence: SequenceId, first: usize, until: usize) -> std::ops::Range<usize> {
        let start = self.starts.get(&sequence).map_or(until, |start| start + first);
        start.min(until)..until
    }

    /// Whether an answer given is asked again after this entry.
    pub fn is_live(&self, fact: FactId, at: usize) -> bool {
        self.last_use.get(&fact).is_some_and(|&last| last > at)
    }

    /// Every fact that some step of the play asks for.
    pub fn facts(&self) -> Vec<FactId> {
        let mut facts: Vec<FactId> = self.last_use.keys().copied().collect();
        facts.sort();
        facts
    }

    /// Holds that may fail and lead elsewhere.
    pub fn forking_holds(&self) -> Vec<StepRef> {
        let forks = |entry: &Entry| match entry {
            Entry::Step(at, Step { act: Act::Hold(hold), .. })
                if matches!(hold.if_not, Some(IfNot::GoBack { .. } | IfNot::Start { .. })) =>
            {
                Some(*at)
            }
            _ => None,
        };
        self.entries.iter().filter_map(forks).collect()
    }

    /// Every step that can be played, those of sequences that a hold starts included.
    pub fn all_steps(&self, policy: &'a Policy) -> Vec<(StepRef, &'a Step)> {
        let mut steps = Vec::new();
        let mut started: Vec<SequenceId> = Vec::new();
        for entry in &self.entries {
            let Entry::Step(at, step) = entry else { continue };
            steps.push((*at, *step));
            if let Act::Hold(hold) = &step.act
                && let Some(IfNot::Start { sequence, .. }) = &hold.if_not
                && !started.contains(sequence)
                && !self.starts.contains_key(sequence)
            {
                started.push(*sequence);
            }
        }
        for id in started {
            for (step, data) in policy.sequence(id).steps.iter().enumerate() {
                steps.push((StepRef { sequence: id, step }, data));
            }
        }
        steps
    }
}

/// How many steps put kit on, and how many take it off.
fn handles_kit(sequence: &Sequence) -> (usize, usize) {
    let count = |wanted: fn(&Act) -> bool| sequence.steps.iter().filter(|step| wanted(&step.act)).count();
    (count(|act| matches!(act, Act::PutOn { .. })), count(|act| matches!(act, Act::TakeOff { .. })))
}

/// Whether a hold or a contingency starts this sequence.
fn is_started(policy: &Policy, id: SequenceId) -> bool {
    let by_hold = policy.sequences.iter().flat_map(|sequence| &sequence.steps).any(|step| match &step.act {
        Act::Hold(hold) => matches!(hold.if_not, Some(IfNot::Start { sequence, .. }) if sequence == id),
        _ => false,
    });
    let by_drill = policy
        .contingencies
        .iter()
        .flat_map(|drill| &drill.endings)
        .any(|ending| matches!(ending, crate::policy::Ending::Start(sequence) if *sequence == id));
    by_hold || by_drill
}

/// Whose kit a step puts on or takes off.
pub fn wearer_of(act: &Act) -> Option<RoleId> {
    match act {
        Act::PutOn { wearer, .. }
        | Act::PullUp { wearer, .. }
        | Act::Change { wearer, .. }
        | Act::TakeOff { wearer, .. } => Some(*wearer),
        _ => None,
    }
}
