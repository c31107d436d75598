//! What a template is given: the aid's words, and every measure in points.
//!
//! In: an aid and the sizes to try. Out: data for `templates/lib.typ`. Must never hold a word that the aid does not.

use std::collections::BTreeMap;

use serde::Serialize;

use super::pictograms::Badge;
use super::pieces::Piece;
use super::{code, colours, fonts, pictograms, world};
use crate::aids::plan::{Aid, Body, Pictogram, Row, SourceFile, Steps};

/// Points in a millimetre.
pub(super) const MM: f64 = 72.0 / 25.4;

/// Letter sizes, in points.
#[derive(Clone, Copy, Debug, Serialize)]
pub(super) struct Sizes {
    /// The act, the number, the title of a part.
    pub act: f64,
    pub detail: f64,
    pub title: f64,
    pub foot: f64,
}

impl Sizes {
    /// By how much letters of these other sizes are larger, at least.
    pub fn grown(&self, to: &Sizes) -> f64 {
        (to.act / self.act).min(to.detail / self.detail)
    }
}

/// The paper, its margins and the columns.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Frame {
    pub width: f64,
    pub height: f64,
    pub side: f64,
    pub top: f64,
    pub bottom: f64,
    /// The width of the rows; the rest of the measure is the strip of layer lines.
    pub column: f64,
    /// The number of layer lines, their distance, and the size of their names.
    pub lines: usize,
    pub pitch: f64,
    pub name_size: f64,
    /// Whether a poster's pictograms stand beneath the numbers, and the digits of its highest number.
    pub narrow: bool,
    pub digits: usize,
    /// By how much filled rows hang out of the column.
    pub hang: f64,
    /// On a walk chart: the width of a row's words, of a lane, of a mark, and the space before each person.
    pub label: f64,
    pub lane: f64,
    pub mark: f64,
    pub apart: f64,
    /// On an area plan: the lane at the side in which each move is drawn; none where it leads to the next place. On a review
    /// sheet: the lane in which the move of each row is drawn.
    pub ways: Vec<Option<usize>>,
    /// Whether a lanyard slot is punched at the top.
    pub slot: bool,
    pub sizes: Sizes,
}

impl Frame {
    /// By how much a foot is higher than another, where it is as wide in sizes of its letters: all in it grows with them.
    pub fn foot_grown(&self, other: &Frame) -> Option<f64> {
        let wide = |frame: &Frame| (frame.width - 2.0 * frame.side) / frame.sizes.foot;
        let same = (wide(self) / wide(other) - 1.0).abs() < 1e-9;
        same.then_some(self.sizes.foot / other.sizes.foot)
    }

    /// The same for what stands above the rows.
    pub fn has_head_of(&self, other: &Frame) -> bool {
        let of = |frame: &Frame| [frame.sizes.act, frame.sizes.detail, frame.sizes.title, frame.width, frame.side];
        of(self) == of(other)
    }
}

#[derive(Clone, Debug, Serialize)]
pub(super) struct Placed {
    pub piece: Piece,
    /// Space above it.
    pub gap: f64,
    pub height: f64,
}

/// A stretch of one layer's line on one face, from the top of the body.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Line {
    pub column: usize,
    pub from: f64,
    pub to: f64,
    /// Whether the item goes on, or comes off, at that end: a ring.
    pub opens: bool,
    pub closes: bool,
    /// Whether it goes on on the next face.
    pub goes_on: bool,
}

/// A name along its line.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct LineName {
    pub layer: usize,
    pub column: usize,
    pub top: f64,
    pub length: f64,
}

/// One page.
#[derive(Clone, Debug, Serialize)]
pub(super) struct Face {
    pub above: Vec<Placed>,
    pub above_height: f64,
    pub pieces: Vec<Placed>,
    pub foot: Piece,
    pub lines: Vec<Line>,
    pub names: Vec<LineName>,
}

#[derive(Serialize)]
struct Sheet<'a> {
    #[serde(flatten)]
    frame: &'a Frame,
    measure: &'a [Piece],
    faces: &'a [Face],
}

#[derive(Serialize)]
struct Data<'a> {
    aid: &'a Aid,
    sheet: Sheet<'a>,
    colours: BTreeMap<&'static str, &'static str>,
    fonts: [&'static str; 4],
    pictograms: BTreeMap<&'a str, DrawingOf>,
    lang: String,
    region: Option<String>,
    date: Option<[i16; 3]>,
    /// The files that go into the PDF; only with the finished faces.
    sources: &'a [SourceFile],
    code: Option<code::Square>,
}

