//! Sequences and contingencies: their steps in order, each with its number, guard and prompts.
//!
//! In: their blocks. Out: steps with the branches flattened into guards. A step that cannot be resolved is left out and
//! counted, so that nobody takes what is left for the whole.

use std::collections::BTreeMap;

use super::Resolution;
use super::branches::Branch;
use super::holds::Pending;
use super::names::LEVEL;
use super::outline::{Block, Entry, Seems, extent, shown};
use super::sentences::Doer;
use super::titles::Bearer;
use crate::policy::{
    Act, Area, Because, CitationId, Contingency, Ending, Event, Gap, GapOf, Guard, LevelId, Part, Prompts, RoleId,
    Sequence, SequenceId, Step,
};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{self, Line, Quote, Sentence, Statement};
use crate::text::Span;

/// Sequences, and as many contingencies: together they are numbered in one row.
const MOST_OF_EACH: usize = (u16::MAX / 2) as usize;

/// A sequence or contingency while its lines are read.
pub(super) struct Draft<'a> {
    level: Option<LevelId>,
    pub steps: Vec<Step>,
    pub parts: Vec<Part>,
    endings: Vec<Ending>,
    pub(super) branches: Vec<Branch>,
    pub(super) beneath: Beneath,
    pending: Vec<Pending<'a>>,
    /// The titles of the parts so far.
    titled: BTreeMap<String, Span>,
    numbered: u32,
    /// Lines that could not be read or resolved.
    pub(super) gaps: Vec<Span>,
}

/// What a prompt would belong to.
#[derive(Clone, Copy, PartialEq)]
pub(super) enum Beneath {
    Nothing,
    Step,
    Hold,
    /// A step that could not be resolved: its prompts go with it.
    Gap,
}

