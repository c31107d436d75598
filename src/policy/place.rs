//! Zones and the permitted moves between them.

use serde::Serialize;

use super::PlaceId;
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
