//! The print room: numbered copies on sheets, and the papers that go with them.
//!
//! In: a checked policy's aids, the sheet and the flip. Out: a [`Job`]: what stands where on which sheet, the papers as
//! aids of their own, lines for the register. Must never number a copy of a draft, know a typesetter or touch a file.

pub mod copies;
pub mod finish;
pub mod imposition;
pub mod papers;
pub mod register;
mod words;

use crate::aids::plan::{Aid, Layout, PrintPlan};
use crate::policy::{Day, PaperSize};
use crate::session::Checked;
use copies::Copy;
use imposition::{BLEED, BORDER, Extent, Flip, Grid, Reading, impose, whole};
use register::{Edition, Line};
use words::tell;

/// What goes to the print room at once: one edition of one policy.
pub struct Job<'a> {
    pub checked: &'a Checked,
    pub is_draft: bool,
    pub sheet: PaperSize,
    pub flip: Flip,
    pub pieces: Vec<Piece>,
    /// Aids that are not issued, each a sentence.
    pub left_out: Vec<String>,
}

/// One aid, its copies and the sheets that they stand on.
#[derive(Clone, Debug)]
pub struct Piece {
    pub aid: Aid,
    pub copies: Vec<Copy>,
    pub grid: Grid,
    pub flip: Flip,
    is_draft: bool,
}

/// One side of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Side {
    pub is_back: bool,
    pub stands: Vec<Stand>,
}

/// A face on a side: its centre from the top left, and how it is turned about it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// Index of the copy.
    pub copy: usize,
    /// The face of the copy, from 0.
    pub face: usize,
    pub x: f64,
    pub y: f64,
    /// Degrees clockwise.
    pub turn: u16,
}

pub fn job<'a>(checked: &'a Checked, plan: PrintPlan, sheet: PaperSize, flip: Flip) -> Job<'a> {
    let is_draft = plan.aids.iter().any(|aid| aid.marking.is_some());
    let (mut pieces, mut left_out) = (Vec::new(), Vec::new());
    for aid in plan.aids {
        let asked_at = aid.asked_at.clone();
        match Piece::new(aid, is_draft, sheet, flip) {
            Ok(piece) => pieces.push(piece),
            Err(asked) => left_out.push(format!(
                "{asked_at} asks for {asked} copies of one aid; no more than {} are issued at once.",
                copies::MOST
            )),
        }
    }
    Job { checked, is_draft, sheet, flip, pieces, left_out }
}

/// Smaller paper is not in every printer's tray: such an aid is cut from the sheet. All else is printed on paper of its size.
const LARGEST_CUT: PaperSize = PaperSize::A5;

fn grid(aid: &Aid, sheet: PaperSize) -> Grid {
    let trim = Extent::of(aid.paper, aid.sideways);
    let is_small = aid.paper.millimetres().0 <= LARGEST_CUT.millimetres().0;
    let cut = is_small.then(|| impose(Extent::of(sheet, false), trim, BLEED, BORDER)).flatten();
    cut.unwrap_or_else(|| whole(trim))
}

impl Piece {
    /// `Err`: how many copies are asked for, where that is too many.
    pub fn new(aid: Aid, is_draft: bool, sheet: PaperSize, flip: Flip) -> Result<Piece, u64> {
        // A proof of a draft is one, whatever number is asked for.
        let copies = copies::of(if is_draft { &[] } else { &aid.quantities })?;
        let grid = grid(&aid, sheet);
        Ok(Piece { aid, copies, grid, flip, is_draft })
    }

    /// The aid as one of its copies: it says which.
    pub fn numbered(&self, copy: &Copy) -> Aid {
        let words = if self.is_draft {
            tell("proof_only", &[])
        } else {
            let slots =
                [("number", copy.number.to_string()), ("of", copy.of.to_string()), ("place", copy.place.clone())];
            tell("copy_of", &slots.each_ref().map(|(slot, words)| (*slot, words.as_str())))
        };
        // What is attached for the archive stays with the archive.
        Aid { copies: vec![words], sources: Vec::new(), ..self.aid.clone() }
    }

