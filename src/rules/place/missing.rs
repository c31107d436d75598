//! From a contaminated place no way leads to a clean one.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::PlaceKind;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Missing;

impl Rule for Missing {
    fn name(&self) -> Name {
        Name { family: "place", word: "missing" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("missing.md")
    }

    /// A policy without ways, or without a clean place, says nothing about moves. A place that no way names at all is told
    /// by `place apart`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        if !policy.places.iter().any(|place| place.kind == PlaceKind::Clean) {
            return;
        }
        if policy.ways.iter().any(|way| brief.has_problem_in(way.span)) {
            return;
        }
        for place in policy.places_without_way_out().into_iter().map(|id| policy.place(id)) {
            let said = Said {
                title: "No way leads out to a clean place".to_string(),
                message: format!(
                    "Whoever is in the {} has no planned way out. No way leads from there to any clean place.",
                    place.name
                ),
                way_out: format!(
                    "Declare it: way {} to the place for taking off, and on to a clean place.",
                    place.name
                ),
            };
            findings.push(plain(self, place.span, said));
        }
    }
}
