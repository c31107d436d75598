//! A step is given less time than its own cleaning takes.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Policy, Seconds, Step};
use crate::rules::telling::{Said, capital, plain};
use crate::rules::{Brief, Rule};

pub struct Wet;

impl Rule for Wet {
    fn name(&self) -> Name {
        Name { family: "time", word: "wet" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("wet.md")
    }

    /// A cleaning that is too short for its cleaner by its own time is told by `hygiene short`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let drills = policy.contingencies.iter().flat_map(|drill| &drill.steps);
        for step in policy.sequences.iter().flat_map(|sequence| &sequence.steps).chain(drills) {
            let (Some(takes), Some((needs, cleaner))) = (step.prompts.takes, cleaning(policy, step)) else { continue };
            if takes >= needs {
                continue;
            }
            let said = Said {
                title: "The step ends before the cleaning does".to_string(),
                message: format!(
                    "What is not wet for long enough is not clean, and the next touch passes it on. {} needs {needs} here; the \
                     step takes {takes}.",
                    capital(cleaner)
                ),
                way_out: format!("Write `takes {needs}` or longer."),
            };
            findings.push(plain(self, step.span, said));
        }
    }
}

/// How long the cleaning of a step lasts: as the step says, or else as its cleaner says.
fn cleaning<'a>(policy: &'a Policy, step: &Step) -> Option<(Seconds, &'a str)> {
    let (Act::CleanHands(with) | Act::Wipe { with, .. } | Act::Spray { with, .. }) = &step.act else { return None };
    let cleaner = policy.cleaner(with.cleaner);
    Some((with.time.or(cleaner.wet_for)?, &cleaner.name))
}
