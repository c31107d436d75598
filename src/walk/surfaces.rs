//! Every surface that the hazard can reach in one run, numbered, with a name for people.

use std::collections::BTreeMap;

use super::body::Piece;
use super::parts::{self, Lie};
use super::quick::QuickMap;
use crate::policy::{Area, ContainerId, ItemId, Policy, RoleId, SurfaceId};

/// A surface, named by what it belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surface {
    Skin {
        who: RoleId,
        area: Area,
    },
    Front {
        who: RoleId,
        piece: Piece,
    },
    Back {
        who: RoleId,
        piece: Piece,
    },
    Inside {
        who: RoleId,
        piece: Piece,
    },
    /// A part that lies elsewhere than on the front; by its place in the run's list of parts of the item.
    Grip {
        who: RoleId,
        piece: Piece,
        part: u8,
    },
    Fixture(SurfaceId),
    Container(ContainerId),
}

/// The numbers of the surfaces of one run.
#[derive(Debug, Default)]
pub struct Surfaces {
    all: Vec<Surface>,
    numbers: QuickMap<Surface, u16>,
    /// The parts of each item that somebody takes hold of.
    parts: BTreeMap<ItemId, Vec<(String, Lie)>>,
}

impl Surfaces {
    /// `pieces`: every item that a person may wear or handle, with the number of copies.
    pub fn new(
        policy: &Policy,
        people: &[RoleId],
        pieces: &[(RoleId, ItemId, u8)],
        gripped: &[(ItemId, String)],
    ) -> Surfaces {
        let mut surfaces = Surfaces::default();
        for (index, item) in policy.items.iter().enumerate() {
            let id = ItemId::new(index);
            let mut names: Vec<&str> = item.grips.iter().map(|grip| grip.part.as_str()).collect();
            names.extend(gripped.iter().filter(|(of, _)| *of == id).map(|(_, part)| part.as_str()));
            let mut parts: Vec<(String, Lie)> = Vec::new();
            for name in names {
                if parts.len() < u8::MAX as usize && !parts.iter().any(|(known, _)| known == name) {
                    parts.push((name.to_string(), parts::lies(name, item)));
                }
            }
            surfaces.parts.insert(id, parts);
        }
        for &who in people {
            for area in Area::ALL {
                surfaces.add(Surface::Skin { who, area });
            }
        }
        for &(who, item, copies) in pieces {
            for copy in 0..copies.max(1) {
                let piece = Piece { item, copy };
                surfaces.add(Surface::Front { who, piece });
                surfaces.add(Surface::Back { who, piece });
                surfaces.add(Surface::Inside { who, piece });
                for part in 0..surfaces.parts[&item].len() {
                    if matches!(surfaces.parts[&item][part].1, Lie::On(_)) {
                        surfaces.add(Surface::Grip { who, piece, part: part as u8 });
                    }
                }
            }
        }
        for index in 0..policy.surfaces.len() {
            surfaces.add(Surface::Fixture(SurfaceId::new(index)));
        }
        for index in 0..policy.containers.len() {
            surfaces.add(Surface::Container(ContainerId::new(index)));
        }
        surfaces
    }

    fn add(&mut self, surface: Surface) {
        if !self.numbers.contains_key(&surface) {
            self.numbers.insert(surface, self.all.len() as u16);
            self.all.push(surface);
        }
    }

    pub fn count(&self) -> usize {
        self.all.len()
    }

    pub fn number(&self, surface: Surface) -> Option<usize> {
        self.numbers.get(&surface).map(|&number| number as usize)
    }

    pub fn at(&self, number: usize) -> Surface {
        self.all[number]
    }

    pub fn iter(&self) -> impl Iterator<Item = (usize, Surface)> {
        self.all.iter().copied().enumerate()
    }

    /// The parts of an item that lie off its front, by number, and the area they lie on.
    pub fn grips(&self, item: ItemId) -> impl Iterator<Item = (u8, Area)> {
        self.parts[&item].iter().enumerate().filter_map(|(at, (_, lie))| match lie {
            Lie::On(area) => Some((at as u8, *area)),
            _ => None,
        })
    }

    /// The surface that is met by whoever takes hold of this part; the front where no part is named.
    pub fn grip(&self, who: RoleId, piece: Piece, part: Option<&str>) -> Surface {
        let front = Surface::Front { who, piece };
        let Some(part) = part else { return front };
        let Some(at) = self.parts[&piece.item].iter().position(|(name, _)| name == part) else { return front };
        match self.parts[&piece.item][at].1 {
            Lie::Front => front,
            Lie::Back => Surface::Back { who, piece },
            Lie::Inside => Surface::Inside { who, piece },
            Lie::On(_) => Surface::Grip { who, piece, part: at as u8 },
        }
    }

    pub fn part_name(&self, item: ItemId, part: u8) -> &str {
        self.parts.get(&item).and_then(|parts| parts.get(part as usize)).map_or("part", |(name, _)| name)
    }

    /// `the front of the wearer's gown`, `the helper's hands`, `the orange clinical waste bag`
    pub fn words(&self, policy: &Policy, surface: Surface) -> String {
        let owner = |who: RoleId| format!("the {}'s", policy.role(who).name);
        let thing = |who: RoleId, piece: Piece| format!("{} {}", owner(who), policy.item(piece.item).name);
        match surface {
            Surface::Skin { who, area: Area::Hands } => format!("{} bare hands", owner(who)),
            Surface::Skin { who, area } => format!("{} {}", owner(who), area.word()),
            Surface::Front { who, piece } => {
                let item = policy.item(piece.item);
                let side =
                    if parts::is_garment(item) || item.covers.iter().any(Area::is_head) { "front" } else { "outside" };
                format!("the {side} of {}", thing(who, piece))
            }
            Surface::Back { who, piece } => format!("the back of {}", thing(who, piece)),
            Surface::Inside { who, piece } => format!("the inside of {}", thing(who, piece)),
            Surface::Grip { who, piece, part } => {
                format!("the {} of {}", self.part_name(piece.item, part), thing(who, piece))
            }
            Surface::Fixture(id) => format!("the {}", policy.surface(id).name),
            Surface::Container(id) => format!("the {}", policy.container(id).name),
        }
    }
}
