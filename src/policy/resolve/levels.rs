//! Kit levels and the choice between them.
//!
//! In: level and choice blocks. Out: levels in the order of the identifiers, and one choice.

use super::Resolution;
use super::declare::{ROUTES, said};
use super::names::{LEVEL, QUESTION, ROLE, Wanted};
use super::outline::{Block, extent};
use crate::policy::{
    Areas, Assumption, Choice, HazardId, Kit, Level, LevelId, Margin, QuestionId, RoleId, Route, Shield, Verdict, Worn,
};
use crate::syntax::declared::Thing;
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree;
use crate::syntax::tree::{Answer, Count, Line, Name, Statement};
use crate::text::Span;

const HAZARD: Wanted = Wanted { kinds: &[Thing::Hazard], what: "a hazard or a way of spreading" };

#[derive(Default)]
struct Seen {
    assumed: Option<Span>,
    stay: Option<Span>,
}

impl Resolution<'_> {
    pub(super) fn level_id(&mut self, name: &Name) -> Option<LevelId> {
        self.find(name, LEVEL).map(LevelId::new)
    }

    pub(super) fn role_id(&mut self, name: &Name) -> Option<RoleId> {
        self.find(name, ROLE).map(RoleId::new)
    }

    pub(super) fn level(&mut self, block: &Block, name: &Name, against: &[Name], first: bool) {
        let (against_hazards, routes) = self.against(against);
        let mut level = Level {
            name: self.written(name.span),
            against_hazards,
            routes,
            kits: Vec::new(),
            keep_covered: Areas::NONE,
            assume: None,
            margins: Vec::new(),
            stay: None,
            wishes: Vec::new(),
            span: block.opener.span,
            extent: extent(block),
        };
        let mut seen = Seen::default();
        for (line, says) in said(block) {
            match says {
                Statement::Wears { role, items } => self.kit(&mut level, line, role, items),
                Statement::KeepAway { what, touches, slips } => self.margin(&mut level, line, what, touches, *slips),
                Statement::Needs(wish) => level.wishes.extend(self.wish(wish, false)),
                Statement::Forbids(wish) => level.wishes.extend(self.wish(wish, true)),
                _ => self.level_line(&mut level, &mut seen, line, says),
            }
        }
        if first {
            self.titles.add_place(&level.name);
            self.policy.levels.push(level);
        }
    }

    fn level_line(&mut self, level: &mut Level, seen: &mut Seen, line: &Line, says: &Statement) {
        match says {
            Statement::KeepCovered(areas) => level.keep_covered = level.keep_covered.or(self.areas(areas)),
            Statement::AssumeFronts => {
                self.once(&mut level.assume, &mut seen.assumed, Some(Assumption::Fronts), line.span);
            }
            Statement::AssumeEverything => {
                self.once(&mut level.assume, &mut seen.assumed, Some(Assumption::EveryOutside), line.span);
            }
            Statement::StayNoLonger(amount) => {
                let time = self.seconds(amount);
                self.once(&mut level.stay, &mut seen.stay, time, line.span);
            }
            _ => {}
        }
    }

    /// A route's own word wins over a hazard of the same name only where no hazard bears it.
    fn against(&mut self, names: &[Name]) -> (Vec<HazardId>, Vec<Route>) {
        let (mut hazards, mut routes) = (Vec::new(), Vec::new());
        for name in names {
            if let Some((_, index)) = self.names.peek(&name.text, HAZARD) {
                hazards.push(HazardId::new(index));
            } else if let Some(route) = Route::from_word(&name.text) {
                routes.push(route);
            } else if let Some(near) = super::near(&name.text, ROUTES).filter(|near| near.sure)
                && self.names.nearest(&name.text, HAZARD).is_none_or(|hazard| !hazard.sure)
            {
                let route = Route::from_word(near.name);
                let kind = ProblemKind::Name {
                    written: name.text.clone(),
                    what: HAZARD.what,
                    near: Some(near.name.to_owned()),
                };
                self.problem(kind, name.span);
                routes.extend(route);
            } else {
                hazards.extend(self.find(name, HAZARD).map(HazardId::new));
            }
        }
        hazards.sort();
        hazards.dedup();
        for &hazard in &hazards {
            routes.extend(self.policy.hazard(hazard).spreads_by.iter().copied());
        }
        routes.sort();
        routes.dedup();
        (hazards, routes)
    }

    fn kit(&mut self, level: &mut Level, line: &Line, role: &Name, items: &[tree::Worn]) {
        let found: Vec<Worn> = items.iter().filter_map(|worn| self.worn(worn)).collect();
        let Some(role) = self.role_id(role) else { return };
        let at = level.kits.iter().position(|kit| kit.role == role).unwrap_or_else(|| {
            level.kits.push(Kit { role, items: Vec::new(), span: line.span });
            level.kits.len() - 1
        });
        for worn in found {
            match level.kits[at].items.iter().find(|other| other.item == worn.item) {
                Some(other) => {
                    let first = other.span;
                    self.again(worn.span, Some(first));
                }
                None => level.kits[at].items.push(worn),
            }
        }
    }

    fn worn(&mut self, worn: &tree::Worn) -> Option<Worn> {
        let item = self.item_id(&worn.item)?;
        let pairs = worn.pairs.as_ref().map(|count| count.value).or(self.policy.item(item).pairs).unwrap_or(1);
        let span = worn.pairs.as_ref().map_or(worn.item.span, |count| count.span.to(worn.item.span));
        Some(Worn { item, pairs, span })
    }

    fn margin(&mut self, level: &mut Level, line: &Line, what: &Name, touches: &Count, slips: u8) {
        let read = |word: &str| match word {
            "skin" => Some(Shield::Skin),
            "face" => Some(Shield::Face),
            "clothes" => Some(Shield::Clothes),
            _ => None,
        };
        let Some(shield) = self.word(what, "what a level keeps away", &["skin", "face", "clothes"], read) else {
            return;
        };
        match level.margins.iter().find(|margin| margin.shield == shield && margin.slips == slips) {
            Some(first) => {
                let first = first.span;
                self.again(line.span, Some(first));
            }
            None => level.margins.push(Margin { shield, touches: touches.value, slips, span: line.span }),
        }
    }

    /// One policy has one choice: a second `choice of level` is told, and its lines join the first.
    pub(super) fn choice(&mut self, block: &Block) {
        let span = block.opener.span;
        let mut choice: Choice = self.policy.choice.take().unwrap_or_default();
        match choice.span {
            Some(first) => self.again(span, Some(first)),
            None => choice.span = Some(span),
        }
        for (line, says) in said(block) {
            match says {
                Statement::Gives { answers, level } => {
                    let found = self.answers(line, answers);
                    if let (Some(answers), Some(level)) = (found, self.level_id(level)) {
                        choice.verdicts.push(Verdict { answers, level, span: line.span });
                    }
                }
                Statement::OtherwiseGives(level) => {
                    if let Some(level) = self.level_id(level) {
                        choice.verdicts.push(Verdict { answers: Vec::new(), level, span: line.span });
                    }
                }
                Statement::Outranks { higher, lower } => {
                    if let (Some(higher), Some(lower)) = (self.level_id(higher), self.level_id(lower)) {
                        choice.outranks.push((higher, lower));
                        choice.outrank_spans.push(line.span);
                    }
                }
                _ => {}
            }
        }
        self.policy.choice = Some(choice);
    }

    fn answers(&mut self, line: &Line, answers: &[Answer]) -> Option<Vec<(QuestionId, bool)>> {
        let mut found: Vec<(QuestionId, bool)> = Vec::new();
        let mut whole = true;
        for answer in answers {
            match self.find(&answer.question, QUESTION).map(QuestionId::new) {
                Some(id) if found.iter().any(|&(other, _)| other == id) => self.again(line.span, None),
                Some(id) => found.push((id, answer.yes)),
                None => whole = false,
            }
        }
        whole.then_some(found)
    }
}
