//! The sheets of a print room: finished aids, placed.
//!
//! In: a piece and its copies, set. Out: a PDF for printing only, with its boxes. Must never scale what stands on it.

use std::panic::{AssertUnwindSafe, catch_unwind};

use serde::Serialize;
use typst::foundations::Smart;
use typst_pdf::{PdfOptions, PdfStandards};

use super::fault::{Cause, Fault};
use super::setting::{self, ours};
use super::world::{self, Desk};
use super::{Printed, boxes, colours, fonts};
use crate::press::imposition::{BAR, Grid, STRIP};
use crate::press::{self, Piece, Side};

/// The sheets of one piece.
#[derive(Clone, Debug)]
pub struct Sheets {
    pub pdf: Vec<u8>,
    pub pages: usize,
}

#[derive(Serialize)]
struct Data<'a> {
    title: String,
    site: &'a str,
    width: f64,
    height: f64,
    /// One piece, upright.
    piece: [f64; 2],
    sides: Vec<SideData>,
    marks: Vec<[f64; 4]>,
    /// Where the strip begins, and whether it runs upwards.
    strip: [f64; 2],
    upright: bool,
    bar: f64,
    #[serde(rename = "bar-words")]
    bar_words: String,
    ink: &'static str,
    fonts: &'static [&'static str],
}

#[derive(Serialize)]
struct SideData {
    stands: Vec<StandData>,
    slug: String,
}

#[derive(Serialize)]
struct StandData {
    file: String,
    face: usize,
    x: f64,
    y: f64,
    turn: u16,
}

/// `copies`: each copy of the piece, set, in order.
pub fn typeset_sheets(piece: &Piece, copies: &[Printed]) -> Result<Sheets, Fault> {
    let faces: Vec<usize> = copies.iter().map(|copy| copy.pages).collect();
    let sides = piece.sides(&faces);
    let finished: Vec<Vec<u8>> = copies.iter().map(|copy| copy.pdf.clone()).collect();
    let set = catch_unwind(AssertUnwindSafe(|| set(piece, &sides, &finished)));
    set.unwrap_or_else(|_| Err(Cause::stopped())).map_err(|cause| cause.of(&piece.aid))
}

fn set(piece: &Piece, sides: &[Side], finished: &[Vec<u8>]) -> Result<Sheets, Cause> {
    let data = serde_json::to_vec(&data(piece, sides)).unwrap_or_default();
    let desk = Desk::of_sheets(data, finished);
    let document = setting::of(&desk)?;
    if document.pages().len() != sides.len() {
        return Err(Cause::Ours { said: format!("{} sides became {}", sides.len(), document.pages().len()) });
    }
    let options = PdfOptions {
        ident: Smart::Custom(format!("anteroom {} sheets {}", piece.aid.control.fingerprint, piece.aid.file)),
        creator: Smart::Custom(Some("anteroom".to_string())),
        timestamp: None,
        page_ranges: None,
        standards: PdfStandards::default(),
        // What is read aloud is the aid itself; this is for a knife.
        tagged: false,
        pretty: false,
    };
    let pdf = typst_pdf::pdf(&document, &options).map_err(|errors| ours(&errors))?;
    let (trim, bleed) = page_boxes(&piece.grid);
    let pdf = boxes::with(&pdf, trim, bleed).ok_or_else(|| Cause::Ours { said: "the boxes have no place".into() })?;
    Ok(Sheets { pdf, pages: sides.len() })
}

fn data<'a>(piece: &'a Piece, sides: &[Side]) -> Data<'a> {
    let grid = &piece.grid;
    let side = |at: usize, side: &Side| SideData {
        slug: piece.slug(sides, at),
        stands: side
            .stands
            .iter()
            .map(|stand| StandData {
                file: world::finished_path(stand.copy),
                face: stand.face + 1,
                x: stand.x,
                y: stand.y,
                turn: stand.turn,
            })
            .collect(),
    };
    let upright = grid.strip_is_at_the_side();
    let (edge, lower) = (press::imposition::BORDER, grid.sheet.height - press::imposition::BORDER);
    Data {
        title: press::papers::name(&piece.aid),
        site: &piece.aid.control.site,
        width: grid.sheet.width,
        height: grid.sheet.height,
        piece: [grid.trim.width, grid.trim.height],
        sides: sides.iter().enumerate().map(|(at, one)| side(at, one)).collect(),
        marks: grid.marks(),
        strip: if upright { [edge, lower] } else { [2.0 * edge, lower - STRIP / 2.0] },
        upright,
        bar: BAR,
        bar_words: press::bar_words(),
        ink: colours::INK,
        fonts: &fonts::FAMILIES,
    }
}

/// Trim and bleed of everything on a sheet, in points from its lower left: left, bottom, right, top.
fn page_boxes(grid: &Grid) -> ([f64; 4], [f64; 4]) {
    let (left, top, block) = grid.block();
    let of = |inset: f64| {
        let (left, top) = (left + inset, top + inset);
        let (width, height) = (block.width - 2.0 * inset, block.height - 2.0 * inset);
        [left, grid.sheet.height - top - height, left + width, grid.sheet.height - top].map(|at| at * super::sheet::MM)
    };
    (of(grid.bleed), of(0.0))
}
