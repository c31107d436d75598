//! What an aid is of: the steps of a sequence or of a drill, and who dresses or undresses in it.
//!
//! In: a policy and the subject of a `print` statement. Out: [`Procedure`]s. Must never word anything.

use crate::policy::{Act, Ending, Event, LevelId, Part, PlaceId, Policy, RoleId, SequenceId, Step, Subject};

/// A sequence or a contingency, seen alike.
#[derive(Clone, Copy)]
pub struct Procedure<'a> {
    pub title: &'a str,
    pub steps: &'a [Step],
    pub parts: &'a [Part],
    pub sequence: Option<SequenceId>,
    pub level: Option<LevelId>,
    pub place: Option<PlaceId>,
    pub endings: &'a [Ending],
    /// What starts a drill; none for sequences.
    pub event: Option<&'a Event>,
    /// Whose kit it is about: the one on whom most is put or from whom most is taken.
    pub principal: RoleId,
    pub direction: Direction,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    PuttingOn,
    TakingOff,
    Neither,
}

impl<'a> Procedure<'a> {
    /// Every procedure that a subject names; a level names its sequences. Those without a step are left out.
    pub fn all_of(policy: &'a Policy, subject: Subject) -> Vec<Procedure<'a>> {
        let found = match subject {
            Subject::Sequence(id) => vec![Procedure::sequence(policy, id)],
            Subject::Contingency(index) => vec![policy.contingencies.get(index).and_then(Procedure::contingency)],
            Subject::Level(level) => {
                policy.sequences_of(level).map(|(id, _)| Procedure::sequence(policy, id)).collect()
            }
            Subject::Place(_) | Subject::Role(_) | Subject::Policy => Vec::new(),
        };
        found.into_iter().flatten().collect()
    }

    fn sequence(policy: &'a Policy, id: SequenceId) -> Option<Procedure<'a>> {
        let sequence = policy.sequences.get(id.index())?;
        Some(Procedure {
            title: &sequence.title,
            steps: &sequence.steps,
            parts: &sequence.parts,
            sequence: Some(id),
            level: Some(sequence.level),
            place: sequence.place,
            endings: &[],
            event: None,
            principal: principal(&sequence.steps)?,
            direction: Direction::of(&sequence.steps),
        })
    }

    fn contingency(contingency: &'a crate::policy::Contingency) -> Option<Procedure<'a>> {
        Some(Procedure {
            title: &contingency.title,
            steps: &contingency.steps,
            parts: &[],
            sequence: None,
            level: None,
            place: None,
            endings: &contingency.endings,
            event: Some(&contingency.event),
            principal: principal(&contingency.steps)?,
            direction: Direction::of(&contingency.steps),
        })
    }

    /// The number printed at a step, or at the first numbered one after it.
    pub fn number_at(&self, step: usize) -> Option<u32> {
        self.steps.get(step..)?.iter().find_map(|step| step.number)
    }

    /// The first role of a kind that acts or confirms here.
    pub fn role(&self, policy: &Policy, is: impl Fn(&crate::policy::Role) -> bool) -> Option<RoleId> {
        let takes_part = |id: RoleId| self.steps.iter().any(|step| step.has_part_for(id));
        let ids = (0..policy.roles.len()).map(RoleId::new);
        ids.into_iter().find(|&id| is(policy.role(id)) && takes_part(id))
    }
}

impl Direction {
    pub fn of(steps: &[Step]) -> Direction {
        let (mut on, mut off) = (0, 0);
        for step in steps {
            match step.act {
                Act::PutOn { .. } => on += 1,
                Act::TakeOff { .. } => off += 1,
                _ => {}
            }
        }
        match on.cmp(&off) {
            std::cmp::Ordering::Greater => Direction::PuttingOn,
            std::cmp::Ordering::Less => Direction::TakingOff,
            std::cmp::Ordering::Equal => Direction::Neither,
        }
    }
}

/// The person whose layers an act changes.
pub fn dresses(act: &Act) -> Option<RoleId> {
    match act {
        Act::PutOn { wearer, .. }
        | Act::PullUp { wearer, .. }
        | Act::Change { wearer, .. }
        | Act::TakeOff { wearer, .. } => Some(*wearer),
        _ => None,
    }
}

fn principal(steps: &[Step]) -> Option<RoleId> {
    let mut tally: Vec<(RoleId, usize)> = Vec::new();
    for role in steps.iter().filter_map(|step| dresses(&step.act)) {
        match tally.iter_mut().find(|(known, _)| *known == role) {
            Some((_, count)) => *count += 1,
            None => tally.push((role, 1)),
        }
    }
    let most = tally.iter().map(|&(_, count)| count).max();
    let first = tally.iter().find(|&&(_, count)| Some(count) == most).map(|&(role, _)| role);
    first.or_else(|| steps.first().map(|step| step.actor))
}
