//! Somebody who is gone or lies unconscious is to act or to confirm.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::drills::contingency;
use crate::rules::telling::{Said, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Alone;

impl Rule for Alone {
    fn name(&self) -> Name {
        Name { family: "drill", word: "alone" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("alone.md")
    }

    /// Told once for each contingency and person, at the first step that needs them.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let group = |run: &Run, event: &Event| match event.what {
            What::CannotAct => contingency(brief.policy, event).map(|(at, _)| (run.level, at, event.who)),
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let who = the_role(brief.policy, events[0].who);
            let said = Said {
                title: "This step needs somebody who is gone".to_string(),
                message: format!(
                    "The others wait in contaminated kit for a hand that does not come. By then {who} cannot act any more."
                ),
                way_out: format!("In the drill, say who takes the place of {who}, and give the steps to that role."),
            };
            findings.push(brief.finding_of_all(self, run, &events, said));
        }
    }
}
