//! A putting-on sequence is written for a contaminated place.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::SequenceId;
use crate::rules::headings::dresses_with_the_hazard;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Sequence;

impl Rule for Sequence {
    fn name(&self) -> Name {
        Name { family: "place", word: "sequence" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("sequence.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let of = |run| move |&&id: &&SequenceId| dresses_with_the_hazard(policy, run, id);
        for &id in brief.walk.runs.iter().flat_map(|run| run.putting_on.iter().filter(of(run))) {
            let sequence = policy.sequence(id);
            let Some(place) = sequence.place.map(|place| policy.place(place)) else { continue };
            let said = Said {
                title: "Putting on is written for a contaminated place".to_string(),
                message: format!(
                    "Skin and the inside of the kit meet the hazard before they are covered. The {} is contaminated.",
                    place.name
                ),
                way_out: "Name a clean place, or a place for putting on, in this line.".to_string(),
            };
            findings.push(plain(self, sequence.span, said));
        }
    }
}
