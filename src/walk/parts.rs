//! Where the parts lie that are taken hold of: a table of the trade's words.
//!
//! In: a part's name and its item. Out: the area it lies on, or the item's own front. A policy's `grip … on AREA` comes
//! first. Common practice, no source, but for the rows that name one.

use crate::policy::{Area, Grip, Item, Lies};

/// Where a part lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lie {
    /// Part of the item's front: contaminated whenever the front is.
    Front,
    Back,
    Inside,
    /// On this area, at the back or the side: shielded by whatever is put on later over that area.
    On(Area),
}

/// Words of a part's name, and where such a part lies on an item that covers the face, a garment, or the feet.
/// The first row that fits decides.
const TABLE: &[(&str, Lie, Lie, Lie)] = &[
    // word            face item            garment              feet, legs
    ("inside", Lie::Inside, Lie::Inside, Lie::Inside),
    ("front", Lie::Front, Lie::Front, Lie::Front),
    ("outside", Lie::Front, Lie::Front, Lie::Front),
    ("zip", Lie::Front, Lie::Front, Lie::Front),
    ("flap", Lie::Front, Lie::Front, Lie::Front),
    ("neck", Lie::On(Area::Neck), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("strap", Lie::On(Area::Hair), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("headband", Lie::On(Area::Hair), Lie::On(Area::Hair), Lie::On(Area::Hair)),
    ("band", Lie::On(Area::Hair), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("loop", Lie::On(Area::Hair), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("elastic", Lie::On(Area::Hair), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("crown", Lie::On(Area::Hair), Lie::On(Area::Hair), Lie::On(Area::Hair)),
    ("rear", Lie::Back, Lie::Back, Lie::Back),
    // Headband or ear pieces: CDC 2014 (GUIDANCE.md A4). The arms of spectacles and goggles lie there too.
    ("ear", Lie::On(Area::Hair), Lie::Front, Lie::Front),
    ("arms", Lie::On(Area::Hair), Lie::Front, Lie::Front),
    // Visor by headband or sides: PHE, UHB (GUIDANCE.md A3).
    ("side", Lie::On(Area::Hair), Lie::Front, Lie::Front),
    ("tie", Lie::On(Area::Hair), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("string", Lie::On(Area::Hair), Lie::On(Area::Neck), Lie::On(Area::Legs)),
    ("shoulder", Lie::Front, Lie::On(Area::Neck), Lie::Front),
    ("back", Lie::Back, Lie::Back, Lie::Back),
    ("cuff", Lie::Front, Lie::On(Area::Arms), Lie::On(Area::Legs)),
    ("sleeve", Lie::Front, Lie::Front, Lie::Front),
    ("heel", Lie::Front, Lie::Front, Lie::Front),
];

/// An unlisted part lies on the front: the worse of the guesses.
pub fn lies(part: &str, item: &Item) -> Lie {
    if let Some(Grip { lies: Lies::On(area), .. }) = item.grips.iter().find(|grip| grip.part == part) {
        return Lie::On(*area);
    }
    // The cuff of a glove is part of its outside.
    if item.covers.has(Area::Hands) && part.contains("cuff") {
        return Lie::Front;
    }
    let Some((_, face, garment, feet)) = TABLE.iter().find(|(word, ..)| part.contains(word)) else { return Lie::Front };
    if item.covers.iter().any(Area::is_head) {
        *face
    } else if is_garment(item) {
        *garment
    } else {
        *feet
    }
}

/// Covers trunk, arms or legs: what is rolled off, and what a hand may brush against as it goes.
pub fn is_garment(item: &Item) -> bool {
    [Area::Trunk, Area::Arms, Area::Legs].into_iter().any(|area| item.covers.has(area))
}
