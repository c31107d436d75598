//! From an aid and its letters to finished faces: heights measured, rows divided, and what is left spread over each face.
//!
//! In: an aid and a frame. Out: its faces. Must never divide a row.

use std::ops::Range;

use super::breaking::{self, Block};
use super::fault::Cause;
use super::pieces::{self, Part, Piece, Weight};
use super::setting::{self, Extent};
use super::sheet::{Face, Frame, Placed};
use super::strip;
use crate::aids::plan::{Aid, Body, Layout};

/// What was measured, and where the faces break.
pub(super) struct Divided {
    measured: Measured,
    ranges: Vec<Range<usize>>,
    /// How full the faces are, 1 where nothing is left.
    pub fill: f64,
}

impl Divided {
    pub fn faces(&self) -> usize {
        self.ranges.len()
    }

    #[cfg(test)]
    pub fn foot(&self) -> f64 {
        self.measured.foot
    }

    /// Whether no more than `allowed` faces are needed in another frame, if heights grow with this power of the letters.
    pub fn holds(&self, aid: &Aid, parts: &[Part], [from, to]: [&Frame; 2], power: f64, allowed: usize) -> bool {
        let scaled = self.measured.scaled(from.sizes.grown(&to.sizes).powf(power));
        let blocks = blocks(to, parts, &scaled);
        let rooms = [room(to, &scaled, 0), room(to, &scaled, 1)];
        broken(aid, &blocks, rooms).is_some_and(|ranges| ranges.len() <= allowed)
    }
}

/// Heights of all that can stand on a face.
struct Measured {
    body: Vec<f64>,
    /// The title of each band, continued.
    again: Vec<f64>,
    names: Vec<f64>,
    /// Draft band and head of the first face and of the others.
    marking: [f64; 2],
    head: [f64; 2],
    foot: f64,
}

impl Measured {
    /// The heights that rows would have in letters so much larger, if those alone decided. Heads and feet stay.
    fn scaled(&self, by: f64) -> Measured {
        let all = |heights: &[f64]| heights.iter().map(|height| height * by).collect();
        Measured { body: all(&self.body), again: all(&self.again), names: self.names.clone(), ..*self }
    }
}

/// What was measured in another frame, of which the foot may hold for this, and the head.
pub(super) type Known<'a> = Option<(&'a Frame, &'a Divided)>;

/// `most`: the widest number that a face can have.
pub(super) fn divide(aid: &Aid, frame: &Frame, parts: &[Part], most: usize, known: Known) -> Result<Divided, Cause> {
    let measured = measure(aid, frame, parts, most, known)?;
    let blocks = blocks(frame, parts, &measured);
    let rooms = [room(frame, &measured, 0), room(frame, &measured, 1)];
    let mut wanting = 0.0;
    let mut found: Option<Vec<Range<usize>>> = None;
    // The names of layer lines may ask that the rows stand lower, which leaves less room, which moves the rows: twice
    // is enough, since a face that has granted the room asks for no more.
    for _ in 0..3 {
        let Some(ranges) = broken(aid, &blocks, rooms.map(|room| room - wanting)) else {
            return Err(too_tall(aid, parts, &measured));
        };
        let asked = (0..ranges.len()).map(|face| strip_of(aid, frame, parts, &measured, &ranges, face).wanting);
        let asked = asked.fold(0.0, f64::max);
        found = Some(ranges);
        if asked <= wanting + 0.01 {
            break;
        }
        wanting = asked;
    }
    // An aid without a row still has its face.
    let ranges = found.filter(|ranges| !ranges.is_empty()).unwrap_or_else(|| std::iter::once(0..0).collect());
    let used: f64 = blocks.iter().map(|block| block.height + block.gap).sum();
    let offered = rooms[0] + rooms[1] * ranges.len().saturating_sub(1) as f64;
    Ok(Divided { measured, ranges, fill: (used / offered).clamp(0.1, 1.0) })
}

/// A committee reads the first page first: it is filled. All else is filled evenly.
fn broken(aid: &Aid, blocks: &[Block], [first, others]: [f64; 2]) -> Option<Vec<Range<usize>>> {
    match aid.layout {
        Layout::Review => breaking::one_after_another(blocks, first, others),
        _ => breaking::into_faces(blocks, first, others),
    }
}

