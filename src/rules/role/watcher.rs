//! Somebody who only watches touches another, or what that one wears.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Watcher;

impl Rule for Watcher {
    fn name(&self) -> Name {
        Name { family: "role", word: "watcher" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("watcher.md")
    }

    /// Told once for each pair, at the first step, and at DANGER where a bare hand meets the hazard itself.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::Handles { other } => {
                let actor = policy.role(event.actor);
                (actor.watches && !actor.helps.contains(&other)).then_some((event.actor, other))
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::Handles { other } = events[0].what else { continue };
            let (watcher, other) = (the_role(policy, events[0].actor), the_role(policy, other));
            let said = Said {
                title: "Somebody who only watches touches here".to_string(),
                message: format!(
                    "{} can carry the hazard away on hands and clothes. That role only watches, and here it handles {other}'s \
                     kit.",
                    capital(&watcher)
                ),
                way_out: format!("Give this step to somebody who helps {other} and wears kit for it."),
            };
            findings.push(brief.by_bare_hand(brief.finding_of_all(self, run, &events, said), run, &events));
        }
    }
}
