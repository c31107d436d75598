//! A move that no declared way allows.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::PlaceKind;
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

    /// Two other rules tell what lies behind some of these: somebody whom no step has sent to the sequence (`place absent`),
    /// and a contaminated place with no way out (`place missing`).
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let shut = !policy.places_without_way_out().is_empty();
        let group = |run: &Run, event: &Event| match event.what {
            What::NoWay { from, to } => {
                let to_clean = policy.place(to).kind == PlaceKind::Clean;
                let no_way_out = shut && to_clean && !policy.leads_to_clean(from);
                (!no_way_out && !is_unsent(run, event)).then_some((event.step, event.who))
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::NoWay { from, to } = events[0].what else { continue };
            let (who, from, to) = (the_role(policy, events[0].who), &policy.place(from).name, &policy.place(to).name);
            let said = Said {
                title: "A move that no way allows".to_string(),
                message: format!(
                    "The hazard is carried where nobody watches for it. From the {from}, where {who} is, no way leads to the \
                     {to}."
                ),
                way_out: format!("Go by the places of a way, or declare it: way {from} to {to}."),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}

fn is_unsent(run: &Run, event: &Event) -> bool {
    let sequence = event.step.map(|step| step.sequence);
    run.events.iter().any(|other| {
        matches!(other.what, What::NotHere { .. })
            && other.who == event.who
            && other.step.map(|step| step.sequence) == sequence
    })
}
