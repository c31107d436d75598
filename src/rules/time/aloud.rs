//! A step is over before the observer has read it aloud.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::print::{AidKind, Subject};
use crate::policy::{LevelId, Policy, Print, SequenceId};
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::times::{read_aloud, written};

pub struct Aloud;

impl Rule for Aloud {
    fn name(&self) -> Name {
        Name { family: "time", word: "aloud" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("aloud.md")
    }

    /// Only where an observer's card is printed, and of what the policy itself has said at the step.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut sequences: Vec<SequenceId> =
            policy.aids_asked().iter().flat_map(|print| with_a_card(policy, print)).collect();
        sequences.sort();
        sequences.dedup();
        for (_, step) in steps_of(policy, &sequences) {
            let Some(takes) = written(policy, step) else { continue };
            let reading = read_aloud(step.prompts.say.iter().map(String::as_str));
            if reading <= takes {
                continue;
            }
            let said = Said {
                title: "The step is over before it is read aloud".to_string(),
                message: format!(
                    "The wearer goes on unguided, or stands and waits in contaminated kit. Reading takes about {reading}, the step \
                     {takes}."
                ),
                way_out: "Say it in fewer words, or give the step the time that it needs.".to_string(),
            };
            findings.push(plain(self, step.span, said));
        }
    }
}

/// The sequences of an observer's card: the one that it is of, or those of its level.
fn with_a_card(policy: &Policy, print: &Print) -> Vec<SequenceId> {
    let of_level = |level: LevelId| policy.sequences_of(level).map(|(id, _)| id).collect();
    match (print.kind == AidKind::ObserverCard, print.subject) {
        (true, Subject::Sequence(id)) => vec![id],
        (true, Subject::Level(level)) => of_level(level),
        _ => Vec::new(),
    }
}
