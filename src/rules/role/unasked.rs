//! Somebody touches another without being declared to help that one.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Unasked;

impl Rule for Unasked {
    fn name(&self) -> Name {
        Name { family: "role", word: "unasked" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unasked.md")
    }

    /// Told once for each pair, at the first step. Those who watch are the matter of `role watcher`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::Handles { other } => {
                let actor = policy.role(event.actor);
                (!actor.watches && !actor.helps.contains(&other)).then_some((event.actor, other))
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::Handles { other } = events[0].what else { continue };
            let (actor, other) = (the_role(policy, events[0].actor), the_role(policy, other));
            let said = Said {
                title: "Nobody has said that these two touch".to_string(),
                message: format!(
                    "Both can carry the hazard to each other unnoticed. {} handles {other}'s kit, and is not declared to help.",
                    capital(&actor)
                ),
                way_out: format!(
                    "Write “helps {}” beneath the role {}, or give the step to somebody who helps.",
                    other.trim_start_matches("the "),
                    actor.trim_start_matches("the ")
                ),
            };
            let mut finding = brief.finding(self, run, events[0], said);
            finding.related.extend(brief.further(&events[1..]));
            findings.push(finding);
        }
    }
}
