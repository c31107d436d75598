//! Letter sizes from the distance at which they are read.
//!
//! The visual angle of a capital: 20 minutes of arc is preferred and 16 the least for text that must be read
//! (NUREG-0700, ISO 9241-303 give the same two figures).

use super::fonts::CAPITAL_HEIGHT;
use super::sheet::MM;

/// Capital height in millimetres for letters that fill `minutes` of arc at `distance_mm`.
pub fn capital_height_mm(distance_mm: f64, minutes: f64) -> f64 {
    2.0 * distance_mm * (minutes / 60.0 / 2.0).to_radians().tan()
}

/// The letter size in points whose capitals fill `minutes` of arc at `distance_mm`.
pub(super) fn points(distance_mm: f64, minutes: f64) -> f64 {
    capital_height_mm(distance_mm, minutes) * MM / CAPITAL_HEIGHT
}

/// For what must be read: acts, numbers, holds.
pub(super) const PREFERRED: f64 = 20.0;

/// For the rest of what is read from a distance.
pub(super) const LEAST: f64 = 16.0;

#[cfg(test)]
mod tests {
    use super::capital_height_mm;

    /// NUREG-0700 rev. 3, character height from visual angle and distance; the figures were computed from its formula.
    #[test]
    fn heights_agree_with_published_values() {
        for (distance, minutes, height) in [
            (1000.0, 20.0, 5.818),
            (500.0, 16.0, 2.327),
            (500.0, 22.0, 3.200),
            (3000.0, 20.0, 17.453),
            (6096.0, 5.0, 8.87),
        ] {
            assert!((capital_height_mm(distance, minutes) - height).abs() < 0.005, "{minutes}' at {distance} mm");
        }
    }
}
