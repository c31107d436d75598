//! Reads a text line by line: the only file that knows the grammar's engine.
//!
//! In: a source's text and the names that the policy's files declare. Out: a [`Tree`] and a [`Problem`] for each mistake.
//! Each line is read on its own, by the rule of the sentence that its first words make it. What cannot be read becomes a
//! hole; it is read once more with every declared name ending where it ends, to place the message where the writing stops
//! making sense. Must never panic, whatever the text, nor let one line spoil the next.

use std::num::NonZeroUsize;
use std::sync::Once;

use pest::Parser;
use pest::error::{ErrorVariant, InputLocation};
use pest_derive::Parser;

use super::declared::Declared;
use super::leaves::Leaf;
use super::lines::{Piece, pieces};
use super::problem::{Problem, ProblemKind};
use super::seems::seems;
use super::tree::{Line, Quote, Spelling, Statement, Token, TokenKind, Tree, What};
use super::written::{Written, is_double_quote};
use crate::text::misleading::{Misleads, script, title, unseen_in};
use crate::text::{SourceId, Span};

#[derive(Parser)]
#[grammar = "../grammar/policy.pest"]
struct Grammar;

/// A text longer than this is no procedure; it is not read, and one problem says so.
pub const LONGEST_TEXT: usize = 4 * 1024 * 1024;
/// The longest line that is read, notes apart, in bytes.
pub const LONGEST_LINE: usize = 4000;
/// Far above what a line of that length can need.
const CALLS: usize = 4_000_000;

/// Where reading stopped in the plain line, and what would have gone on there.
pub(super) struct Stop {
    pub at: usize,
    pub rules: Vec<Rule>,
}

/// Reads a plain line by one rule.
pub(super) fn leaves_of(rule: Rule, plain: &str) -> Result<Vec<Leaf>, Stop> {
    let pairs = Grammar::parse(rule, plain).map_err(|error| {
        let at = match error.location {
            InputLocation::Pos(at) | InputLocation::Span((at, _)) => at,
        };
        let rules = match error.variant {
            ErrorVariant::ParsingError { positives, .. } => positives,
            ErrorVariant::CustomError { .. } => Vec::new(),
        };
        Stop { at, rules }
    })?;
    let leaves = pairs.flatten().skip(1).filter(|pair| pair.as_rule() != Rule::EOI);
    Ok(leaves
        .map(|pair| {
            let span = pair.as_span();
            Leaf { rule: pair.as_rule(), start: span.start(), end: span.end() }
        })
        .collect())
}

/// Every rule of the grammar, for the tests that go over them all.
#[cfg(test)]
pub(super) fn rules() -> &'static [Rule] {
    Rule::all_rules()
}

pub fn parse(source: SourceId, text: &str, declared: &Declared) -> (Tree, Vec<Problem>) {
    read(source, text, declared, |_| true)
}

/// The files that a text says it uses. A line with a mistyped opening may be one of them, so it is read, too.
pub fn uses(source: SourceId, text: &str, declared: &Declared) -> Vec<Quote> {
    let (tree, _) = read(source, text, declared, |rule| matches!(rule, None | Some(Rule::uses)));
    let said = tree.lines.into_iter().filter_map(|line| match line.what {
        What::Statement(Statement::Use(quote)) => Some(quote),
        _ => None,
    });
    said.collect()
}

/// Reads the lines that seem to be made by a rule that is asked for.
fn read(source: SourceId, text: &str, declared: &Declared, reads: fn(Option<Rule>) -> bool) -> (Tree, Vec<Problem>) {
    static LIMIT: Once = Once::new();
    LIMIT.call_once(|| pest::set_call_limit(NonZeroUsize::new(CALLS)));
    let mut reader = Reader { source, text, declared, reads, lines: Vec::new(), problems: Vec::new() };
    if text.len() > LONGEST_TEXT {
        let why = "it holds more than four million characters, which no procedure does".to_owned();
        let span = Span::new(source, 0, 0);
        reader.tell(ProblemKind::File { written: String::new(), why }, span);
    } else {
        reader.read();
        if reader.lines.is_empty() {
            reader.tell(ProblemKind::Empty, Span::new(source, 0, 0));
        }
    }
    reader.problems.sort_by_key(|problem| problem.span);
    (Tree { source, lines: reader.lines }, reader.problems)
}

/// Where the word ends that makes a line a note, whatever hides in it.
fn note_word(text: &str, piece: Piece) -> Option<usize> {
    let word = text[piece.start..piece.end].split(|c: char| c.is_whitespace() || c == ':').next()?;
    let end = piece.start + word.len();
    let is_note = if word.bytes().all(|byte| byte.is_ascii_graphic()) {
        word.eq_ignore_ascii_case("note")
    } else {
        Written::exactly(text, &[Piece { start: piece.start, end }]).plain == "note"
    };
    is_note.then_some(end)
}

