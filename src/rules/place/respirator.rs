//! A tight-fitting respirator comes off where the hazard hangs in the air.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, comes, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Respirator;

impl Rule for Respirator {
    fn name(&self) -> Name {
        Name { family: "place", word: "respirator" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("respirator.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::TakenOffInContaminated { .. } => Some((event.step, event.who)),
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::TakenOffInContaminated { item, place } = events[0].what else { continue };
            let item_words = the_item(policy, item);
            let said = Said {
                title: "A respirator comes off where the hazard is".to_string(),
                message: format!(
                    "{} breathes the air of the {} unprotected. {} {} off there.",
                    capital(&the_role(policy, events[0].who)),
                    policy.place(place).name,
                    capital(&item_words),
                    comes(policy, item)
                ),
                way_out: "Leave the contaminated place first, and close the door behind you.".to_string(),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}