fn too_tall(aid: &Aid, parts: &[Part], measured: &Measured) -> Cause {
    let tallest = measured.body.iter().zip(parts).max_by(|(one, _), (other, _)| one.total_cmp(other));
    Cause::TooTall { words: tallest.map(|(_, part)| pieces::words(aid, &part.piece)).unwrap_or_default() }
}

fn measure(aid: &Aid, frame: &Frame, parts: &[Part], most: usize, known: Known) -> Result<Measured, Cause> {
    let titles = parts.iter().filter(|part| part.weight.is_title());
    let bands = titles.map(|part| part.band + 1).max().unwrap_or(0);
    let layers = if aid.layout == Layout::Poster { frame.lines } else { 0 };
    let page = page_words(aid, most, most);
    let mut wanted: Vec<Piece> = parts.iter().map(|part| part.piece.clone()).collect();
    wanted.extend((0..bands).map(|band| Piece::Band { band, continued: true }));
    wanted.extend((0..layers).map(|layer| Piece::Name { layer }));
    // Nothing costs more to measure than the foot: it is as high on every face, and in most layouts in all letters.
    let foot = known.and_then(|(other, known)| Some(frame.foot_grown(other)? * known.measured.foot));
    let above = known.filter(|(other, _)| frame.has_head_of(other)).map(|(_, known)| &known.measured);
    if above.is_none() {
        wanted.extend([true, false].map(|first| Piece::Head { first, page: page.clone() }));
        if aid.marking.is_some() {
            wanted.extend([true, false].map(|first| Piece::Marking { first }));
        }
    }
    if foot.is_none() {
        wanted.push(Piece::Foot { first: true, page });
    }
    let extents: Vec<Extent> = setting::measure(aid, frame, &wanted)?;
    let height = |at: usize| extents.get(at).map_or(0.0, |extent| extent.height);
    let (names, edges) = (parts.len() + bands, parts.len() + bands + layers);
    let two = |at: usize| [height(at), height(at + 1)];
    let marking = if aid.marking.is_none() { [0.0; 2] } else { two(edges + 2) };
    Ok(Measured {
        body: (0..parts.len()).map(height).collect(),
        again: (parts.len()..names).map(height).collect(),
        names: extents.get(names..edges).unwrap_or_default().iter().map(|extent| extent.width).collect(),
        marking: above.map_or(marking, |known| known.marking),
        head: above.map_or(two(edges), |known| known.head),
        foot: foot.unwrap_or_else(|| height(wanted.len() - 1)),
    })
}

/// The height that rows may take on the first face (0) or another (1).
fn room(frame: &Frame, measured: &Measured, face: usize) -> f64 {
    let used = above_height(frame, measured, face) + measured.foot + frame.sizes.act;
    // Half a point, so that rounding never pushes the last row off.
    frame.height - frame.top - frame.bottom - used - 0.5
}

fn above_height(frame: &Frame, measured: &Measured, face: usize) -> f64 {
    let marking = if measured.marking[face] > 0.0 { measured.marking[face] + marking_gap(frame) } else { 0.0 };
    marking + measured.head[face]
}

fn marking_gap(frame: &Frame) -> f64 {
    1.1 * frame.sizes.act
}

/// Space above a part, in act sizes: more above the title of a part than beneath it.
fn gap(above: Option<&Part>, part: &Part) -> f64 {
    match (above.map(|above| above.weight), part.weight) {
        (None | Some(Weight::Title | Weight::Opening), _) => 0.0,
        (Some(Weight::Intro), Weight::Station) => 0.8,
        (Some(Weight::Intro), Weight::Title) => 0.4,
        (Some(Weight::Intro), _) => 0.0,
        (_, Weight::Title | Weight::Opening) => 0.95,
        (Some(Weight::Station), Weight::Station) => 2.0,
        (_, Weight::Last) => 0.6,
        (_, Weight::Close) | (Some(Weight::Close), _) => 0.0,
        (_, Weight::Hold) | (Some(Weight::Hold), _) => 0.45,
        (Some(Weight::Quiet), Weight::Quiet) => 0.14,
        _ => 0.0,
    }
}

