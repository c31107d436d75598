//! Somebody acts on a person who is in another place.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::headings::is_misnamed;
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Elsewhere;

impl Rule for Elsewhere {
    fn name(&self) -> Name {
        Name { family: "role", word: "elsewhere" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("elsewhere.md")
    }

    /// Told once for each pair and pair of places. Who has not been sent to the sequence at all is told by `place absent`,
    /// and a heading that names another place by `place heading`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |run: &Run, event: &Event| match event.what {
            What::Elsewhere { actor_at, other, other_at } if !is_unsent(run, event) && !misnames(brief, event) => {
                Some((event.actor, actor_at, other, other_at))
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::Elsewhere { actor_at, other, other_at } = events[0].what else { continue };
            let (actor, other) = (the_role(policy, events[0].actor), the_role(policy, other));
            let said = Said {
                title: "The two are in different places".to_string(),
                message: format!(
                    "{} waits alone, in kit, for a hand that is not there. {} is in the {}, and {other} is in the {}.",
                    capital(&other),
                    capital(&actor),
                    policy.place(actor_at).name,
                    policy.place(other_at).name
                ),
                way_out: format!("Write before this step where {actor} goes."),
            };
            let mut finding = brief.finding(self, run, events[0], said);
            finding.related.extend(brief.further(&events[1..]));
            findings.push(finding);
        }
    }
}

fn is_unsent(run: &Run, event: &Event) -> bool {
    let sequence = event.step.map(|step| step.sequence);
    run.events.iter().any(|other| {
        matches!(other.what, What::NotHere { .. })
            && (other.who == event.actor
                || matches!(event.what, What::Elsewhere { other: helped, .. } if helped == other.who))
            && other.step.map(|step| step.sequence) == sequence
    })
}

fn misnames(brief: &Brief, event: &Event) -> bool {
    event.step.is_some_and(|at| is_misnamed(brief.policy, at.sequence))
}
