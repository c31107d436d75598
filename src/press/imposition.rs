//! Where pieces stand on a sheet, front and back: plain arithmetic in millimetres.
//!
//! In: sizes. Out: a [`Grid`], and where each of its slots lies, how its content is turned, where it is cut. Must never
//! let anything but bleed and marks stand outside a trim.

use serde::Serialize;

use crate::policy::PaperSize;

/// Artwork beyond the trim, for a knife that does not cut true.
pub const BLEED: f64 = 3.0;
/// Words and boxes keep this far inside the trim.
pub const SAFE: f64 = 5.0;
/// No office printer prints nearer to the edge of its paper.
pub const BORDER: f64 = 5.0;
/// The strip in which the bar and the file's name stand.
pub const STRIP: f64 = 3.2;
/// The bar that shows whether a sheet was printed at its size.
pub const BAR: f64 = 50.0;

const MARK: f64 = 5.0;
const LEAST_MARK: f64 = 2.0;

#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Extent {
    pub width: f64,
    pub height: f64,
}

impl Extent {
    pub fn new(width: f64, height: f64) -> Extent {
        Extent { width, height }
    }

    /// `sideways`: the paper lies on its long edge.
    pub fn of(paper: PaperSize, sideways: bool) -> Extent {
        let (short, long) = paper.millimetres();
        let upright = Extent::new(f64::from(short), f64::from(long));
        if sideways { upright.turned() } else { upright }
    }

    pub fn turned(self) -> Extent {
        Extent::new(self.height, self.width)
    }

    /// Larger by so much on each side.
    pub fn grown(self, by: f64) -> Extent {
        Extent::new(self.width + 2.0 * by, self.height + 2.0 * by)
    }
}

/// The edge of the sheet about which a duplex printer turns it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Flip {
    Long,
    Short,
}

/// How a reader gets from the front of a card to its back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reading {
    /// Like the page of a book: top stays top.
    Turned,
    /// Bottom over top.
    Tumbled,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Slot {
    pub column: usize,
    pub row: usize,
}

/// Equal pieces on one sheet, its block in the middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    pub sheet: Extent,
    /// One piece, upright, as it is when it is cut.
    pub trim: Extent,
    pub bleed: f64,
    pub columns: usize,
    pub rows: usize,
    /// The pieces lie a quarter turn clockwise.
    pub turned: bool,
    /// What the printer leaves white.
    pub border: f64,
}

/// As many pieces as the sheet holds, whichever way they lie; none where it holds none.
pub fn impose(sheet: Extent, trim: Extent, bleed: f64, border: f64) -> Option<Grid> {
    let grid = |turned: bool| {
        let lying = if turned { trim.turned() } else { trim };
        let cell = lying.grown(bleed);
        let fit = |room: f64, piece: f64| ((room - 2.0 * border) / piece + 1e-9).floor().max(0.0) as usize;
        let grid = Grid {
            sheet,
            trim,
            bleed,
            columns: fit(sheet.width, cell.width),
            rows: fit(sheet.height, cell.height),
            turned,
            border,
        };
        grid.with_room_for_the_strip()
    };
    [false, true].into_iter().map(grid).filter(|grid| grid.count() > 0).max_by_key(|grid| (grid.count(), !grid.turned))
}

/// One piece as it is, uncut, on paper of its own size.
pub fn whole(trim: Extent) -> Grid {
    Grid { sheet: trim, trim, bleed: 0.0, columns: 1, rows: 1, turned: false, border: 0.0 }
}

impl Grid {
    fn with_room_for_the_strip(mut self) -> Grid {
        while self.count() > 0 && self.room().0.max(self.room().1) < STRIP + LEAST_MARK - self.bleed.min(LEAST_MARK) {
            self.rows -= 1;
        }
        self
    }

    pub fn count(&self) -> usize {
        self.columns * self.rows
    }

    pub fn is_cut(&self) -> bool {
        self.sheet != self.trim
    }

    /// A piece as it lies on the sheet.
    pub fn lying(&self) -> Extent {
        if self.turned { self.trim.turned() } else { self.trim }
    }

