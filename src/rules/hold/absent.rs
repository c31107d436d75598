//! A contaminated place is entered, and nobody has looked since the last item went on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Absent;

impl Rule for Absent {
    fn name(&self) -> Name {
        Name { family: "hold", word: "absent" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("absent.md")
    }

    /// A hold that comes after going in says the same, and more: `hold late` tells of it.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let group = |run: &Run, event: &Event| match event.what {
            What::Unchecked { place } if !is_looked_at_late(run, event) => Some((run.level, event.who, place)),
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let who = the_role(brief.policy, events[0].who);
            let said = Said {
                title: "Nobody checks before going in".to_string(),
                message: format!(
                    "A gap or a tear now shows only beside the hazard. Nobody has checked {who} since the last item went on."
                ),
                way_out: "Add a hold before this step, at which a second person confirms that no skin shows."
                    .to_string(),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}

fn is_looked_at_late(run: &Run, event: &Event) -> bool {
    run.events.iter().any(|other| other.who == event.who && matches!(other.what, What::HoldAfterEntry { .. }))
}
