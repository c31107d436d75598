//! Planned steps in a contaminated place take longer than the level lets anybody stay.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, known_words, plain, the_role};
use crate::rules::{Brief, Rule};

pub struct Stay;

impl Rule for Stay {
    fn name(&self) -> Name {
        Name { family: "time", word: "stay" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("stay.md")
    }

    /// By what is written alone: a step without a time counts as nothing.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for stay in &brief.walk.times.stays {
            let (sequence, step) = stay.at;
            let said = Said {
                title: "Planned work outlasts the stay allowed".to_string(),
                message: format!(
                    "Whoever stays too long in kit tires and slips. Planned steps keep {} there {}; {} are allowed.",
                    the_role(policy, stay.who),
                    stay.takes,
                    stay.limit
                ),
                way_out: "Share the work between two visits, each within the limit.".to_string(),
            };
            findings.push(Finding {
                case: known_words(policy, &stay.case),
                ..plain(self, policy.sequence(sequence).steps[step].span, said)
            });
        }
    }
}