/// Whether a line that ends in a comma outside quotes goes on in the next. It does not where the next makes a statement of its
/// own: then the comma is a slip.
pub(super) fn goes_on(text: &str, piece: Piece, next: Piece, declared: &Declared) -> bool {
    let line = &text[piece.start..piece.end];
    if !line.ends_with(',')
        || line.chars().filter(|&c| is_double_quote(c)).count() % 2 == 1
        || note_word(text, next).is_some()
    {
        return false;
    }
    if next.end - next.start > LONGEST_LINE {
        return true;
    }
    let written = written(text, &[next], declared);
    match seems(&written.plain, declared) {
        None | Some(Rule::if_so | Rule::because | Rule::answers) => true,
        Some(Rule::spoken) if !declared.begins(&written.plain) => true,
        Some(rule) => leaves_of(rule, &written.plain).is_err(),
    }
}

fn written(text: &str, pieces: &[Piece], declared: &Declared) -> Written {
    let mut written = Written::new(text, pieces);
    written.join(declared);
    written
}

pub(super) struct Reader<'a> {
    pub source: SourceId,
    pub text: &'a str,
    pub declared: &'a Declared,
    /// Whether to read a line, by the rule that its first words make it.
    pub reads: fn(Option<Rule>) -> bool,
    lines: Vec<Line>,
    problems: Vec<Problem>,
}

impl Reader<'_> {
    pub fn tell(&mut self, kind: ProblemKind, span: Span) {
        self.problems.push(Problem { kind, span, related: Vec::new() });
    }

    fn read(&mut self) {
        let pieces = pieces(self.text);
        let mut at = 0;
        while at < pieces.len() {
            let mut until = at + 1;
            if note_word(self.text, pieces[at]).is_none() {
                while until < pieces.len() && goes_on(self.text, pieces[until - 1], pieces[until], self.declared) {
                    until += 1;
                }
            }
            self.line(&pieces[at..until]);
            at = until;
        }
    }

    fn line(&mut self, pieces: &[Piece]) {
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else { return };
        let span = Span::new(self.source, first.start, last.end);
        if let Some(end) = note_word(self.text, *first) {
            return self.note(*first, end, span);
        }
        if last.end - first.start > LONGEST_LINE {
            let at = (first.start + LONGEST_LINE..=last.end).find(|&at| self.text.is_char_boundary(at));
            let wanted = vec!["the end of the line, which holds at most 4,000 characters"];
            self.tell(
                ProblemKind::Line { seems: None, wanted },
                Span::new(self.source, at.unwrap_or(last.end), last.end),
            );
            return self.lines.push(Line { span, tokens: Vec::new(), what: What::Hole });
        }
        let written = written(self.text, pieces, self.declared);
        self.misleading(&written.misleading);
        let line = self.statement(&written, span);
        self.lines.extend(line);
    }

    fn note(&mut self, piece: Piece, end: usize, span: Span) {
        let rest = &self.text[end..piece.end];
        let start = piece.end - rest.trim_start_matches(':').trim_start().len();
        let mut tokens = vec![Token {
            kind: TokenKind::Keyword,
            span: Span::new(self.source, piece.start, end),
            spelling: Spelling::Word("note"),
        }];
        if start < piece.end {
            let span = Span::new(self.source, start, piece.end);
            tokens.push(Token { kind: TokenKind::Note, span, spelling: Spelling::AsWritten });
        }
        let line = &self.text[piece.start..piece.end];
        let unseen: Vec<_> = unseen_in(line).map(|(at, c, what)| ((piece.start + at) as u32, c, what)).collect();
        self.misleading(&unseen);
        self.lines.push(Line { span, tokens, what: What::Statement(Statement::Note) });
    }

    /// One problem for each way of misleading on a line.
    fn misleading(&mut self, found: &[(u32, char, Misleads)]) {
        if found.is_empty() {
            return;
        }
        let ways: [fn(Misleads) -> bool; 3] = [
            |what| what == Misleads::Hidden,
            |what| what == Misleads::Direction,
            |what| matches!(what, Misleads::LooksLike(_)),
        ];
        for (way, is) in ways.iter().enumerate() {
            let these: Vec<_> = found.iter().filter(|(_, _, what)| is(*what)).collect();
            let (Some(&&(start, _, _)), Some(&&(end, last, _))) = (these.first(), these.last()) else { continue };
            let span = Span::new(self.source, start as usize, end as usize + last.len_utf8());
            let mut letters: Vec<char> = these.iter().map(|(_, c, _)| *c).collect();
            letters.sort_unstable();
            letters.dedup();
            letters.truncate(5);
            let named = |name: fn(char) -> String| letters.iter().map(|&c| name(c)).collect::<Vec<_>>().join(", ");
            let kind = match way {
                0 => ProblemKind::Hidden { characters: named(title) },
                1 => ProblemKind::Direction { characters: named(title) },
                _ => ProblemKind::LookAlike {
                    written: self.word_around(start as usize),
                    letters: named(|c| format!("{} “{c}” (U+{:04X})", script(c), u32::from(c))),
                },
            };
            self.tell(kind, span);
        }
    }

    fn word_around(&self, at: usize) -> String {
        let ends = |c: char| !c.is_alphanumeric() && c != '-';
        let start = self.text[..at]
            .rfind(ends)
            .map_or(0, |before| before + self.text[before..].chars().next().map_or(1, char::len_utf8));
        let end = self.text[at..].find(ends).map_or(self.text.len(), |length| at + length);
        self.text[start..end].to_owned()
    }
}