    fn cell(&self) -> Extent {
        self.lying().grown(self.bleed)
    }

    /// The block of all pieces with their bleed: left, top, width, height.
    pub fn block(&self) -> (f64, f64, Extent) {
        let cell = self.cell();
        let block = Extent::new(cell.width * self.columns as f64, cell.height * self.rows as f64);
        ((self.sheet.width - block.width) / 2.0, (self.sheet.height - block.height) / 2.0, block)
    }

    /// What can be printed beside the block: at each side, and above and below.
    fn room(&self) -> (f64, f64) {
        let (left, top, _) = self.block();
        (left - self.border, top - self.border)
    }

    /// Whether the strip runs up the left side rather than along the foot.
    pub fn strip_is_at_the_side(&self) -> bool {
        self.is_cut() && self.room().0 > self.room().1
    }

    /// Row by row from the top left.
    pub fn slots(&self) -> impl Iterator<Item = Slot> + use<> {
        let columns = self.columns;
        (0..self.count()).map(move |at| Slot { column: at % columns, row: at / columns })
    }

    /// The centre of a slot, from the top left of the page.
    pub fn centre(&self, slot: Slot) -> (f64, f64) {
        let (left, top, _) = self.block();
        let cell = self.cell();
        (left + (slot.column as f64 + 0.5) * cell.width, top + (slot.row as f64 + 0.5) * cell.height)
    }

    /// Whether turning the sheet about that edge exchanges left and right.
    fn exchanges_sides(&self, flip: Flip) -> bool {
        (flip == Flip::Long) == (self.sheet.height >= self.sheet.width)
    }

    /// Where the back of a slot's piece stands on the sheet's back.
    pub fn back(&self, slot: Slot, flip: Flip) -> Slot {
        if self.exchanges_sides(flip) {
            Slot { column: self.columns - 1 - slot.column, ..slot }
        } else {
            Slot { row: self.rows - 1 - slot.row, ..slot }
        }
    }

    /// By how many degrees clockwise the fronts are turned.
    pub fn turn(&self) -> u16 {
        if self.turned { 90 } else { 0 }
    }

    /// The same of the backs.
    pub fn back_turn(&self, flip: Flip, reading: Reading) -> u16 {
        let about_its_own_upright = self.exchanges_sides(flip) != self.turned;
        let half = about_its_own_upright != (reading == Reading::Turned);
        self.turn() + if half { 180 } else { 0 }
    }

    /// The lines along which to cut: from and to, in pairs of x and y. None inside the block, where knives cross.
    pub fn marks(&self) -> Vec<[f64; 4]> {
        if !self.is_cut() {
            return Vec::new();
        }
        let (left, top, block) = self.block();
        let (cell, (side_room, end_room)) = (self.cell(), self.room());
        let at_side = self.strip_is_at_the_side();
        // From the bleed outwards; into the bleed where there is hardly any paper beyond it.
        let span = |room: f64, strip: bool| {
            let free = if strip { room - STRIP } else { room };
            let inwards = (LEAST_MARK - free).clamp(0.0, self.bleed.min(LEAST_MARK));
            (inwards, free.clamp(0.0, MARK))
        };
        let mut marks = Vec::new();
        let (inwards, outwards) = span(end_room, !at_side);
        for column in 0..self.columns {
            let start = left + column as f64 * cell.width;
            for x in [start + self.bleed, start + cell.width - self.bleed] {
                marks.push([x, top + inwards, x, top - outwards]);
                marks.push([x, top + block.height - inwards, x, top + block.height + outwards]);
            }
        }
        let (inwards, outwards) = span(side_room, at_side);
        for row in 0..self.rows {
            let start = top + row as f64 * cell.height;
            for y in [start + self.bleed, start + cell.height - self.bleed] {
                marks.push([left + inwards, y, left - outwards, y]);
                marks.push([left + block.width - inwards, y, left + block.width + outwards, y]);
            }
        }
        marks
    }
}
