//! The square code beside the document control: a QR code (ISO/IEC 18004), level M.
//!
//! In: its text. Out: a drawing and its measures. Must never choose what the code says.

use qrcode::bits::{self, Bits};
use qrcode::render::svg;
use qrcode::{EcLevel, QrCode, Version};
use serde::Serialize;

use super::colours;

/// Light modules around the code on every side, as ISO/IEC 18004 asks.
const QUIET: usize = 4;

/// A module in sizes of the letters beside it: 0.42 mm beside letters of 9 points, so that a copy printed at 97 % still has
/// modules of 0.4 mm. The quiet zone is then less than the space above the foot's words.
const MODULE: f64 = 0.1325;

/// The square code beside letters of some size.
#[derive(Serialize)]
pub(super) struct Square {
    /// An SVG, quiet zone included; empty while only its room is wanted.
    pub drawing: String,
    /// The code's dark and light modules and the quiet zone on each side, in points.
    pub side: f64,
    pub quiet: f64,
}

/// The room that it takes. `letters`: the size of the words beside it, in points. None where the text is longer than any code
/// can hold.
pub(super) fn room(text: &str, letters: f64) -> Option<Square> {
    let modules = f64::from(bits(text)?.version().width());
    let module = MODULE * letters;
    Some(Square { drawing: String::new(), side: modules * module, quiet: QUIET as f64 * module })
}

/// The same with its drawing, of which the best of eight masks costs most.
pub(super) fn drawn(text: &str, letters: f64) -> Option<Square> {
    let code = QrCode::with_bits(bits(text)?, EcLevel::M).ok()?;
    let drawing = code
        .render::<svg::Color>()
        .quiet_zone(true)
        .module_dimensions(1, 1)
        .dark_color(svg::Color(colours::INK))
        .light_color(svg::Color(colours::PAPER))
        .build();
    Some(Square { drawing, ..room(text, letters)? })
}

/// The text as the smallest code holds it. Letters beyond ASCII are announced as UTF-8, or a scanner has to guess.
fn bits(text: &str) -> Option<Bits> {
    const UTF_8: u32 = 26;
    if text.is_ascii() {
        return bits::encode_auto(text.as_bytes(), EcLevel::M).ok();
    }
    (1..=40).map(Version::Normal).find_map(|version| {
        let mut bits = Bits::new(version);
        bits.push_eci_designator(UTF_8).ok()?;
        bits.push_byte_data(text.as_bytes()).ok()?;
        bits.push_terminator(EcLevel::M).ok()?;
        Some(bits)
    })
}

#[cfg(test)]
mod tests {
    use super::super::sheet::MM;
    use super::{QUIET, drawn, room};

    /// Dark and light modules on a side, and the millimetres of one.
    fn measured(text: &str, letters: f64) -> (usize, f64) {
        let room = room(text, letters).expect("it fits a code");
        let module = room.quiet / QUIET as f64;
        ((room.side / module).round() as usize, module / MM)
    }

    /// ISO/IEC 18004, computed with the reference encoder segno 1.6.6: the side is 17 + 4 v modules; level M holds 14 bytes in
    /// version 1, 26 in version 2, 42 in version 3, 62 in version 4.
    #[test]
    fn the_sides_are_those_of_the_standard() {
        for (bytes, modules) in [(14, 21), (15, 25), (26, 25), (27, 29), (42, 29), (43, 33), (62, 33), (63, 37)] {
            assert_eq!(measured(&"a".repeat(bytes), 9.0).0, modules, "{bytes} bytes");
        }
        // Version 40-M: 2,331 bytes, from memory.
        assert_eq!(measured(&"a".repeat(2331), 9.0).0, 177);
        assert!(room(&"a".repeat(2332), 9.0).is_none());
        assert!(drawn(&"a".repeat(2332), 9.0).is_none());
    }

    /// A module of 0.4 mm at least, from memory; in a box of 20 mm a code of version 4 with its quiet zone has 0.488 mm.
    #[test]
    fn modules_are_large_enough_for_a_phone() {
        assert!(measured("a", 9.0).1 * 0.97 >= 0.4, "beside the least letters, printed at 97 %");
        let box_of = |letters: f64| room(&"a".repeat(62), letters).map(|it| (it.side + 2.0 * it.quiet) / MM);
        let letters = 9.0 * 20.0 / box_of(9.0).expect("a code");
        assert!((measured(&"a".repeat(62), letters).1 - 0.488).abs() < 0.0005);
    }

    /// The drawing is as many units wide as the code with four light modules on every side (ISO/IEC 18004), and as many as its
    /// room was reckoned for.
    #[test]
    fn the_drawing_holds_its_quiet_zone() {
        let drawing = drawn(&"a".repeat(42), 9.0).expect("a code").drawing;
        assert!(drawing.contains("viewBox=\"0 0 37 37\""), "{drawing}");
        let texts = (0..380).step_by(7).flat_map(|length| ["a", "7", "A1", "é", "हि"].map(|word| word.repeat(length)));
        for text in texts {
            let units = measured(&text, 9.0).0 + 2 * QUIET;
            let drawing = drawn(&text, 9.0).expect("a code").drawing;
            assert!(drawing.contains(&format!("viewBox=\"0 0 {units} {units}\"")), "{text}");
        }
    }
}
