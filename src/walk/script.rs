//! In which order the sequences of a level are played, and which answers are still in play at each step.

use std::collections::BTreeMap;

use super::event::StepRef;
use super::happening::Happening;
use crate::policy::{
    Act, Contingency, Ending, FactId, Guard, IfNot, LevelId, Policy, RoleId, Sequence, SequenceId, Step,
};

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

/// A contingency that belongs to the level.
#[derive(Debug)]
pub struct Drill<'a> {
    /// By its place in the policy.
    pub contingency: usize,
    pub id: SequenceId,
    pub happening: Happening,
    pub steps: &'a [Step],
    pub endings: &'a [Ending],
}

impl Drill<'_> {
    /// Everybody goes on where it broke off.
    pub fn carries_on(&self) -> bool {
        matches!(self.endings.first(), Some(Ending::CarryOn))
    }

    /// The sequences that it starts.
    pub fn starts(&self) -> impl Iterator<Item = SequenceId> {
        self.endings.iter().filter_map(|ending| match ending {
            Ending::Start(sequence) => Some(*sequence),
            _ => None,
        })
    }
}

#[derive(Debug)]
pub struct Script<'a> {
    pub entries: Vec<Entry<'a>>,
    /// The entry of the first step of each sequence.
    starts: BTreeMap<SequenceId, usize>,
    /// The last entry at which each fact is asked.
    last_use: BTreeMap<FactId, usize>,
    /// The facts that are asked on the main way.
    facts: Vec<FactId>,
    pub putting_on: Vec<SequenceId>,
    pub taking_off: Vec<SequenceId>,
    pub drills: Vec<Drill<'a>>,
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
        let mut script = Script {
            entries: Vec::new(),
            starts: BTreeMap::new(),
            last_use: BTreeMap::new(),
            facts: Vec::new(),
            putting_on,
            taking_off,
            drills: Vec::new(),
        };
        for id in script.putting_on.clone().into_iter().chain(between) {
            script.add(policy, id);
        }
        if !script.taking_off.is_empty() {
            script.entries.push(Entry::Meet);
        }
        for id in script.taking_off.clone() {
            script.add(policy, id);
        }
        script.drills = drills(policy, level, &script);
        script.note_uses(policy);
        script
    }

    /// The entries of a sequence, from the one that begins it to the one that ends it.
    pub fn extent(&self, sequence: SequenceId) -> Option<(usize, usize)> {
        let first = *self.starts.get(&sequence)?;
        let over = (first..self.entries.len())
            .find(|&at| matches!(self.entries[at], Entry::Over(other) if other == sequence))?;
        Some((first - 1, over))
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
                    let until = self.rest_of_what_drills_start(at);
                    for step in &policy.sequence(*sequence).steps {
                        self.note(&step.guard, until);
                    }
                }
                _ => {}
            }
        }
        self.facts = self.last_use.keys().copied().collect();
        // A drill can be entered after any step: what it asks is kept to the end.
        let asked: Vec<&Guard> = self.drill_steps(policy).into_iter().map(|(_, step)| &step.guard).collect();
        for guard in asked {
            self.note(guard, self.entries.len());
        }
    }

    /// Up to where an answer may be asked again in what the hold of an entry starts instead: in the middle of that, a drill may
    /// have what is left of other sequences played at once.
    fn rest_of_what_drills_start(&self, hold: usize) -> usize {
        let over = self.drills.iter().flat_map(Drill::starts).filter_map(|id| self.extent(id)).map(|(_, over)| over);
        over.map(|over| over + 1).fold(hold, usize::max)
    }

    /// The steps of the drills, and of the sequences that only they start.
    pub fn drill_steps(&self, policy: &'a Policy) -> Vec<(StepRef, &'a Step)> {
        let mut ids: Vec<SequenceId> = Vec::new();
        for drill in &self.drills {
            ids.push(drill.id);
            ids.extend(drill.starts().filter(|id| !self.starts.contains_key(id)));
        }
        ids.sort();
        ids.dedup();
        let steps = |id: SequenceId| {
            policy.steps(id).iter().enumerate().map(move |(step, data)| (StepRef { sequence: id, step }, data))
        };
        ids.into_iter().flat_map(steps).collect()
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

    /// Every fact that some step of the main way asks for.
    pub fn facts(&self) -> &[FactId] {
        &self.facts
    }

    /// The same, with what the drills ask for.
    pub fn facts_with_drills(&self) -> Vec<FactId> {
        self.last_use.keys().copied().collect()
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

/// The contingencies that belong to a level and could be read whole: all that they start is of it, and whoever handles kit in them takes part.
fn drills<'a>(policy: &'a Policy, level: LevelId, script: &Script) -> Vec<Drill<'a>> {
    let takes_part = |who: RoleId| {
        policy.level(level).kit(who).is_some()
            || script.entries.iter().any(|entry| match entry {
                Entry::Step(_, step) => step.actor == who || wearer_of(&step.act) == Some(who),
                _ => false,
            })
    };
    let belongs = |drill: &Contingency| {
        let starts_here = drill.endings.iter().all(|ending| match ending {
            Ending::Start(sequence) => policy.sequence(*sequence).level == level,
            _ => true,
        });
        let handlers = drill.steps.iter().filter_map(|step| wearer_of(&step.act).map(|wearer| [step.actor, wearer]));
        drill.is_whole && starts_here && handlers.flatten().all(takes_part)
    };
    let drill = |(contingency, drill): (usize, &'a Contingency)| Drill {
        contingency,
        id: policy.drill(contingency),
        happening: Happening::of(policy, drill),
        steps: &drill.steps,
        endings: &drill.endings,
    };
    policy.contingencies.iter().enumerate().filter(|(_, drill)| belongs(drill)).map(drill).collect()
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
