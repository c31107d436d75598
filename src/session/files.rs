//! The files of one policy: found by their uses, depth first, each once.
//!
//! In: the main file and a shelf. Out: sources, trees, and a problem for each use that leads nowhere or in a circle.

use super::{Reading, Shelf};
use crate::syntax::problem::{Problem, ProblemKind};
use crate::syntax::tree::{Quote, Tree};
use crate::syntax::{self, Declared, declarations};
use crate::text::{Source, SourceId, Sources, Span};

/// Files that one policy may use, itself included.
pub const MOST_FILES: usize = 64;

struct Gathering<'a> {
    shelf: &'a dyn Shelf,
    sources: Sources,
    names: Vec<String>,
    /// The chain of uses that led to the file in hand.
    path: Vec<String>,
    problems: Vec<Problem>,
}

pub(super) fn gather(main_name: &str, main_text: String, shelf: &dyn Shelf) -> (Sources, Vec<Problem>) {
    let mut gathering =
        Gathering { shelf, sources: Sources::default(), names: Vec::new(), path: Vec::new(), problems: Vec::new() };
    gathering.file(main_name.to_owned(), main_text);
    (gathering.sources, gathering.problems)
}

impl Gathering<'_> {
    /// At most [`MOST_FILES`] deep, since each file is entered once.
    fn file(&mut self, name: String, text: String) {
        let id = self.sources.add(Source::new(name.clone(), text));
        self.names.push(name.clone());
        self.path.push(name.clone());
        for quote in uses(id, &self.sources.get(id).text) {
            self.follow(&name, &quote);
        }
        self.path.pop();
    }

    fn follow(&mut self, from: &str, quote: &Quote) {
        match self.shelf.fetch(from, &quote.text) {
            Err(why) => self.tell(ProblemKind::File { written: quote.text.clone(), why }, quote.span),
            Ok((name, _)) if self.path.contains(&name) => {
                let start = self.path.iter().position(|file| *file == name).unwrap_or_default();
                let files = self.path[start..].iter().cloned().chain([name]).collect();
                self.tell(ProblemKind::Circle { files }, quote.span);
            }
            Ok((name, _)) if self.names.contains(&name) => {}
            Ok(_) if self.names.len() >= MOST_FILES => {
                let why = format!("the policy uses {MOST_FILES} files already, which is the limit");
                self.tell(ProblemKind::File { written: quote.text.clone(), why }, quote.span);
            }
            Ok((name, text)) => self.file(name, text),
        }
    }

    fn tell(&mut self, kind: ProblemKind, span: Span) {
        self.problems.push(Problem { kind, span, related: Vec::new() });
    }
}

/// The `use` lines of a file. Only a file that seems to have some is read for them.
fn uses(id: SourceId, text: &str) -> Vec<Quote> {
    let has_use = text.to_lowercase().lines().any(|line| {
        line.trim_start_matches(|c: char| !c.is_alphabetic())
            .strip_prefix("use")
            .is_some_and(|rest| !rest.starts_with(char::is_alphabetic))
    });
    if !has_use {
        return Vec::new();
    }
    syntax::uses(id, text, &declarations(text))
}

/// Every file read, with the names that all of them declare.
pub(super) fn parse_all(sources: &Sources) -> (Vec<Tree>, Vec<Problem>) {
    let declared = declared_in(sources);
    let (mut trees, mut problems) = (Vec::new(), Vec::new());
    for (id, source) in sources.iter() {
        let (tree, unread) = syntax::parse(id, &source.text, &declared);
        trees.push(tree);
        problems.extend(unread);
    }
    (trees, problems)
}

/// The names that any of the files declares.
pub(super) fn declared_in(sources: &Sources) -> Declared {
    let mut declared = Declared::default();
    for (_, source) in sources.iter() {
        declared.extend(&declarations(&source.text));
    }
    declared
}

/// The lines that match no sentence.
pub(super) fn unread_lines(trees: &[Tree], problems: &[Problem]) -> Vec<Span> {
    let unread = |problem: &&Problem| matches!(problem.kind, ProblemKind::Line { .. });
    let line_of = |problem: &Problem| {
        let mut lines = trees.iter().flat_map(|tree| &tree.lines).map(|line| line.span);
        lines.find(|&line| within(problem.span, line))
    };
    problems.iter().filter(unread).filter_map(line_of).collect()
}

/// A name or a title that stands for nothing, in a line that cannot be read as it stands: one mistake is told once.
pub(super) fn lies_in(problem: &Problem, unread: &[Span]) -> bool {
    let named = matches!(problem.kind, ProblemKind::Name { .. } | ProblemKind::Title { .. } | ProblemKind::Kind { .. });
    named && problem.related.is_empty() && unread.iter().any(|&line| within(problem.span, line))
}

fn within(span: Span, line: Span) -> bool {
    span.source == line.source && line.start <= span.start && span.end <= line.end
}

/// A name that nothing declares and that resembles nothing may be declared in the file that could not be had.
pub(super) fn may_be_elsewhere(problem: &Problem) -> bool {
    matches!(problem.kind, ProblemKind::Name { near: None, .. })
}

/// The words of the line in which a place lies.
pub(super) fn line_of(reading: &Reading, span: Span) -> String {
    let tree = reading.trees.iter().find(|tree| tree.source == span.source);
    let line = tree.and_then(|tree| {
        let at = tree.lines.partition_point(|line| line.span.end < span.start);
        tree.lines.get(at).filter(|line| line.span.start <= span.start)
    });
    let text = reading.sources.text(line.map_or(span, |line| line.span));
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
