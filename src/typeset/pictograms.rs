//! The pictograms: which key stands for which drawing.
//!
//! In: a key such as `gloves` or `gloves_off`. Out: the drawing and its badge. Must never guess: an unknown key has none.
//!
//! To add one: draw it as `pictograms/KEY.svg` and add its key to the table.
//!
//! All are drawn on a grid of 48, in lines 2 wide. Those marked with a star in the table come from healthicons (MIT, its
//! licence lies beside them); the others are this project's own.

/// Whether a key has a drawing: one of [`all`], or an item's with `_on` or `_off`.
pub fn known(key: &str) -> bool {
    find(key).is_some()
}

/// All drawings, in the order of the table.
pub fn all() -> impl Iterator<Item = Drawing> {
    ITEMS.iter().chain(ACTS).copied()
}

/// One drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drawing {
    pub key: &'static str,
    pub svg: &'static str,
}

/// What an item's drawing says besides the item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Badge {
    None,
    /// `_on`: an arrow that goes to the item.
    On,
    /// `_off`: an arrow that leaves it.
    Off,
}

pub fn find(key: &str) -> Option<(Drawing, Badge)> {
    let plain = |table: &[Drawing], key: &str| table.iter().find(|drawing| drawing.key == key).copied();
    if let Some(drawing) = plain(ITEMS, key).or_else(|| plain(ACTS, key)) {
        return Some((drawing, Badge::None));
    }
    let (key, badge) = parted(key);
    plain(ITEMS, key).map(|drawing| (drawing, badge))
}

/// A key without its ending, and the badge that the ending stands for.
pub(super) fn parted(key: &str) -> (&str, Badge) {
    let with = |ending: &str, badge| key.strip_suffix(ending).map(|key| (key, badge));
    with("_on", Badge::On).or_else(|| with("_off", Badge::Off)).unwrap_or((key, Badge::None))
}

impl Badge {
    /// As the templates know it.
    pub(super) fn word(self) -> &'static str {
        match self {
            Badge::None => "none",
            Badge::On => "on",
            Badge::Off => "off",
        }
    }
}

macro_rules! drawings {
    ($($key:literal)*) => {
        &[$(Drawing { key: $key, svg: include_str!(concat!("pictograms/", $key, ".svg")) }),*]
    };
}

/// What is worn. Each also with `_on` (puts it on) and `_off` (takes it off).
#[rustfmt::skip]
const ITEMS: &[Drawing] = drawings![
    "gloves"               // *
    "inner_gloves"
    "outer_gloves"
    "gown"                 // *
    "apron"
    "coverall"             // *
    "scrubs"
    "mask"                 // * flat surgical mask
    "respirator"           // * filtering facepiece
    "reusable_respirator"  // * half mask with filters
    "goggles"              // *
    "face_shield"          // *
    "hood"                 // head and neck cover
    "powered_hood"
    "blower"
    "cap"
    "boots"
    "boot_covers"
    "item"                 // anything else that is worn
];

/// What is done.
#[rustfmt::skip]
const ACTS: &[Drawing] = drawings![
    "hand_rub"             // *
    "hand_wash"            // * with soap and water
    "dry"                  // *
    "wipe"
    "spray"
    "check"                // goes through a list
    "look"                 // * the observer watches
    "go"                   // to another place
    "waste"                // into a bag
    "bin"                  // into a rigid bin
    "sharps_box"
    "reuse_box"
    "connect"
    "disconnect"
    "switch"               // on or off
    "sit"
    "bench"
    "step_onto"
    "step_off"
    "open"
    "close"
    "fold"
    "cut"
    "tie"
    "untie"
    "change"               // takes one off and puts a fresh one on
    "call"
    "helper"               // two people
    "hold"                 // a hand: stop
    "other"
];

#[cfg(test)]
mod tests {
    use super::{Badge, all, find, known};

    #[test]
    fn endings_are_for_items_only() {
        assert!(known("gloves") && known("gloves_on") && known("gloves_off"));
        assert!(known("hand_rub") && !known("hand_rub_off") && !known("") && !known("_off"));
        assert_eq!(find("apron_off").map(|(drawing, badge)| (drawing.key, badge)), Some(("apron", Badge::Off)));
    }

    #[test]
    fn every_drawing_is_on_the_grid_of_48_in_one_ink() {
        for drawing in all() {
            let key = drawing.key;
            assert!(drawing.svg.contains(r#"viewBox="0 0 48 48""#), "{key}");
            assert!(drawing.svg.contains("currentColor") && !drawing.svg.contains('#'), "{key}");
        }
    }
}
