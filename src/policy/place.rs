//! Zones and the permitted moves between them.

use serde::Serialize;

use super::{PlaceId, Policy};
pub use crate::syntax::tree::PlaceKind;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Place {
    pub name: String,
    #[serde(serialize_with = "kind_word")]
    pub kind: PlaceKind,
    #[serde(skip)]
    pub span: Span,
}

/// `way A to B to C`: the places in order; each neighbouring pair is a permitted move in that direction.
#[derive(Clone, Debug, Serialize)]
pub struct Way {
    pub places: Vec<PlaceId>,
    #[serde(skip)]
    pub span: Span,
}

impl Policy {
    /// Contaminated places on the ways from which, in any number of moves, no clean place is reached.
    pub fn places_without_way_out(&self) -> Vec<PlaceId> {
        let on_a_way = |id: &PlaceId| self.ways.iter().any(|way| way.places.len() > 1 && way.places.contains(id));
        let contaminated = |id: &PlaceId| self.place(*id).kind == PlaceKind::Contaminated;
        let ids = (0..self.places.len()).map(PlaceId::new);
        ids.filter(contaminated).filter(on_a_way).filter(|&id| !self.leads_to_clean(id)).collect()
    }

    /// Whether the ways lead from a place to a clean one, in any number of moves.
    pub fn leads_to_clean(&self, from: PlaceId) -> bool {
        let mut known = vec![from];
        let mut at = 0;
        while let Some(&here) = known.get(at) {
            at += 1;
            if self.place(here).kind == PlaceKind::Clean {
                return true;
            }
            for pair in self.ways.iter().flat_map(|way| way.places.windows(2)) {
                if pair[0] == here && !known.contains(&pair[1]) {
                    known.push(pair[1]);
                }
            }
        }
        false
    }
}

impl PlaceKind {
    pub fn words(self) -> &'static str {
        match self {
            PlaceKind::Clean => "clean",
            PlaceKind::Contaminated => "contaminated",
            PlaceKind::ForPuttingOn => "for putting on",
            PlaceKind::ForTakingOff => "for taking off",
        }
    }
}

fn kind_word<S: serde::Serializer>(kind: &PlaceKind, serializer: S) -> Result<S::Ok, S::Error> {
    serializer.serialize_str(kind.words())
}
