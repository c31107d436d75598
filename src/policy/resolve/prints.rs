//! What is to be printed, and the exceptions that are accepted.
//!
//! In: `print` and `accept` blocks. Out: prints and exceptions.

use super::Resolution;
use super::declare::said;
use super::outline::Block;
use super::titles::{Bearer, fold};
use crate::policy::{AidKind, Exception, LevelId, PaperSize, Print, Subject};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Date, Name, Quote, Statement, Target};
use crate::text::Span;

const MADE: [(&str, AidKind); 6] = [
    ("observer card", AidKind::ObserverCard),
    ("wearer card", AidKind::WearerCard),
    ("helper card", AidKind::HelperCard),
    ("poster", AidKind::Poster),
    ("kit list", AidKind::KitList),
    ("walk chart", AidKind::WalkChart),
];

/// Kinds that the language knows and that this edition does not make.
const LATER: [&str; 14] = [
    "choice poster",
    "trolley check",
    "door sign",
    "area plan",
    "event card",
    "entry log",
    "exit log",
    "entry and exit log",
    "competence record",
    "observation form",
    "incident form",
    "change slip",
    "review sheet",
    "pack",
];

fn kind_named(word: &str) -> Option<AidKind> {
    let made = MADE.into_iter().find(|(name, _)| *name == word).map(|(_, kind)| kind);
    made.or_else(|| LATER.into_iter().find(|name| *name == word).map(AidKind::Later))
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
                _ => {}
            }
        }
    }

    fn print(&mut self, block: &Block, kind: &Name, of: &Target) {
        let known: Vec<&'static str> = MADE.iter().map(|(name, _)| *name).chain(LATER).collect();
        let kind = self.word(kind, "a kind of aid", &known, kind_named);
        let subject = self.print_subject(block.opener.span, kind, of);
        let card = matches!(kind, Some(AidKind::ObserverCard | AidKind::WearerCard | AidKind::HelperCard));
        let mut print = Print {
            kind: kind.unwrap_or(AidKind::Poster),
            subject: subject.unwrap_or(Subject::Policy),
            paper: if card { PaperSize::A6 } else { PaperSize::A4 },
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

    /// What an aid is of: cards and posters of a sequence or contingency, a kit list of a level.
    fn print_subject(&mut self, span: Span, kind: Option<AidKind>, of: &Target) -> Option<Subject> {
        match (kind, of) {
            (_, Target::Title(title)) => {
                let subject = self.titled(title)?;
                match kind {
                    Some(AidKind::KitList) => self.unlike(span, "print kit list of LEVEL"),
                    _ => Some(subject),
                }
            }
            (Some(AidKind::KitList | AidKind::WalkChart | AidKind::Later(_)) | None, Target::Name(name)) => {
                let later = matches!(kind, Some(AidKind::Later(_)));
                if later && self.names.peek(&name.text, super::names::LEVEL).is_none() && name.text == "choice of level"
                {
                    return Some(Subject::Policy);
                }
                self.find(name, super::names::LEVEL).map(LevelId::new).map(Subject::Level)
            }
            (Some(AidKind::Later(_)), Target::Nothing) => Some(Subject::Policy),
            (Some(AidKind::KitList), Target::Nothing) => self.unlike(span, "print kit list of LEVEL"),
            (Some(AidKind::WalkChart), Target::Nothing) => self.unlike(span, "print walk chart of \"Taking off\""),
            (Some(AidKind::Poster), _) => self.unlike(span, "print poster of \"Taking off\""),
            (Some(AidKind::HelperCard), _) => self.unlike(span, "print helper card of \"Taking off\""),
            (Some(AidKind::WearerCard), _) => self.unlike(span, "print wearer card of \"Taking off\""),
            (Some(AidKind::ObserverCard), _) => self.unlike(span, "print observer card of \"Taking off\""),
            (None, Target::Nothing) => None,
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
