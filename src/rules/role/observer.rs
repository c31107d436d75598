//! At a high-consequence level, nobody watches while kit goes on or comes off.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Policy, RoleId, SequenceId, Step, Target};
use crate::rules::kits::{steps_of, those_who_go_in};
use crate::rules::telling::{Said, plain, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, What};

pub struct Observer;

impl Rule for Observer {
    fn name(&self) -> Name {
        Name { family: "role", word: "observer" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("observer.md")
    }

    /// That nobody checks before going in is told by the rules of holds.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, who) in those_who_go_in(policy, brief.walk) {
            for (moves, sequences) in [("goes on", &run.putting_on), ("comes off", &run.taking_off)] {
                let Some(sequence) = unwatched(policy, sequences, who) else { continue };
                if moves == "goes on" && is_told_unchecked(run, who) {
                    continue;
                }
                let said = Said {
                    title: format!("Nobody watches while the kit {moves}"),
                    message: format!(
                        "Whoever works alone does not see their own slips, and skin pays for them. Nobody checks {} here.",
                        the_role(policy, who)
                    ),
                    way_out: "Give the sequence an observer, who reads each step aloud, checks and confirms.".to_string(),
                };
                findings.push(plain(self, policy.sequence(sequence).span, said));
            }
        }
    }
}

/// The first of these sequences in which somebody's kit moves, where nobody else looks in any of them.
fn unwatched(policy: &Policy, sequences: &[SequenceId], who: RoleId) -> Option<SequenceId> {
    let moves = |step: &Step| match step.act {
        Act::PutOn { wearer, .. } | Act::TakeOff { wearer, .. } => wearer == who,
        _ => false,
    };
    let (first, _) = steps_of(policy, sequences).find(|(_, step)| moves(step))?;
    let is_watched = steps_of(policy, sequences).any(|(_, step)| watches(step, who));
    (!is_watched).then_some(first.sequence)
}

/// Somebody else checks the person or something worn, or confirms a hold.
fn watches(step: &Step, who: RoleId) -> bool {
    match &step.act {
        Act::Check(Target::Person(person)) => *person == who && step.actor != who,
        Act::Check(Target::Item { wearer, .. }) => *wearer == who && step.actor != who,
        Act::Hold(hold) => hold.confirms.iter().any(|(role, _)| *role != who),
        _ => false,
    }
}

fn is_told_unchecked(run: &Run, who: RoleId) -> bool {
    run.events.iter().any(|event| {
        event.who == who && event.case.strike.is_none() && matches!(event.what, What::Unchecked { .. } | What::HoldAfterEntry { .. })
    })
}
