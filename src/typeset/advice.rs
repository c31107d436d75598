//! What would fit, where an aid cannot be read from its distance on its paper.
//!
//! In: an aid. Out: papers with the sheets that they need, and a distance. Must never advise what was not tried.

use super::climbing::{self, Fitted};
use super::fault::Cause;
use super::fitting::Known;
use super::sizes;
use crate::aids::plan::{Aid, Layout};
use crate::policy::PaperSize;

/// What was tried and fits.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Advice {
    /// Each larger paper with its sheets, up to the first that needs one.
    pub papers: Vec<(PaperSize, usize)>,
    /// The farthest distance, in quarters of a metre, from which it can be read on one sheet of its own paper.
    pub nearer_mm: Option<u32>,
}

/// The aid, divided; or what would fit where it hangs and cannot be read from its distance on its paper.
pub(super) fn fit(aid: &Aid) -> Result<Fitted, Cause> {
    match climbing::fit(aid) {
        Ok(fitted) if fitted.faces.len() == 1 || !is_one_sheet(aid.layout) => Ok(fitted),
        Err(cause) if !hangs(aid.layout) || !matches!(cause, Cause::TooTall { .. } | Cause::TooWide { .. }) => {
            Err(cause)
        }
        _ => Err(Cause::TooFar { advice: Advice { papers: larger(aid, |_| true, None), nearer_mm: nearer(aid) } }),
    }
}

/// The smallest larger paper of which one sheet is enough, of an aid that takes several of its own.
pub(super) fn one_sheet(aid: &Aid, fitted: &Fitted) -> Option<PaperSize> {
    let area = |paper: PaperSize| f64::from(paper.millimetres().0) * f64::from(paper.millimetres().1);
    // All sheets but the last are nearly full, and a wider column saves little of their area.
    let least = SAVED * (fitted.faces.len() - 1) as f64 * area(aid.paper);
    larger(aid, |paper| area(paper) >= least, fitted.known())
        .into_iter()
        .find(|(_, sheets)| *sheets == 1)
        .map(|(paper, _)| paper)
}

const SAVED: f64 = 0.8;

fn hangs(layout: Layout) -> bool {
    layout == Layout::Poster || is_one_sheet(layout)
}

/// Whether an aid is of use only if it stands on one sheet.
fn is_one_sheet(layout: Layout) -> bool {
    matches!(layout, Layout::DoorSign | Layout::AreaPlan | Layout::ChoicePoster)
}

/// Larger papers of these with their sheets, up to the first that needs one.
fn larger(aid: &Aid, tries: impl Fn(PaperSize) -> bool, known: Known) -> Vec<(PaperSize, usize)> {
    let mut papers = Vec::new();
    let above = |paper: &PaperSize| paper.millimetres().0 > aid.paper.millimetres().0;
    for paper in PaperSize::ALL.into_iter().rev().filter(|paper| above(paper) && tries(*paper)) {
        let other = Aid { paper, ..aid.clone() };
        let Ok(sheets) = climbing::sheets(&other, known) else { continue };
        if sheets == 1 || !is_one_sheet(aid.layout) {
            papers.push((paper, sheets));
        }
        if sheets == 1 {
            break;
        }
    }
    papers
}

const QUARTER_MM: u32 = 250;

fn nearer(aid: &Aid) -> Option<u32> {
    let asked = sizes::distance_mm(aid);
    let quarters = (2..asked.div_ceil(QUARTER_MM)).rev().map(|quarters| quarters * QUARTER_MM);
    quarters.take(MOST_TRIED).find(|&distance| {
        let other = Aid { read_from_mm: Some(distance), ..aid.clone() };
        climbing::sheets(&other, None) == Ok(1)
    })
}

/// Each try is a pass through the typesetter.
const MOST_TRIED: usize = 16;
