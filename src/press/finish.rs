//! What happens to a piece after printing: cutting, film, the slot for a lanyard.
//!
//! In: sizes in millimetres, films in micrometres. Out: the same. Must never let a slot or a film's edge reach words.

use super::imposition::Extent;

/// A slot that lanyard clips go through (from memory: 14 by 3 mm, its edge 3 to 5 mm from that of the card or more).
pub mod slot {
    pub const WIDTH: f64 = 14.0;
    pub const HEIGHT: f64 = 3.0;
    /// From the upper edge of the card.
    pub const FROM_EDGE: f64 = 5.5;
    /// Nothing is printed nearer to the slot.
    pub const CLEAR: f64 = 5.0;
    /// What is printed begins beneath this.
    pub const KEEP_OUT: f64 = FROM_EDGE + HEIGHT + CLEAR;
}

/// Film that stands over the paper on every side, to be sealed: suppliers ask for 3 mm, and warn beneath 2.
pub const FILM_EDGE: f64 = 3.0;
pub const LEAST_FILM_EDGE: f64 = 2.0;

/// Micrometres of film on each side, and of paper, where the hospital asks for nothing else (common practice, no source).
pub const FILM: u32 = 125;
pub const PAPER: u32 = 100;

/// The film of a piece of that size.
pub fn pouch(trim: Extent) -> Extent {
    trim.grown(FILM_EDGE)
}

/// Film beyond the paper on each side, and whether it is enough to seal.
pub fn seal(trim: Extent, pouch: Extent) -> (f64, bool) {
    let edge = ((pouch.width - trim.width) / 2.0).min((pouch.height - trim.height) / 2.0);
    (edge, edge >= LEAST_FILM_EDGE - 1e-9)
}

/// Film is named by one of its two sides.
pub fn thickness(film: u32, paper: u32) -> u32 {
    2 * film + paper
}

/// How much a trimmed length may differ from that of its paper size (ISO 216).
pub fn tolerance(length: f64) -> f64 {
    match length {
        short if short <= 150.0 => 1.5,
        long if long > 600.0 => 3.0,
        _ => 2.0,
    }
}