#[derive(Serialize)]
struct DrawingOf {
    file: String,
    badge: &'static str,
}

/// The data of one pass: either pieces to measure, or the finished faces.
pub(super) fn data(aid: &Aid, frame: &Frame, measure: &[Piece], faces: &[Face]) -> Vec<u8> {
    let (lang, region) = language(&aid.language);
    let square = if faces.is_empty() { code::room } else { code::drawn };
    let data = Data {
        aid,
        sheet: Sheet { frame, measure, faces },
        colours: colours::table(),
        fonts: fonts::FAMILIES,
        pictograms: drawings(aid),
        lang,
        region,
        sources: if faces.is_empty() { &[] } else { &aid.sources },
        code: square(&aid.control.code, frame.sizes.foot),
        date: aid.control.date.as_deref().and_then(date),
    };
    serde_json::to_vec(&data).unwrap_or_default()
}

fn drawings<'a>(aid: &'a Aid) -> BTreeMap<&'a str, DrawingOf> {
    let on = |row: &'a Option<Pictogram>| row.as_ref().map(|drawing| drawing.key.as_str());
    let keys: Vec<&str> = match &aid.body {
        Body::Steps(steps) => step_rows(steps).filter_map(|row| on(&row.pictogram)).collect(),
        Body::Kit(kit) => {
            let rows = kit.roles.iter().flat_map(|role| &role.rows).chain(&kit.supplies);
            rows.filter_map(|row| on(&row.pictogram)).collect()
        }
        Body::Sign(sign) => {
            sign.wear.iter().flat_map(|kit| &kit.items).filter_map(|item| on(&item.pictogram)).collect()
        }
        Body::Area(area) => {
            area.places.iter().flat_map(|place| &place.things).filter_map(|thing| on(&thing.pictogram)).collect()
        }
        Body::Chart(_) | Body::Form(_) | Body::Choice(_) | Body::Review(_) => Vec::new(),
    };
    let drawing = |key: &'a str| {
        let (file, badge) = match own(aid, key) {
            Some((at, badge)) => (world::own_path(at), badge),
            None => pictograms::find(key).map(|(drawing, badge)| (world::drawing_path(drawing.key), badge))?,
        };
        Some((key, DrawingOf { file, badge: badge.word() }))
    };
    keys.into_iter().filter_map(drawing).collect()
}

/// A drawing of the hospital's own: its place among those of the aid, and its badge.
fn own(aid: &Aid, key: &str) -> Option<(usize, Badge)> {
    let (plain, badge) = pictograms::parted(key);
    let at = aid.drawings.keys().position(|known| known == plain)?;
    Some((at, badge))
}

pub(super) fn step_rows(steps: &Steps) -> impl Iterator<Item = &crate::aids::plan::StepRow> {
    steps.bands.iter().flat_map(|band| &band.rows).filter_map(|row| match row {
        Row::Step(step) => Some(step),
        Row::Hold(_) => None,
    })
}

/// The primary language and the region of a BCP 47 tag, as far as the typesetter takes them; English where it is none.
fn language(tag: &str) -> (String, Option<String>) {
    let mut parts = tag.split('-');
    let letters = |part: &&str, lengths: &[usize]| {
        lengths.contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_alphabetic())
    };
    let lang = parts.next().filter(|part| letters(part, &[2, 3])).unwrap_or("en").to_ascii_lowercase();
    let region = parts.find(|part| letters(part, &[2])).map(str::to_ascii_uppercase);
    (lang, region)
}

/// `2026-12-01` as numbers, where it is a day of the calendar.
fn date(text: &str) -> Option<[i16; 3]> {
    let date: jiff::civil::Date = text.parse().ok()?;
    Some([date.year(), i16::from(date.month()), i16::from(date.day())])
}

#[cfg(test)]
mod tests {
    use super::{date, language};

    #[test]
    fn languages_and_dates_that_do_not_exist_are_left_out() {
        assert_eq!(language("en-GB"), ("en".into(), Some("GB".into())));
        assert_eq!(language("sr-Latn-rs"), ("sr".into(), Some("RS".into())));
        assert_eq!(language("x!"), ("en".into(), None));
        assert_eq!(date("2026-12-01"), Some([2026, 12, 1]));
        assert_eq!(date("2027-11-31"), None);
    }
}
