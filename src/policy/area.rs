//! The areas of the body, and sets of them.

use serde::Serialize;

/// From the head downwards; the order in which people are told of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Area {
    Hair,
    Face,
    Eyes,
    Nose,
    Mouth,
    Neck,
    Trunk,
    Arms,
    Hands,
    Legs,
    Feet,
}

impl Area {
    pub const ALL: [Area; 11] = [
        Area::Hair,
        Area::Face,
        Area::Eyes,
        Area::Nose,
        Area::Mouth,
        Area::Neck,
        Area::Trunk,
        Area::Arms,
        Area::Hands,
        Area::Legs,
        Area::Feet,
    ];

    pub fn word(self) -> &'static str {
        match self {
            Area::Hair => "hair",
            Area::Face => "face",
            Area::Eyes => "eyes",
            Area::Nose => "nose",
            Area::Mouth => "mouth",
            Area::Neck => "neck",
            Area::Trunk => "trunk",
            Area::Arms => "arms",
            Area::Hands => "hands",
            Area::Legs => "legs",
            Area::Feet => "feet",
        }
    }

    pub fn from_word(word: &str) -> Option<Area> {
        Area::ALL.into_iter().find(|area| area.word() == word)
    }

    /// What `keep face` speaks of: the mucous membranes and the skin around them.
    pub fn is_face(self) -> bool {
        matches!(self, Area::Face | Area::Eyes | Area::Nose | Area::Mouth)
    }

    /// Where a removal brings the hand near: the head and neck.
    pub fn is_head(self) -> bool {
        self.is_face() || matches!(self, Area::Hair | Area::Neck)
    }
}

/// A set of areas.
#[derive(Clone, Copy, Default, PartialEq, Eq, Hash)]
pub struct Areas(u16);

impl Areas {
    pub const NONE: Areas = Areas(0);

    pub fn of(areas: impl IntoIterator<Item = Area>) -> Areas {
        Areas(areas.into_iter().fold(0, |bits, area| bits | 1 << area as u16))
    }
    pub fn has(self, area: Area) -> bool {
        self.0 & 1 << area as u16 != 0
    }
    pub fn and(self, other: Areas) -> Areas {
        Areas(self.0 & other.0)
    }
    pub fn or(self, other: Areas) -> Areas {
        Areas(self.0 | other.0)
    }
    pub fn without(self, other: Areas) -> Areas {
        Areas(self.0 & !other.0)
    }
    pub fn is_empty(self) -> bool {
        self.0 == 0
    }
    pub fn iter(self) -> impl Iterator<Item = Area> {
        Area::ALL.into_iter().filter(move |&area| self.has(area))
    }
}

impl std::fmt::Debug for Areas {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_set().entries(self.iter()).finish()
    }
}

impl Serialize for Areas {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_seq(self.iter())
    }
}
