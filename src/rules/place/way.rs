//! A move that no declared way allows.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{PlaceId, PlaceKind, Policy};
use crate::rules::headings::really_in;
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

    /// Other rules tell what lies behind some of these: somebody whom no step has sent to the sequence (`place absent`), a
    /// contaminated place with no way out (`place missing`), and a heading that names another place (`place heading`).
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let shut = !policy.places_without_way_out().is_empty();
        let group = |run: &Run, event: &Event| match event.what {
            What::NoWay { from, to } => {
                let to_clean = policy.place(to).kind == PlaceKind::Clean;
                let no_way_out = shut && to_clean && !policy.leads_to_clean(from);
                let is_told = no_way_out || is_unsent(run, event) || starts_misnamed(policy, run, (from, to));
                (!is_told).then_some((event.step, event.who))
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

/// From the place of a heading to the one in which its kit really moves.
fn starts_misnamed(policy: &Policy, run: &Run, (from, to): (PlaceId, PlaceId)) -> bool {
    let mut sequences = run.putting_on.iter().chain(&run.taking_off);
    sequences.any(|&id| policy.place_of(id) == Some(from) && really_in(policy, id) == Some(to))
}
