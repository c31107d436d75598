//! Letter sizes and margins for each layout and paper.
//!
//! In: an aid. Out: frames to try, from the smallest letters to the largest, and the one to begin with.

use super::legibility;
use super::sheet::{Frame, MM, Sizes};
use crate::aids::plan::{Aid, Body, Layout};
use crate::policy::PaperSize;

/// Frames that differ in their letters only.
pub(super) struct Ladder {
    pub frames: Vec<Frame>,
    /// Letters at which the aid is divided into faces first; smaller ones serve only where a row fits no face.
    pub start: usize,
}

/// Nothing that must be read is set smaller.
const SMALLEST: f64 = 9.0;

/// From where a poster is read if the policy does not say.
const POSTER_DISTANCE_MM: f64 = 1000.0;

pub(super) fn ladder(aid: &Aid) -> Ladder {
    match aid.layout {
        Layout::Poster => {
            let distance = aid.read_from_mm.map_or(POSTER_DISTANCE_MM, f64::from);
            let act = legibility::points(distance, legibility::PREFERRED).max(SMALLEST / 0.8);
            let detail = legibility::points(distance, legibility::LEAST).max(SMALLEST);
            let steps = (0..16).map(|step| 1.06f64.powi(step));
            Ladder { frames: steps.map(|larger| poster(aid, act * larger, detail * larger)).collect(), start: 0 }
        }
        Layout::Card => hand_held(aid, &[10.0, 10.5, 11.0, 11.5, 12.0, 12.5, 13.0, 13.5, 14.0, 15.0], 3),
        Layout::KitList => hand_held(aid, &[10.0, 10.5, 11.0, 11.5, 12.0, 12.5, 13.0, 14.0, 15.0], 3),
    }
}

fn poster(aid: &Aid, act: f64, detail: f64) -> Frame {
    let (width, height) = paper(aid.paper);
    let side = 0.05 * width;
    let measure = width - 2.0 * side;
    let lines = match &aid.body {
        Body::Steps(steps) => steps.layers.len(),
        Body::Kit(_) => 0,
    };
    // The strip takes at most a quarter of the measure.
    let name_size = (0.24 * measure / (lines.max(1) as f64 * 1.5)).clamp(SMALLEST, detail.max(SMALLEST));
    let pitch = 1.5 * name_size;
    let strip = if lines == 0 { 0.0 } else { (lines as f64 + 0.6) * pitch };
    Frame {
        width,
        height,
        side,
        top: 0.05 * width,
        bottom: 0.042 * width,
        column: measure - strip,
        lines,
        pitch,
        name_size,
        slot: false,
        sizes: Sizes { act, detail, title: 2.1 * act, foot: (width / MM / 29.7).max(SMALLEST) },
    }
}

fn hand_held(aid: &Aid, acts: &[f64], start: usize) -> Ladder {
    let (width, height) = paper(aid.paper);
    let slot = aid.layout == Layout::Card && aid.laminated && matches!(aid.paper, PaperSize::A6 | PaperSize::A7);
    let side = (0.062 * width).clamp(5.0 * MM, 12.0 * MM);
    let frame = |act: f64| Frame {
        width,
        height,
        side,
        top: if slot { 13.5 * MM } else { side * 1.1 },
        bottom: side * 0.9,
        column: width - 2.0 * side,
        lines: 0,
        pitch: 0.0,
        name_size: 0.0,
        slot,
        sizes: Sizes { act, detail: (0.84 * act).max(SMALLEST), title: 1.5 * act, foot: SMALLEST },
    };
    // Larger paper is held no nearer.
    let larger = (width / MM / 148.0).max(1.0).sqrt();
    Ladder { frames: acts.iter().map(|act| frame(act * larger)).collect(), start }
}

fn paper(size: PaperSize) -> (f64, f64) {
    let (width, height) = size.millimetres();
    (f64::from(width) * MM, f64::from(height) * MM)
}
