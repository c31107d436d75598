//! A guess at the letters in which an aid fills one face, from the number of its letters and rows.
//!
//! In: an aid and a ladder. Out: a rung to try first. What is guessed wrong costs a pass through the typesetter and changes
//! nothing on paper: every height is measured.

use serde::Serialize;
use serde_json::Value;

use super::pieces::Part;
use super::sheet::Frame;
use super::sizes::Ladder;
use crate::aids::plan::{Aid, Layout};

/// The highest rung from the start on which one face is likely to hold all; none where it is not likely on any.
pub(super) fn rung(aid: &Aid, parts: &[Part], ladder: &Ladder) -> Option<usize> {
    let (line, row) = of(aid.layout)?;
    let (body, control) = (letters(&aid.body), letters(&aid.control));
    let is_enough = |frame: &Frame| {
        let Frame { sizes, column, .. } = frame;
        let words = line * body * sizes.detail.powi(2) / column;
        let rows = row * parts.len() as f64 * sizes.act;
        let foot = FOOT * control * sizes.foot.powi(2) / (frame.width - 2.0 * frame.side);
        words + rows + foot + HEAD * sizes.title <= frame.height - frame.top - frame.bottom
    };
    (ladder.start..ladder.frames.len()).rfind(|&rung| is_enough(&ladder.frames[rung]))
}

/// By least squares from the heights of 200 aids of the demonstration and the samples: what a letter takes in squares of its
/// size, and a row in heights of its act. They hold within some tenth.
fn of(layout: Layout) -> Option<(f64, f64)> {
    match layout {
        Layout::Card => Some((1.0, 2.2)),
        Layout::Poster => Some((0.4, 2.6)),
        Layout::KitList => Some((0.0, 3.4)),
        Layout::Form => Some((1.8, 1.9)),
        Layout::DoorSign => Some((0.8, 3.6)),
        Layout::ChoicePoster => Some((0.9, 1.8)),
        Layout::AreaPlan => Some((0.2, 3.6)),
        Layout::WalkChart | Layout::Review => None,
    }
}

/// The same of the foot's letters, and the height of the head in titles.
const FOOT: f64 = 0.55;
const HEAD: f64 = 4.5;

/// The letters of all texts in it.
fn letters(words: &impl Serialize) -> f64 {
    fn count(value: &Value) -> usize {
        match value {
            Value::String(words) => words.chars().count(),
            Value::Array(values) => values.iter().map(count).sum(),
            Value::Object(fields) => fields.values().map(count).sum(),
            _ => 0,
        }
    }
    serde_json::to_value(words).map_or(0.0, |value| count(&value) as f64)
}