    pub fn has_slot(&self) -> bool {
        has_slot(&self.aid)
    }

    /// Every side to print, in order, where each copy has so many faces. Backs follow their fronts.
    pub fn sides(&self, faces: &[usize]) -> Vec<Side> {
        let per_leaf = if self.aid.both_sides { 2 } else { 1 };
        let leaves: Vec<(usize, usize)> = faces
            .iter()
            .enumerate()
            .flat_map(|(copy, &count)| (0..count).step_by(per_leaf).map(move |face| (copy, face)))
            .collect();
        let mut sides = Vec::new();
        for sheet in leaves.chunks(self.grid.count().max(1)) {
            let (mut front, mut back) = (Side::default(), Side { is_back: true, ..Side::default() });
            for (slot, &(copy, face)) in self.grid.slots().zip(sheet) {
                let (x, y) = self.grid.centre(slot);
                front.stands.push(Stand { copy, face, x, y, turn: self.grid.turn() });
                if per_leaf == 2 && faces.get(copy).is_some_and(|&count| face + 1 < count) {
                    let (x, y) = self.grid.centre(self.grid.back(slot, self.flip));
                    let turn = self.grid.back_turn(self.flip, Reading::Turned) % 360;
                    back.stands.push(Stand { copy, face: face + 1, x, y, turn });
                }
            }
            sides.push(front);
            if per_leaf == 2 {
                sides.push(back);
            }
        }
        sides
    }

    /// What stands in the slug of a side.
    pub fn slug(&self, sides: &[Side], at: usize) -> String {
        let side = sides.get(at).map_or("", |side| if side.is_back { "back" } else { "front" });
        let both = self.aid.both_sides;
        let sheet = |at: usize| (if both { at / 2 } else { at } + 1).to_string();
        tell(
            "slug",
            &[
                ("file", &self.aid.file),
                ("fingerprint", &self.aid.control.fingerprint),
                ("edition", &self.aid.control.edition),
                ("sheet", &sheet(at)),
                ("sheets", &sheet(sides.len().saturating_sub(1))),
                ("side", &if both { tell(side, &[]) } else { String::new() }),
                ("flip", &if both { flip_word(self.flip) } else { String::new() }),
            ],
        )
    }
}

/// Cards that hang from a lanyard keep its slot clear.
pub fn has_slot(aid: &Aid) -> bool {
    aid.layout == Layout::Card && aid.laminated && matches!(aid.paper, PaperSize::A6 | PaperSize::A7)
}

fn flip_word(flip: Flip) -> String {
    match flip {
        Flip::Long => tell("long", &[]),
        Flip::Short => tell("short", &[]),
    }
}

/// The label of the bar.
pub fn bar_words() -> String {
    tell("bar", &[])
}

impl Job<'_> {
    pub fn edition(&self) -> Edition<'_> {
        let paper = &self.checked.reading.policy.paper;
        Edition {
            policy: paper.title.as_deref().unwrap_or_default(),
            site: paper.site.as_deref().unwrap_or_default(),
            number: paper.edition,
            fingerprint: &self.checked.fingerprint,
        }
    }

    /// A line for each copy of an aid; none of a draft.
    pub fn lines(&self, piece: &Piece, issued: Day) -> Vec<Line> {
        if self.is_draft {
            return Vec::new();
        }
        let edition = self.edition();
        let line = |copy: &Copy| Line {
            policy: edition.policy.to_string(),
            site: edition.site.to_string(),
            edition: edition.number.map(|number| number.to_string()).unwrap_or_default(),
            fingerprint: edition.fingerprint.to_string(),
            aid: papers::name(&piece.aid),
            file: piece.aid.file.clone(),
            copy: copy.number.to_string(),
            of: copy.of.to_string(),
            place: copy.place.clone(),
            issued: issued.0.to_string(),
            returned: String::new(),
        };
        piece.copies.iter().map(line).collect()
    }
}
