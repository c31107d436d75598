//! After a contingency, somebody is left in kit, or where the hazard is.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::drills::{contingency, finding};
use crate::rules::telling::{Said, capital, listed, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Unfinished;

impl Rule for Unfinished {
    fn name(&self) -> Name {
        Name { family: "drill", word: "unfinished" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unfinished.md")
    }

    /// Told once for each contingency, level and person.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |run: &Run, event: &Event| {
            let is_left = matches!(
                event.what,
                What::LeftOn { .. } | What::NeverTakesOff { .. } | What::LeftHalfOn { .. } | What::EndsInside { .. }
            );
            let (at, _) = contingency(policy, event)?;
            is_left.then_some((run.level, at, event.who))
        };
        for (run, events) in brief.groups(group) {
            let who = the_role(policy, events[0].who);
            let mut left: Vec<String> = Vec::new();
            for event in &events {
                match event.what {
                    What::LeftOn { item } | What::NeverTakesOff { item } | What::LeftHalfOn { item } => {
                        left.push(the_item(policy, item));
                    }
                    _ => {}
                }
            }
            left.dedup();
            let inside = events.iter().find_map(|event| match event.what {
                What::EndsInside { place } => Some(&policy.place(place).name),
                _ => None,
            });
            let state = match (left.as_slice(), inside) {
                ([], Some(place)) => format!("{} is still in the {place}", capital(&who)),
                (items, _) if items.len() > 3 => format!("{} still wears {} items", capital(&who), items.len()),
                (items, _) => format!("{} still wears {}", capital(&who), listed(items)),
            };
            let said = Said {
                title: "The drill does not bring everybody out".to_string(),
                message: format!("What lies on the kit stays with people after the event. {state} when all is over."),
                way_out: "End the drill with `then start \"…\"` and the taking-off that is still to do.".to_string(),
            };
            findings.push(finding(brief, self, run, events[0], said));
        }
    }
}
