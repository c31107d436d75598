//! A place in use that no way names.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, PlaceId, Policy};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Apart;

impl Rule for Apart {
    fn name(&self) -> Name {
        Name { family: "place", word: "apart" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("apart.md")
    }

    /// A move to or from such a place is told where it is made: `place way`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let named = |id: PlaceId| policy.ways.iter().any(|way| way.places.contains(&id));
        for (at, place) in policy.places.iter().enumerate() {
            let id = PlaceId::new(at);
            let is_faulty = !policy.ways.is_empty() && !named(id) && is_used(policy, id) && !is_told(brief, id);
            if !is_faulty || policy.ways.iter().any(|way| brief.has_problem_in(way.span)) {
                continue;
            }
            let said = Said {
                title: "No way leads to or from a place in use".to_string(),
                message: format!(
                    "People reach the {} by a way that nobody has planned. The ways name other places only.",
                    place.name
                ),
                way_out: format!("Add the {} to the way that leads through it.", place.name),
            };
            findings.push(plain(self, place.span, said));
        }
    }
}

fn is_used(policy: &Policy, id: PlaceId) -> bool {
    let steps = policy.sequences.iter().flat_map(|sequence| &sequence.steps);
    policy.sequences.iter().any(|sequence| sequence.place == Some(id))
        || steps.into_iter().any(|step| step.act == Act::Go(id))
        || policy.containers.iter().any(|container| container.place == Some(id))
        || policy.surfaces.iter().any(|surface| surface.place == Some(id))
}

fn is_told(brief: &Brief, id: PlaceId) -> bool {
    brief.events().any(|(_, event)| matches!(event.what, What::NoWay { from, to } if from == id || to == id))
}
