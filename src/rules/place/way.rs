//! A move that no declared way allows.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Way;

impl Rule for Way {
    fn name(&self) -> Name {
        Name { family: "place", word: "way" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("way.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::NoWay { .. } => Some((event.step, event.who)),
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::NoWay { from, to } = events[0].what else { continue };
            let (who, from, to) = (the_role(policy, events[0].who), &policy.place(from).name, &policy.place(to).name);
            let said = Said {
                title: "A move that no way allows".to_string(),
                message: format!(
                    "The hazard is carried where nobody watches for it. By the steps so far {who} is in the {from}, and no way \
                     leads to the {to}."
                ),
                way_out: format!("Go by the places of a way, or declare it: way {from} to {to}."),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}
