//! The layer lines of a poster: where each line runs on each face, and where its name stands.
//!
//! In: the layers and where the steps stand. Out: lines and names. A wrong order shows as a line that ends too late, so
//! nothing is put straight here.

use super::sheet::{Line, LineName};
use crate::aids::plan::Layer;

/// Where the steps of one face stand: their numbers and the middle of their rows, and the foot of the last row.
#[derive(Clone, Debug, Default)]
pub(super) struct Steps {
    pub at: Vec<(u32, f64)>,
    pub bottom: f64,
}

/// The measures of the strip, in points.
#[derive(Clone, Debug)]
pub(super) struct Measures {
    /// Radius of a ring with its line.
    pub ring: f64,
    /// Space between a name and its line.
    pub space: f64,
    /// The length of each layer's name.
    pub names: Vec<f64>,
}

/// The strip of one face.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Strip {
    pub lines: Vec<Line>,
    pub names: Vec<LineName>,
    /// How much lower the rows must stand for all names to find room.
    pub wanting: f64,
}

/// The strip of `faces[index]`.
pub(super) fn of(layers: &[Layer], faces: &[Steps], index: usize, measures: &Measures) -> Strip {
    let mut strip = Strip::default();
    let face = &faces[index];
    let on_face = |number: Option<u32>| number.and_then(|number| faces.iter().position(|f| has(f, number)));
    for (column, layer) in layers.iter().enumerate() {
        let (on_at, off_at) = (on_face(layer.from), on_face(layer.to));
        let is_on_before = on_at.is_none_or(|on| on < index) && off_at.is_none_or(|off| off >= index);
        let opens = (on_at == Some(index)).then(|| middle(face, layer.from)).flatten();
        let closes = (off_at == Some(index)).then(|| middle(face, layer.to)).flatten();
        if !is_on_before && opens.is_none() {
            continue;
        }
        let length = measures.names.get(column).copied().unwrap_or_default();
        let (name_top, from, short) = match (opens, closes) {
            (Some(ring), _) => at_ring(ring, closes.unwrap_or(face.bottom), length, measures),
            (None, Some(ring)) => at_end(ring, face.bottom, length, measures),
            (None, None) => (0.0, length + measures.space, (length + measures.space - face.bottom).max(0.0)),
        };
        strip.wanting = strip.wanting.max(short);
        strip.names.push(LineName { layer: column, column, top: name_top, length });
        let to = closes.unwrap_or(face.bottom);
        let goes_on = closes.is_none() && index + 1 < faces.len();
        match opens {
            // The name hangs beneath the ring and the line goes on beneath the name.
            Some(ring) if from > ring => {
                strip.lines.push(Line {
                    column,
                    from: from.min(to),
                    to,
                    opens: false,
                    closes: closes.is_some(),
                    goes_on,
                });
                strip.lines.push(Line { column, from: ring, to: ring, opens: true, closes: false, goes_on: false });
            }
            _ => strip.lines.push(Line {
                column,
                from: from.min(to),
                to,
                opens: opens.is_some(),
                closes: closes.is_some(),
                goes_on,
            }),
        }
    }
    strip
}

/// Where the name of a line stands that comes from above and ends at a ring: at the head of the line, or beneath the ring
/// where the line is shorter than the name.
fn at_end(ring: f64, bottom: f64, length: f64, measures: &Measures) -> (f64, f64, f64) {
    let away = measures.ring + measures.space;
    let from = length + measures.space;
    if from + away <= ring {
        (0.0, from, 0.0)
    } else if ring + away + length <= bottom {
        (ring + away, 0.0, 0.0)
    } else {
        (0.0, from, from + away - ring)
    }
}

/// Where a name stands that begins at a ring: above it where there is room, beneath it otherwise. Its top, where the line
/// goes on, and what is wanting.
fn at_ring(ring: f64, end: f64, length: f64, measures: &Measures) -> (f64, f64, f64) {
    let away = measures.ring + measures.space;
    let above = ring - away - length;
    let beneath = ring + away + length + measures.space;
    if above >= 0.0 {
        (above, ring, 0.0)
    } else if beneath + measures.ring <= end {
        (ring + away, beneath, 0.0)
    } else {
        (0.0, ring, -above)
    }
}

fn has(face: &Steps, number: u32) -> bool {
    face.at.iter().any(|&(at, _)| at == number)
}

fn middle(face: &Steps, number: Option<u32>) -> Option<f64> {
    face.at.iter().find(|(at, _)| Some(*at) == number).map(|&(_, y)| y)
}

#[cfg(test)]
mod tests {
    use super::{Measures, Steps, of};
    use crate::aids::plan::Layer;

    fn layer(from: Option<u32>, to: Option<u32>) -> Layer {
        Layer { name: "Gown".into(), from, to }
    }

    fn faces() -> Vec<Steps> {
        vec![
            Steps { at: vec![(1, 50.0), (2, 150.0)], bottom: 200.0 },
            Steps { at: vec![(3, 50.0), (4, 150.0)], bottom: 200.0 },
        ]
    }

    fn measures() -> Measures {
        Measures { ring: 5.0, space: 2.0, names: vec![30.0; 4] }
    }

    #[test]
    fn a_line_runs_on_over_the_faces_until_its_ring() {
        let layers = [layer(None, Some(1)), layer(None, Some(4)), layer(Some(2), None), layer(Some(3), Some(4))];
        let first = of(&layers, &faces(), 0, &measures());
        let runs = |strip: &super::Strip| -> Vec<(usize, f64, f64, bool, bool)> {
            strip.lines.iter().map(|l| (l.column, l.from, l.to, l.opens, l.closes)).collect()
        };
        assert_eq!(
            runs(&first),
            [(0, 32.0, 50.0, false, true), (1, 32.0, 200.0, false, false), (2, 150.0, 200.0, true, false)]
        );
        let second = of(&layers, &faces(), 1, &measures());
        assert_eq!(
            runs(&second),
            [(1, 32.0, 150.0, false, true), (2, 32.0, 200.0, false, false), (3, 50.0, 150.0, true, true)]
        );
        assert_eq!(second.names.len(), 3);
        assert_eq!((first.wanting, second.wanting), (0.0, 0.0));
    }

    #[test]
    fn a_name_without_room_asks_for_it() {
        let long = Measures { names: vec![60.0], ..measures() };
        let off_at_once = of(&[layer(None, Some(1))], &faces(), 0, &long);
        assert_eq!((off_at_once.wanting, off_at_once.names[0].top, off_at_once.lines[0].from), (0.0, 57.0, 0.0));
        let off_below = of(&[layer(None, Some(2))], &faces(), 0, &Measures { names: vec![150.0], ..measures() });
        assert_eq!(off_below.wanting, 152.0 - (150.0 - 7.0));
        let beneath = of(&[layer(Some(1), None)], &faces(), 0, &long);
        assert_eq!((beneath.wanting, beneath.names[0].top, beneath.lines[0].from), (0.0, 57.0, 119.0));
        let neither = of(&[layer(Some(1), Some(2))], &faces(), 0, &Measures { names: vec![110.0], ..measures() });
        assert_eq!(neither.wanting, 67.0);
    }
}
