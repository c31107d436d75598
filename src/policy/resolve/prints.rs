//! What is to be printed, the exceptions that are accepted, and the reasons for departing from a reference.
//!
//! In: `print`, `accept` and `differ` blocks. Out: prints, exceptions and deviations.

use super::Resolution;
use super::declare::said;
use super::names::SOURCE;
use super::outline::Block;
use super::titles::{Bearer, fold};
use crate::policy::print::{KINDS, KindOfAid, Of};
use crate::policy::{
    AidKind, Because, CitationId, Deviation, Exception, LevelId, PaperSize, PlaceId, Print, RoleId, Subject,
};
use crate::syntax::declared::Thing;
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Date, Name, Quote, Statement, Target};
use crate::text::Span;

/// What the choice of level is called where it is named like a thing.
const CHOICE_OF_LEVEL: &str = "choice of level";

fn kind_named(word: &str) -> Option<&'static KindOfAid> {
    KINDS.iter().find(|row| row.words.contains(&word))
}

impl Resolution<'_> {
    /// After all titles are known.
    pub(super) fn prints(&mut self, blocks: &[Block]) {
        if let Some(title) = self.policy.paper.title.clone() {
            self.titles.add_place(&title);
        }
        for block in blocks {
            match block.says {
                Statement::Print { kind, of } => self.print(block, kind, of),
                Statement::Accept { finding, at, because, until } => {
                    self.accept(block.opener.span, finding, at, because, until);
                }
                Statement::Differ { at, because, source } => {
                    let citation = source.as_ref().and_then(|name| self.find(name, SOURCE)).map(CitationId::new);
                    let because = Because { reason: because.text.clone(), citation };
                    self.policy.deviations.push(Deviation { at: at.text.clone(), because, span: block.opener.span });
                }
                _ => {}
            }
        }
    }

    fn print(&mut self, block: &Block, kind: &Name, of: &Target) {
        let known: Vec<&'static str> = KINDS.iter().flat_map(|row| row.words).copied().collect();
        let kind = self.word(kind, "a kind of aid", &known, kind_named);
        let subject = self.print_subject(block.opener.span, kind, of);
        let mut print = Print {
            kind: kind.map_or(AidKind::Poster, |row| row.kind),
            subject: subject.unwrap_or(Subject::Policy),
            paper: kind.map_or(PaperSize::A4, |row| row.paper),
            read_from_mm: None,
            copies: Vec::new(),
            laminated: false,
            both_sides: false,
            span: block.opener.span,
        };
        self.print_lines(block, &mut print);
        if kind.is_some() && subject.is_some() {
            self.policy.prints.push(print);
        }
    }

    fn print_lines(&mut self, block: &Block, print: &mut Print) {
        let (mut sized, mut distant): (Option<Span>, Option<Span>) = (None, None);
        for (line, says) in said(block) {
            match says {
                Statement::OnPaper(name) => {
                    let known: Vec<&'static str> = PaperSize::ALL.map(PaperSize::word).to_vec();
                    let read = |word: &str| PaperSize::from_word(word);
                    let size = self.word(name, "a size of paper", &known, read);
                    let mut slot = Some(print.paper);
                    self.once(&mut slot, &mut sized, size, line.span);
                    print.paper = slot.unwrap_or(print.paper);
                }
                Statement::ReadFrom(amount) => {
                    let distance = self.millimetres(amount);
                    self.once(&mut print.read_from_mm, &mut distant, distance, line.span);
                }
                Statement::Copies { count, place } => {
                    print.copies.push((count.value, place.as_ref().map(|quote| quote.text.clone())));
                }
                Statement::Laminated if print.laminated => self.again(line.span, None),
                Statement::Laminated => print.laminated = true,
                Statement::BothSides if print.both_sides => self.again(line.span, None),
                Statement::BothSides => print.both_sides = true,
                _ => {}
            }
        }
    }

    /// What an aid is of: what its kind can be of, by the table of kinds.
    fn print_subject(&mut self, span: Span, kind: Option<&KindOfAid>, of: &Target) -> Option<Subject> {
        let takes = |of: Of| kind.is_none_or(|row| row.of.contains(&of));
        let example = kind.map_or(KINDS[0].example, |row| row.example);
        match of {
            Target::Title(title) => {
                let subject = self.titled(title)?;
                let is_event = matches!(subject, Subject::Contingency(_));
                let fits = takes(Of::Title) || is_event && takes(Of::Event);
                if fits { Some(subject) } else { self.unlike(span, example) }
            }
            Target::Name(name) if name.text == CHOICE_OF_LEVEL && takes(Of::Policy) => Some(Subject::Policy),
            Target::Name(name) if takes(Of::PlaceOrRole) => {
                let (thing, index) = self.names.find(name, super::names::LEVEL_PLACE_OR_ROLE)?;
                Some(match thing {
                    Thing::Place => Subject::Place(PlaceId::new(index)),
                    Thing::Role => Subject::Role(RoleId::new(index)),
                    _ => Subject::Level(LevelId::new(index)),
                })
            }
            Target::Name(name) if takes(Of::Level) => {
                self.find(name, super::names::LEVEL).map(LevelId::new).map(Subject::Level)
            }
            Target::Nothing if takes(Of::Policy) => kind.map(|_| Subject::Policy),
            Target::Name(_) | Target::Nothing => self.unlike(span, example),
        }
    }

    fn unlike(&mut self, span: Span, seems: &'static str) -> Option<Subject> {
        self.problem(ProblemKind::Line { seems: Some(seems.into()), wanted: Vec::new() }, span);
        None
    }

    fn titled(&mut self, title: &Quote) -> Option<Subject> {
        match self.titles.find(&title.text) {
            Some(Bearer::Sequence(id)) => Some(Subject::Sequence(id)),
            Some(Bearer::Contingency(at)) => Some(Subject::Contingency(at)),
            Some(Bearer::Unresolved) => None,
            None => {
                let near = self.titles.near_any(&title.text);
                let kind =
                    ProblemKind::Title { written: title.text.clone(), what: "a sequence or a contingency", near };
                self.names.tell((fold(&title.text), "a title"), title.span, kind);
                None
            }
        }
    }

    fn accept(&mut self, span: Span, finding: &Name, at: &Quote, because: &Quote, until: &Date) {
        let until = self.day(until);
        if !self.titles.knows_place(&at.text) {
            let near = self.titles.near_place(&at.text);
            let kind = ProblemKind::Title {
                written: at.text.clone(),
                what: "a sequence, a part, a hold or a contingency",
                near,
            };
            return self.problem(kind, at.span);
        }
        if let Some(until) = until {
            self.policy.exceptions.push(Exception {
                finding: finding.text.replace('-', " "),
                at: at.text.clone(),
                because: because.text.clone(),
                until,
                span,
                finding_span: finding.span,
            });
        }
    }
}
