//! The passes through typst: measuring pieces, and setting the finished faces.
//!
//! In: data. Out: heights, or a PDF. What goes wrong here is the program's fault, or a word that is too wide.

use typst::diag::SourceDiagnostic;
use typst::foundations::Smart;
use typst::layout::{Abs, Point, Transform};
use typst::layout::{Frame, FrameItem};
use typst_layout::PagedDocument;
use typst_pdf::{PdfOptions, PdfStandard, PdfStandards};

use super::fault::Cause;
use super::picture;
use super::pieces::{self, Piece};
use super::sheet::{self, Face};
use super::world::Desk;
use crate::aids::plan::Aid;

/// Width and height of a piece, in points.
#[derive(Clone, Copy, Debug)]
pub(super) struct Extent {
    pub width: f64,
    pub height: f64,
}

/// The extent of each piece when it is set on its own.
pub(super) fn measure(aid: &Aid, frame: &sheet::Frame, wanted: &[Piece]) -> Result<Vec<Extent>, Cause> {
    let document = compile(aid, sheet::data(aid, frame, wanted, &[]))?;
    if document.pages().len() != wanted.len() {
        return Err(Cause::Ours { said: "a piece was not measured".into() });
    }
    let mut extents = Vec::with_capacity(wanted.len());
    for (piece, page) in wanted.iter().zip(document.pages()) {
        let room = match piece {
            Piece::Name { .. } => f64::INFINITY,
            Piece::Head { .. } | Piece::Foot { .. } | Piece::Marking { .. } => frame.width - 2.0 * frame.side,
            _ => frame.column,
        };
        let (left, right) = reach(&page.frame, Transform::identity());
        let reach = if aid.right_to_left { page.frame.width() - left } else { right };
        if reach.to_pt() > room + 1.0 {
            return Err(Cause::TooWide { words: pieces::words(aid, piece) });
        }
        extents.push(Extent { width: page.frame.width().to_pt(), height: page.frame.height().to_pt() });
    }
    Ok(extents)
}

/// The finished faces: for paper, and for a screen where the aid is one to be shown there.
pub(super) fn set(aid: &Aid, frame: &sheet::Frame, faces: &[Face]) -> Result<(Vec<u8>, Option<String>), Cause> {
    let document = compile(aid, sheet::data(aid, frame, &[], faces))?;
    if document.pages().len() != faces.len() {
        return Err(Cause::Ours { said: format!("{} faces became {}", faces.len(), document.pages().len()) });
    }
    let picture = aid.pictured.then(|| picture::of(aid, &document));
    Ok((pdf(aid, &document)?, picture))
}

/// A PDF/A-3a that is PDF/UA-1 too, with the policy in it. An archive asks for a date: an edition without one is PDF/UA-1 only.
fn pdf(aid: &Aid, document: &PagedDocument) -> Result<Vec<u8>, Cause> {
    let wanted: &[PdfStandard] = match aid.control.date {
        Some(_) => &[PdfStandard::A_3a, PdfStandard::Ua_1],
        None => &[PdfStandard::Ua_1],
    };
    let standards = PdfStandards::new(wanted);
    let standards = standards.map_err(|error| Cause::Ours { said: error.message().to_string() })?;
    let options = PdfOptions {
        // The same aid of the same policy always has the same identity and the same bytes.
        ident: Smart::Custom(format!("anteroom {} {}", aid.control.fingerprint, aid.file)),
        creator: Smart::Custom(Some("anteroom".to_string())),
        timestamp: None,
        page_ranges: None,
        standards,
        tagged: true,
        pretty: false,
    };
    typst_pdf::pdf(document, &options).map_err(|errors| ours(&errors))
}

fn compile(aid: &Aid, data: Vec<u8>) -> Result<PagedDocument, Cause> {
    of(&Desk::new(aid, data))
}

/// What lies on a desk, set.
pub(super) fn of(desk: &Desk) -> Result<PagedDocument, Cause> {
    // What this pass may share with the last is kept, and the rest let go: memory is that of the passes at work, however many
    // went before. Not after it: the last pass of a run need not tidy up.
    typst::comemo::evict(1);
    typst::compile::<PagedDocument>(desk).output.map_err(|errors| ours(&errors))
}

/// Everything that a policy can cause was looked for before; what is left is ours.
pub(super) fn ours(errors: &[SourceDiagnostic]) -> Cause {
    let said = errors.first().map_or_else(|| "nothing".to_string(), |error| error.message.to_string());
    Cause::Ours { said }
}

/// The leftmost and the rightmost point of any letter.
fn reach(frame: &Frame, outer: Transform) -> (Abs, Abs) {
    let (mut left, mut right) = (Abs::inf(), -Abs::inf());
    for (at, item) in frame.items() {
        let here = outer.pre_concat(Transform::translate(at.x, at.y));
        let (from, to) = match item {
            FrameItem::Group(group) => reach(&group.frame, here.pre_concat(group.transform)),
            FrameItem::Text(text) => {
                let ends = [Abs::zero(), text.width()].map(|x| Point::new(x, Abs::zero()).transform(here).x);
                (ends[0].min(ends[1]), ends[0].max(ends[1]))
            }
            _ => continue,
        };
        left.set_min(from);
        right.set_max(to);
    }
    (left, right)
}
