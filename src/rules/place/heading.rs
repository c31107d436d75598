//! The heading of a putting-on or taking-off names another place than the one in which it happens.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::SequenceId;
use crate::rules::headings::{dresses_with_the_hazard, really_in};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Heading;

impl Rule for Heading {
    fn name(&self) -> Name {
        Name { family: "place", word: "heading" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("heading.md")
    }

    /// A putting-on that is written for a contaminated place is told by `place sequence`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for at in 0..policy.sequences.len() {
            let id = SequenceId::new(at);
            let sequence = policy.sequence(id);
            let (Some(named), Some(really)) = (sequence.place, really_in(policy, id)) else { continue };
            if brief.walk.runs.iter().any(|run| dresses_with_the_hazard(policy, run, id)) {
                continue;
            }
            let (named, really) = (&policy.place(named).name, &policy.place(really).name);
            let said = Said {
                title: "The heading names another place than the steps".to_string(),
                message: format!(
                    "People bare skin in the wrong place when they trust the heading. It says {named}; all kit moves in the {really}."
                ),
                way_out: format!("Write “in {really}” in this line, if the steps are right."),
            };
            findings.push(plain(self, sequence.span, said));
        }
    }
}