impl Resolution<'_> {
    /// Notes who puts on what in which sequence, before any sentence is looked at.
    pub(super) fn collect_puts_on(&mut self, blocks: &[Block]) {
        for block in blocks {
            let Statement::Sequence { level, .. } = block.says else { continue };
            let Some((_, level)) = self.names.peek(&level.text, LEVEL) else { continue };
            for (_, says) in super::declare::said(block) {
                if let Statement::Step(Sentence { role, verb, .. }) = says {
                    self.note_puts_on(LevelId::new(level), role, verb);
                }
            }
        }
    }

    /// Titles first, then the steps, which may name any of them.
    pub(super) fn sequences(&mut self, blocks: &[Block]) {
        let kept = self.declare_titles(blocks);
        for (block, (level, keep)) in blocks.iter().zip(&kept) {
            match block.says {
                Statement::Sequence { title, place, .. } => {
                    let place = place.as_ref().and_then(|place| self.place_id(place));
                    let draft = self.draft(block, title, *level);
                    let of = level.map_or(GapOf::Everything, GapOf::Steps);
                    self.policy.gaps.extend(draft.gaps.iter().map(|&span| Gap { span, of }));
                    if let (true, Some(level)) = (keep, level) {
                        self.policy.sequences.push(Sequence {
                            title: title.text.clone(),
                            level: *level,
                            place,
                            parts: draft.parts,
                            steps: draft.steps,
                            extent: extent(block),
                            span: block.opener.span,
                        });
                    }
                }
                Statement::Contingency { title, event } => {
                    let event = self.event(event);
                    let draft = self.draft(block, title, None);
                    let of = GapOf::Contingency;
                    self.policy.gaps.extend(draft.gaps.iter().map(|&span| Gap { span, of }));
                    if *keep {
                        self.policy.contingencies.push(Contingency {
                            title: title.text.clone(),
                            event,
                            steps: draft.steps,
                            endings: draft.endings,
                            is_whole: draft.gaps.is_empty(),
                            extent: extent(block),
                            span: block.opener.span,
                        });
                    }
                }
                _ => {}
            }
        }
    }

    /// For each block, its level if it is a sequence, and whether it enters the policy's tables.
    fn declare_titles(&mut self, blocks: &[Block]) -> Vec<(Option<LevelId>, bool)> {
        let (mut sequences, mut contingencies) = (0, 0);
        let mut kept = Vec::with_capacity(blocks.len());
        for block in blocks {
            kept.push(match block.says {
                Statement::Sequence { title, level, .. } => {
                    let level = self.level_id(level);
                    let room = sequences < MOST_OF_EACH;
                    let bearer = match level {
                        Some(_) if room => Bearer::Sequence(SequenceId::new(sequences)),
                        _ => Bearer::Unresolved,
                    };
                    let fresh = self.declare_title(title, bearer);
                    let keep = fresh && bearer != Bearer::Unresolved;
                    sequences += usize::from(keep);
                    (level, keep)
                }
                Statement::Contingency { title, .. } => {
                    let fresh = self.declare_title(title, Bearer::Contingency(contingencies));
                    let keep = fresh && contingencies < MOST_OF_EACH;
                    contingencies += usize::from(keep);
                    (None, keep)
                }
                _ => (None, false),
            });
        }
        kept
    }

    fn declare_title(&mut self, title: &Quote, bearer: Bearer) -> bool {
        match self.titles.add(title, bearer) {
            Some(problem) => {
                self.names.problems.push(problem);
                false
            }
            None => true,
        }
    }

    fn draft<'b>(&mut self, block: &Block<'b>, own: &Quote, level: Option<LevelId>) -> Draft<'b> {
        let mut draft = Draft {
            level,
            steps: Vec::new(),
            parts: Vec::new(),
            endings: Vec::new(),
            branches: Vec::new(),
            beneath: Beneath::Nothing,
            pending: Vec::new(),
            titled: BTreeMap::new(),
            numbered: 0,
            gaps: Vec::new(),
        };
        for entry in &block.entries {
            match *entry {
                Entry::Says(line, says) => {
                    let failed = self.names.failed;
                    self.line(&mut draft, line, says);
                    if self.names.failed > failed && !says.is_prompt() {
                        draft.gaps.push(line.span);
                    }
                }
                Entry::Hole(line, seems) => draft.hole(line, seems),
            }
        }
        self.close_branches(&mut draft);
        let pending = std::mem::take(&mut draft.pending);
        self.settle_holds(own, &draft.parts, &mut draft.steps, &pending);
        draft
    }

    fn line<'b>(&mut self, draft: &mut Draft<'b>, line: &'b Line, says: &'b Statement) {
        match says {
            Statement::Step(sentence) => self.step(draft, line, sentence),
            Statement::Part(title) => self.part(draft, line, title),
            Statement::Hold(title) => self.hold(draft, line, title),
            Statement::Confirms { .. } | Statement::IfNotGoBack(_) | Statement::IfNotStart(_) => {
                match (draft.beneath, draft.steps.len().checked_sub(1)) {
                    (Beneath::Hold, Some(at)) => {
                        let mut pending = std::mem::take(&mut draft.pending);
                        self.hold_line(&mut draft.steps[at], at, line, says, &mut pending);
                        draft.pending = pending;
                    }
                    (Beneath::Gap, _) => {}
                    _ => self.astray(line, "beneath a hold"),
                }
            }
            Statement::If(_) | Statement::Otherwise | Statement::EndIf => self.branch(draft, line, says),
            Statement::ThenCarryOn => draft.endings.push(Ending::CarryOn),
            Statement::ThenStart(title) => {
                let ending = self.sequence_titled(title).map_or(Ending::Nowhere, Ending::Start);
                draft.endings.push(ending);
            }
            _ => self.prompt(draft, line, says),
        }
    }

    fn astray(&mut self, line: &Line, belongs: &'static str) {
        let kind = ProblemKind::Astray { line: shown(self.sources, line.span), belongs };
        self.problem(kind, line.span);
    }

    fn step(&mut self, draft: &mut Draft, line: &Line, sentence: &Sentence) {
        let role = self.role_id(&sentence.role);
        let guard = self.when(&sentence.when);
        let doer = role.map(|role| Doer { role, level: draft.level });
        // A sentence whose role is unknown is looked through too, for the other names in it.
        let act = match doer.or_else(|| self.stand_in().map(|role| Doer { role, level: draft.level })) {
            Some(doer) => self.act(doer, &sentence.verb),
            None => None,
        };
        let guard = guard.and_then(|guard| self.both(&draft.guard(), &guard, line.span));
        let (Some(actor), Some(act), Some(guard)) = (role, act, guard) else {
            draft.beneath = Beneath::Gap;
            return;
        };
        if sentence.verb.helped().is_some_and(|helped| self.role_named(helped) == Some(actor)) {
            let who = self.policy.role(actor).name.clone();
            self.problem(ProblemKind::Oneself { who }, line.span);
            draft.gaps.push(line.span);
            draft.beneath = Beneath::Gap;
            return;
        }
        draft.numbered += 1;
        draft.steps.push(Step {
            number: Some(draft.numbered),
            actor,
            act,
            guard,
            prompts: Prompts::default(),
            words: self.written(line.span),
            span: line.span,
        });
        draft.beneath = Beneath::Step;
    }

    fn part(&mut self, draft: &mut Draft, line: &Line, title: &Quote) {
        draft.beneath = Beneath::Nothing;
        if let Some(first) = draft.titled.insert(super::titles::fold(&title.text), line.span) {
            let related = vec![(first, "It is used here first.".to_owned())];
            let kind = ProblemKind::Twice { written: title.text.clone(), what: "a part" };
            self.names.problems.push(crate::syntax::problem::Problem { kind, span: title.span, related });
            return;
        }
        self.titles.add_place(&title.text);
        draft.parts.push(Part { title: title.text.clone(), first: draft.steps.len(), span: line.span });
    }

    fn hold(&mut self, draft: &mut Draft, line: &Line, title: &Quote) {
        self.titles.add_place(&title.text);
        let Some(actor) = self.stand_in() else {
            draft.gaps.push(line.span);
            draft.beneath = Beneath::Gap;
            return;
        };
        draft.steps.push(Step {
            number: None,
            actor,
            act: Act::Hold(Self::new_hold(title)),
            guard: draft.guard(),
            prompts: Prompts::default(),
            words: self.written(line.span),
            span: line.span,
        });
        draft.beneath = Beneath::Hold;
    }

    fn prompt(&mut self, draft: &mut Draft, line: &Line, says: &Statement) {
        let for_steps_only = matches!(says, Statement::Takes(_) | Statement::PrintAs(_));
        match draft.beneath {
            Beneath::Gap => return,
            Beneath::Step => {}
            Beneath::Hold if !for_steps_only => {}
            _ if for_steps_only => return self.astray(line, "beneath a step"),
            _ if says.is_prompt() => return self.astray(line, "beneath a step or a hold"),
            _ => return,
        }
        let because = match says {
            Statement::Because { reason, source } => {
                let citation =
                    source.as_ref().and_then(|name| self.find(name, super::names::SOURCE)).map(CitationId::new);
                Some(Because { reason: reason.text.clone(), citation })
            }
            _ => None,
        };
        let time = if let Statement::Takes(amount) = says { self.seconds(amount) } else { None };
        let Some(step) = draft.steps.last_mut() else { return };
        let prompts = &mut step.prompts;
        match says {
            Statement::Say(words) => prompts.say.push(words.text.clone()),
            Statement::LookFor(words) => prompts.look_for.push(words.text.clone()),
            Statement::StopIf(words) => prompts.stop_if.push(words.text.clone()),
            Statement::Caution(words) => prompts.caution.push(words.text.clone()),
            Statement::Warning(words) => prompts.warning.push(words.text.clone()),
            Statement::Danger(words) => prompts.danger.push(words.text.clone()),
            Statement::Because { .. } => prompts.because.extend(because),
            Statement::Takes(_) if prompts.takes.is_some() => self.again(line.span, None),
            Statement::Takes(_) => prompts.takes = time,
            Statement::PrintAs(_) if prompts.print_as.is_some() => self.again(line.span, None),
            Statement::PrintAs(words) => prompts.print_as = Some(words.text.clone()),
            _ => {}
        }
    }

    fn role_named(&self, name: &tree::Name) -> Option<RoleId> {
        self.names.peek(&name.text, super::names::ROLE).map(|(_, index)| RoleId::new(index))
    }

    fn event(&mut self, event: &tree::Event) -> Event {
        let item = self.subject(&event.subject).flatten();
        let bare = super::names::without_article(&event.subject.text).unwrap_or(&event.subject.text);
        let role = self.role_named(&event.subject);
        Event {
            words: event.words.text.clone(),
            item,
            area: Area::from_word(bare),
            role,
            state: event.state.text.clone(),
        }
    }
}

impl Draft<'_> {
    /// When the next line happens.
    pub(super) fn guard(&self) -> Guard {
        self.branches.last().map_or_else(Guard::always, |branch| branch.now.clone())
    }

    /// A line that could not be read; what follows from it is not told again.
    fn hole(&mut self, line: &Line, seems: Seems) {
        match seems {
            Seems::Branch => {
                self.gaps.push(line.span);
                let (outer, now) = (self.guard(), self.guard());
                self.branches.push(Branch {
                    opened: line.span,
                    outer,
                    condition: None,
                    otherwise: false,
                    now,
                    unread: true,
                });
            }
            Seems::EndOfBranch => {
                self.branches.pop();
            }
            Seems::Step => {
                self.gaps.push(line.span);
                self.beneath = Beneath::Gap;
            }
            // A drill without its ending is not whole.
            Seems::Ending => self.gaps.push(line.span),
            Seems::Beneath | Seems::Opener => {}
        }
    }
}