fn blocks(frame: &Frame, parts: &[Part], measured: &Measured) -> Vec<Block> {
    let block = |(at, part): (usize, &Part)| {
        let above = at.checked_sub(1).and_then(|above| parts.get(above));
        let inside = above.is_some_and(|above| above.band == part.band);
        let titled = parts.iter().any(|other| other.band == part.band && other.weight.is_title());
        let is_title = part.weight.is_title();
        Block {
            height: measured.body[at],
            gap: gap(above, part) * frame.sizes.act,
            again: if inside && titled && !is_title { measured.again[part.band] } else { 0.0 },
            cost: break_cost(frame, parts, at),
            begins: part.weight == Weight::Opening,
        }
    };
    parts.iter().enumerate().map(block).collect()
}

/// What a break before `parts[at]` costs, against 100 for an empty face.
fn break_cost(frame: &Frame, parts: &[Part], at: usize) -> f64 {
    let (Some(part), Some(above)) = (parts.get(at), at.checked_sub(1).and_then(|above| parts.get(above))) else {
        return 0.0;
    };
    if above.weight.is_title() || above.weight == Weight::Intro || part.weight == Weight::Bound {
        return f64::INFINITY;
    }
    if part.weight.is_title() || part.band != above.band {
        return 0.0;
    }
    let alone_above = at < 2
        || parts[at - 2].weight.is_title()
        || parts[at - 2].weight == Weight::Intro
        || parts[at - 2].band != part.band;
    let alone_beneath = parts.get(at + 1).is_none_or(|beneath| beneath.band != part.band);
    let kind = match part.weight {
        Weight::Quiet => 1.0,
        Weight::Hold => 2.0,
        // The figures beneath a chart stay with its last rows.
        Weight::Last => 20.0,
        Weight::Plain
        | Weight::Title
        | Weight::Opening
        | Weight::Intro
        | Weight::Station
        | Weight::Close
        | Weight::Bound => 0.0,
    };
    // A card is turned at every side anyway; the sheets of a poster are read as one.
    let (inside, alone) = if frame.lines > 0 { (8.0, 12.0) } else { (4.0, 3.0) };
    inside + kind + if alone_above || alone_beneath { alone } else { 0.0 }
}

/// A piece on a face.
struct Standing {
    placed: Placed,
    weight: Weight,
    number: Option<u32>,
    /// Its height before anything is spread.
    natural: f64,
}

/// The pieces of one face as they stand when nothing is spread.
fn standing(frame: &Frame, parts: &[Part], measured: &Measured, range: &Range<usize>) -> Vec<Standing> {
    let mut standing = Vec::new();
    for at in range.clone() {
        let part = &parts[at];
        let mut above = (at > range.start).then(|| &parts[at - 1]);
        let titled = parts.iter().any(|other| other.band == part.band && other.weight.is_title());
        let inside = at > 0 && parts[at - 1].band == part.band;
        if at == range.start && titled && inside && !part.weight.is_title() {
            let piece = Piece::Band { band: part.band, continued: true };
            let natural = measured.again[part.band];
            let placed = Placed { piece, gap: 0.0, height: natural };
            standing.push(Standing { placed, weight: Weight::Title, number: None, natural });
            above = None;
        }
        let gap = gap(above, part) * frame.sizes.act;
        let mut piece = part.piece.clone();
        if at == range.start
            && let Piece::Row { ruled, .. } = &mut piece
        {
            *ruled = false;
        }
        let natural = measured.body[at];
        let placed = Placed { piece, gap, height: natural };
        standing.push(Standing { placed, weight: part.weight, number: part.number, natural });
    }
    standing
}

/// How much of what is left a piece takes: above it, and in its own height.
fn share(weight: Weight, gap: f64) -> (f64, f64) {
    match weight {
        Weight::Intro | Weight::Last | Weight::Close | Weight::Opening => (0.0, 0.0),
        Weight::Title => (if gap > 0.0 { 1.2 } else { 0.0 }, 0.0),
        Weight::Plain | Weight::Bound => (0.0, 1.0),
        Weight::Quiet => (0.0, 0.4),
        Weight::Station => (if gap > 0.0 { 0.4 } else { 0.0 }, 0.6),
        Weight::Hold => (if gap > 0.0 { 0.3 } else { 0.0 }, 0.6),
    }
}

