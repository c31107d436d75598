//! A hold waits for somebody who has taken off and left.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Nobody;

impl Rule for Nobody {
    fn name(&self) -> Name {
        Name { family: "role", word: "nobody" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("nobody.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::ConfirmerGone { role, .. } => Some((event.step, role)),
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::ConfirmerGone { role, place } = events[0].what else { continue };
            let (waits, gone) = (the_role(policy, events[0].who), the_role(policy, role));
            let said = Said {
                title: "Nobody is left to confirm this hold".to_string(),
                message: format!(
                    "{} stands in contaminated kit and waits for nobody. {} has taken off and gone to the {}.",
                    capital(&waits),
                    capital(&gone),
                    policy.place(place).name
                ),
                way_out: "Let somebody confirm who is still there, or let that one leave later.".to_string(),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}
