//! The colours: one ink, one tint, and the signal colours of ISO 3864, which serve signals only.
//!
//! The templates know them by name. Every pair of letters on a ground is listed, so that its contrast can be tested.

use std::collections::BTreeMap;

/// The ink, in which the pictograms are drawn too.
pub(super) const INK: &str = "#12181f";

/// What they stand on.
pub(super) const PAPER: &str = "#ffffff";

/// Name and sRGB value. The signal colours are the sRGB values commonly given for RAL 3001 and RAL 1003, and an orange
/// of its own on which black reads well.
pub const COLOURS: [(&str, &str); 17] = [
    ("black", "#000000"),
    ("paper", PAPER),
    ("ink", INK),
    ("soft", "#3c4854"),
    ("line", "#74828f"),
    ("tint", "#e2eef1"),
    ("tile", "#eef2f4"),
    ("watermark", "#e3e5e8"),
    // How near the hazard is on a walk chart, in touches: the nearer, the darker.
    ("tide0", INK),
    ("tide1", "#2b3641"),
    ("tide2", "#414d59"),
    ("tide3", "#66737f"),
    ("tide4", "#84919c"),
    ("tide5", "#a9b4bd"),
    ("danger", "#9b2423"),
    ("warning", "#e8801c"),
    ("caution", "#f9a800"),
];

/// What stands on what: letters, ground and the least contrast by WCAG 2.2 (1.4.6 asks 7 for text, 1.4.11 asks 3 for
/// drawings and lines that carry a meaning).
pub const PAIRS: [(&str, &str, f64); 22] = [
    ("ink", "paper", 7.0),
    ("ink", "tint", 7.0),
    ("ink", "tile", 7.0),
    ("ink", "watermark", 7.0),
    ("soft", "paper", 7.0),
    ("soft", "tint", 7.0),
    ("soft", "watermark", 7.0),
    ("paper", "ink", 7.0),
    ("paper", "danger", 7.0),
    ("danger", "paper", 7.0),
    ("black", "warning", 7.0),
    ("warning", "black", 7.0),
    ("black", "caution", 7.0),
    ("caution", "black", 7.0),
    ("line", "paper", 3.0),
    ("line", "watermark", 3.0),
    // The number stands in the bar up to two touches, and beside it from three on.
    ("paper", "tide0", 7.0),
    ("paper", "tide1", 7.0),
    ("paper", "tide2", 7.0),
    ("tide3", "paper", 3.0),
    ("tide4", "paper", 3.0),
    // Far away, where a small mark is meant to be faint: its number says the same.
    ("tide5", "paper", 2.0),
];

pub(super) fn table() -> BTreeMap<&'static str, &'static str> {
    COLOURS.into_iter().collect()
}

pub fn value(name: &str) -> Option<&'static str> {
    COLOURS.iter().find(|(known, _)| *known == name).map(|&(_, value)| value)
}

/// WCAG 2.2 contrast of two colours written `#rrggbb`.
pub fn contrast(one: &str, other: &str) -> Option<f64> {
    let (one, other) = (luminance(one)?, luminance(other)?);
    Some((one.max(other) + 0.05) / (one.min(other) + 0.05))
}

/// The grey, of 255, that a colour becomes on a printer without colour: its luminance, encoded as sRGB.
pub fn grey(colour: &str) -> Option<u8> {
    let luminance = luminance(colour)?;
    let encoded = if luminance <= 0.003_130_8 { 12.92 * luminance } else { 1.055 * luminance.powf(1.0 / 2.4) - 0.055 };
    Some((encoded * 255.0).round() as u8)
}

/// Relative luminance as WCAG 2.2 defines it for sRGB.
fn luminance(colour: &str) -> Option<f64> {
    let digits = colour.strip_prefix('#').filter(|digits| digits.len() == 6 && digits.is_ascii())?;
    let channel = |at: usize| {
        let value = f64::from(u8::from_str_radix(&digits[at..at + 2], 16).ok()?) / 255.0;
        Some(if value <= 0.04045 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) })
    };
    Some(0.2126 * channel(0)? + 0.7152 * channel(2)? + 0.0722 * channel(4)?)
}

#[cfg(test)]
mod tests {
    use super::{COLOURS, PAIRS, contrast, value};

    /// WCAG 2.2 worked values: black on white is 21; #777777 fails and #767676 passes 4.5; blue and red on white and on
    /// each other; black on yellow.
    #[test]
    fn contrast_agrees_with_published_values() {
        for (one, other, published) in [
            ("#000000", "#ffffff", 21.0),
            ("#777777", "#ffffff", 4.478),
            ("#767676", "#ffffff", 4.542),
            ("#595959", "#ffffff", 7.005),
            ("#0000ff", "#ffffff", 8.592),
            ("#ff0000", "#ffffff", 3.998),
            ("#0000ff", "#ff0000", 2.149),
            ("#9b2423", "#ffffff", 7.864),
            ("#237f52", "#ececE7", 4.190),
            ("#000000", "#f9a800", 10.629),
        ] {
            let computed = contrast(one, other).expect("two colours");
            assert!((computed - published).abs() < 0.001, "{one} on {other}: {computed}, published {published}");
        }
        assert_eq!(contrast("red", "#ffffff"), None);
    }

    #[test]
    fn every_pair_has_its_contrast_and_every_colour_a_pair() {
        for (letters, ground, least) in PAIRS {
            let got = contrast(value(letters).expect(letters), value(ground).expect(ground)).expect("two colours");
            assert!(got >= least, "{letters} on {ground}: {got:.2}, needs {least}");
        }
        for (name, _) in COLOURS {
            assert!(PAIRS.iter().any(|(letters, ground, _)| *letters == name || *ground == name), "{name}");
        }
    }
}
