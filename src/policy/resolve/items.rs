//! Pieces of kit and their properties.
//!
//! In: item blocks. Out: the policy's items, in the order of the identifiers.

use super::Resolution;
use super::declare::said;
use super::names::ITEM;
use super::outline::Block;
use crate::policy::{Area, Areas, Grip, Item, ItemId, Lies, Picture, Reuse};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{GripPart, Line, Name, Quote, Statement};
use crate::text::Span;

/// Where each property that is said once was said.
#[derive(Default)]
struct Seen {
    fit: Option<Span>,
    picture: Option<Span>,
    fate: Option<Span>,
    goes: Option<Span>,
    sharp: Option<Span>,
    runs: Option<Span>,
    fills: Option<Span>,
    beneath: Option<Span>,
    pairs: Option<Span>,
}

impl Resolution<'_> {
    pub(super) fn item(&mut self, block: &Block, name: &Name, printed: Option<&Quote>, first: bool) {
        let written = self.written(name.span);
        let mut item = Item {
            printed: printed.map_or_else(|| written.clone(), |quote| quote.text.clone()),
            name: written,
            covers: Areas::NONE,
            goes_over: Vec::new(),
            tucks_into: Vec::new(),
            holds_down: Vec::new(),
            connects_to: Vec::new(),
            grips: Vec::new(),
            meets: Vec::new(),
            picture: None,
            needs_fit_test: false,
            single_use: false,
            reused_after: None,
            goes_to: None,
            sharp: false,
            runs_for: None,
            millilitres: None,
            worn_beneath: false,
            pairs: None,
            sizes: Vec::new(),
            span: block.opener.span,
        };
        let mut seen = Seen::default();
        for (line, says) in said(block) {
            self.edge(&mut item, name, says);
            self.make(&mut item, &mut seen, line, says);
            self.fate(&mut item, &mut seen, line, says);
        }
        if first {
            self.policy.items.push(item);
        }
    }

    /// How it lies on the body and on other items.
    fn edge(&mut self, item: &mut Item, own: &Name, says: &Statement) {
        match says {
            Statement::Covers(areas) => item.covers = item.covers.or(self.areas(areas)),
            Statement::GoesOver(others) => self.others(&mut item.goes_over, own, others),
            Statement::TucksInto(others) => self.others(&mut item.tucks_into, own, others),
            Statement::HoldsDown(others) => self.others(&mut item.holds_down, own, others),
            Statement::ConnectsTo(others) => self.others(&mut item.connects_to, own, others),
            Statement::Grip(parts) => {
                for part in parts {
                    let grip = self.grip(part);
                    if !item.grips.iter().any(|other| other.part == grip.part) {
                        item.grips.push(grip);
                    }
                }
            }
            _ => {}
        }
    }

    /// How it is made.
    fn make(&mut self, item: &mut Item, seen: &mut Seen, line: &Line, says: &Statement) {
        match says {
            Statement::Meets(standard) => item.meets.push(standard.text.clone()),
            Statement::Picture(file) => {
                let picture = Picture { file: file.text.clone(), svg: None, span: file.span };
                self.once(&mut item.picture, &mut seen.picture, Some(picture), line.span);
            }
            Statement::NeedsFitTest if self.is_first(&mut seen.fit, line.span) => item.needs_fit_test = true,
            Statement::Sharp if self.is_first(&mut seen.sharp, line.span) => item.sharp = true,
            Statement::WornBeneath if self.is_first(&mut seen.beneath, line.span) => item.worn_beneath = true,
            Statement::Fills(amount) => {
                let room = self.millilitres(amount);
                self.once(&mut item.millilitres, &mut seen.fills, room, line.span);
            }
            Statement::RunsFor(amount) => {
                let time = self.seconds(amount);
                self.once(&mut item.runs_for, &mut seen.runs, time, line.span);
            }
            Statement::Pairs(count) => self.once(&mut item.pairs, &mut seen.pairs, Some(count.value), line.span),
            Statement::Sizes(sizes) => {
                item.sizes.extend(sizes.iter().map(|size| size.span).map(|span| self.written(span)))
            }
            _ => {}
        }
    }

    /// What becomes of it.
    fn fate(&mut self, item: &mut Item, seen: &mut Seen, line: &Line, says: &Statement) {
        match says {
            Statement::SingleUse if self.is_first(&mut seen.fate, line.span) => item.single_use = true,
            Statement::ReusedAfter(names) => {
                let cleaners = names.iter().filter_map(|name| self.cleaner_id(name)).collect();
                if self.is_first(&mut seen.fate, line.span) {
                    item.reused_after = Some(Reuse { cleaners });
                }
            }
            Statement::GoesTo(container) => {
                let found = self.container_id(container);
                self.once(&mut item.goes_to, &mut seen.goes, found, line.span);
            }
            _ => {}
        }
    }

    /// Whether this is said for the first time; a second time is told.
    fn is_first(&mut self, seen: &mut Option<Span>, span: Span) -> bool {
        match *seen {
            Some(_) => self.again(span, *seen),
            None => *seen = Some(span),
        }
        *seen == Some(span)
    }

    pub(super) fn item_id(&mut self, name: &Name) -> Option<ItemId> {
        self.find(name, ITEM).map(ItemId::new)
    }

    fn others(&mut self, list: &mut Vec<ItemId>, own: &Name, names: &[Name]) {
        for name in names {
            if name.text == own.text {
                let line = self.written(name.span);
                self.problem(ProblemKind::Again { line }, name.span);
                continue;
            }
            match self.item_id(name) {
                Some(id) if !list.contains(&id) => list.push(id),
                _ => {}
            }
        }
    }

    pub(super) fn areas(&mut self, names: &[Name]) -> Areas {
        Areas::of(names.iter().filter_map(|name| self.area(name)).collect::<Vec<_>>())
    }

    pub(super) fn area(&mut self, name: &Name) -> Option<Area> {
        let known = Area::ALL.map(Area::word);
        self.word(name, "a part of the body", &known, Area::from_word)
    }

    fn grip(&mut self, part: &GripPart) -> Grip {
        let lies = part.on.as_ref().and_then(|on| self.area(on)).map_or(Lies::ByCustom, Lies::On);
        Grip { part: part.part.text.clone(), lies }
    }
}