/// Spreads `slack` over the pieces, so that rows of one kind grow alike; no more than looks even.
fn spread(frame: &Frame, pieces: &mut [Standing], slack: f64) {
    let all: f64 = pieces.iter().map(|piece| share(piece.weight, piece.placed.gap)).map(|(gap, row)| gap + row).sum();
    let unit = if all > 0.0 { (slack / all).clamp(0.0, 1.8 * frame.sizes.act) } else { 0.0 };
    for piece in pieces {
        let (above, row) = share(piece.weight, piece.placed.gap);
        piece.placed.gap += above * unit;
        piece.placed.height += row * unit;
    }
}

fn strip_measures(frame: &Frame, measured: &Measured) -> strip::Measures {
    strip::Measures { ring: 0.46 * frame.pitch, space: 0.3 * frame.name_size, names: measured.names.clone() }
}

/// Where the numbers of these pieces stand: rings are drawn at the height of the pictogram, or of the act where that
/// stands above the pictogram.
fn steps_of(frame: &Frame, pieces: &[Standing]) -> strip::Steps {
    let mut steps = strip::Steps::default();
    let into_row = (if frame.narrow { 0.85 } else { 1.47 }) * frame.sizes.act;
    for Standing { placed, number, natural, .. } in pieces {
        let top = steps.bottom + placed.gap;
        if let Some(number) = number {
            let spread = (placed.height - natural) / 2.0;
            steps.at.push((*number, top + spread + into_row.min(natural / 2.0)));
        }
        steps.bottom = top + placed.height;
    }
    steps
}

fn strip_of(
    aid: &Aid,
    frame: &Frame,
    parts: &[Part],
    measured: &Measured,
    ranges: &[Range<usize>],
    face: usize,
) -> strip::Strip {
    let (Layout::Poster, Body::Steps(steps)) = (aid.layout, &aid.body) else {
        return strip::Strip::default();
    };
    let all: Vec<_> = ranges.iter().map(|range| steps_of(frame, &standing(frame, parts, measured, range))).collect();
    strip::of(&steps.layers, &all, face, &strip_measures(frame, measured))
}

pub(super) fn place(aid: &Aid, frame: &Frame, parts: &[Part], divided: &Divided) -> Vec<Face> {
    let Divided { measured, ranges, .. } = divided;
    let total = ranges.len();
    let mut bodies = Vec::with_capacity(total);
    for (index, range) in ranges.iter().enumerate() {
        let mut pieces = standing(frame, parts, measured, range);
        let lower = strip_of(aid, frame, parts, measured, ranges, index).wanting;
        if let Some(first) = pieces.first_mut() {
            first.placed.gap += lower;
        }
        let used = steps_of(frame, &pieces).bottom;
        let slack = room(frame, measured, usize::from(index > 0)) - used;
        // What is read through as a text keeps its lines close.
        if aid.layout != Layout::Review {
            spread(frame, &mut pieces, slack);
        }
        bodies.push(pieces);
    }
    let steps: Vec<_> = bodies.iter().map(|pieces| steps_of(frame, pieces)).collect();
    let face = |(index, pieces): (usize, Vec<Standing>)| {
        let (first, edge) = (index == 0, usize::from(index > 0));
        let page = page_words(aid, index + 1, total);
        let mut above = Vec::new();
        if measured.marking[edge] > 0.0 {
            let height = measured.marking[edge];
            above.push(Placed { piece: Piece::Marking { first }, gap: marking_gap(frame), height });
        }
        let head = Piece::Head { first, page: page.clone() };
        above.push(Placed { piece: head, gap: 0.0, height: measured.head[edge] });
        let strip = match (aid.layout, &aid.body) {
            (Layout::Poster, Body::Steps(body)) => {
                strip::of(&body.layers, &steps, index, &strip_measures(frame, measured))
            }
            _ => strip::Strip::default(),
        };
        Face {
            above,
            above_height: above_height(frame, measured, edge),
            pieces: pieces.into_iter().map(|piece| piece.placed).collect(),
            foot: Piece::Foot { first, page },
            lines: strip.lines,
            names: strip.names,
        }
    };
    bodies.into_iter().enumerate().map(face).collect()
}

/// `Side 2 of 3` for cards, `Page 2 of 3` for all others.
fn page_words(aid: &Aid, n: usize, total: usize) -> String {
    let pattern = if aid.layout == Layout::Card { &aid.labels.side_of } else { &aid.labels.page_of };
    pattern.replace("{n}", &n.to_string()).replace("{total}", &total.to_string())
}
