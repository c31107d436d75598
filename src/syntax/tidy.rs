//! The one tidy form of a text: what it says, laid out in the one way in which it is laid out.
//!
//! In: a tree, the text that it was read from, and the declared names. Out: the text that means the same. Notes, quoted
//! texts and lines that could not be read stay as they are. Must never change what a line says.

use super::declared::Declared;
use super::figures::{MONTHS, Measure, in_words, month, shown, thousandths, unit_after, unit_in_full};
use super::leaves::within_quotes;
use super::lines::{Piece, is_break, marker};
use super::parse::parse;
use super::tree::{Line, Spelling, Statement, Token, TokenKind, Tree, What};
use super::written::{LAST_POINTS, Written};
use crate::text::{SourceId, Span};

/// Longer lines go on in the next, after a comma.
const WIDEST: usize = 120;
/// Branches within branches are set in no further than this many times.
const DEEPEST: usize = 10;

/// Where a statement stands: at the margin, in a group of its kind; beneath a heading; or beneath a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    Margin(Group),
    Beneath,
    BeneathStep,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Group {
    Paper,
    Use,
    Note,
    Source,
    Hazard,
    Place,
    Role,
    Item,
    Surface,
    Cleaner,
    Container,
    Level,
    Choice,
    Sequence,
    Contingency,
    Print,
    Accept,
    Differ,
}

pub fn tidy(tree: &Tree, text: &str, declared: &Declared) -> String {
    laid_out(tree, text, declared, declared)
}

/// For whoever reads what was changed: the tidy form, with containers, cleaners and kit of a role named as they are printed.
pub fn read_out(tree: &Tree, text: &str, declared: &Declared) -> String {
    laid_out(tree, text, declared, &declared.as_printed(tree))
}

/// `printed`: how names are spelt but where they are declared.
fn laid_out(tree: &Tree, text: &str, declared: &Declared, printed: &Declared) -> String {
    let mut out = String::with_capacity(text.len());
    let mut last: Option<Group> = None;
    let mut depth = 0_usize;
    let mut in_paper = false;
    for (at, line) in tree.lines.iter().enumerate() {
        let What::Statement(statement) = &line.what else {
            Printer { text, declared, spelling: declared }.as_it_stands(line.span, &mut out);
            continue;
        };
        let declares =
            matches!(statement, Statement::Item { .. } | Statement::Container { .. } | Statement::Cleaner { .. });
        let printer = Printer { text, declared, spelling: if declares { declared } else { printed } };
        let standing = if *statement == Statement::Note {
            beneath_what(&tree.lines[at..], in_paper)
        } else {
            let standing = standing(statement, in_paper);
            in_paper = match standing {
                Standing::Margin(group) => group == Group::Paper,
                _ => in_paper,
            };
            standing
        };
        if let Standing::Margin(group) = standing {
            let apart = last.is_some_and(|last| last != group || stands_alone(group));
            if apart && !out.is_empty() {
                out.push('\n');
            }
            last = Some(group);
            depth = 0;
        }
        if matches!(statement, Statement::EndIf | Statement::Otherwise) {
            depth = depth.saturating_sub(1);
        }
        let within = depth.min(DEEPEST);
        let indent = match standing {
            Standing::Margin(_) => 0,
            Standing::Beneath => 2 + 2 * within,
            Standing::BeneathStep => 4 + 2 * within,
        };
        printer.line(line, statement, indent, &mut out);
        if matches!(statement, Statement::If(_) | Statement::Otherwise) {
            depth += 1;
        }
    }
    out
}

/// A note stands as the statement that follows it.
fn beneath_what(lines: &[Line], in_paper: bool) -> Standing {
    let next = lines.iter().find_map(|line| match &line.what {
        What::Statement(statement) if *statement != Statement::Note => Some(standing(statement, in_paper)),
        _ => None,
    });
    match next {
        Some(standing @ (Standing::Beneath | Standing::BeneathStep)) => standing,
        _ => Standing::Margin(Group::Note),
    }
}

fn stands_alone(group: Group) -> bool {
    matches!(group, Group::Level | Group::Choice | Group::Sequence)
}

/// `in_paper`: after a line of document control, where a link is the policy's own.
pub fn standing(statement: &Statement, in_paper: bool) -> Standing {
    use Statement as S;
    let group = match statement {
        S::Policy(_)
        | S::Site(_)
        | S::Edition(_)
        | S::Owner(_)
        | S::Approved { .. }
        | S::ApprovalNeeds(_)
        | S::InForce(_)
        | S::ReviewBy(_)
        | S::Withdrawn(_)
        | S::Replaces(_)
        | S::Language(_) => Group::Paper,
        S::Link(_) if in_paper => Group::Paper,
        S::Use(_) => Group::Use,
        S::Note => Group::Note,
        S::Source { .. } => Group::Source,
        S::Hazard(_) => Group::Hazard,
        S::Place { .. } | S::Way(_) => Group::Place,
        S::Role(_) => Group::Role,
        S::Item { .. } => Group::Item,
        S::Surface(_) => Group::Surface,
        S::Cleaner { .. } => Group::Cleaner,
        S::Container { .. } => Group::Container,
        S::Level { .. } => Group::Level,
        S::ChoiceOfLevel => Group::Choice,
        S::Sequence { .. } => Group::Sequence,
        S::Contingency { .. } => Group::Contingency,
        S::Print { .. } => Group::Print,
        S::Accept { .. } => Group::Accept,
        S::Differ { .. } => Group::Differ,
        says if says.is_prompt() || says.is_of_hold() => return Standing::BeneathStep,
        _ => return Standing::Beneath,
    };
    Standing::Margin(group)
}

/// Statements in which a comma parts the entries of a list; in all others it says nothing.
fn lists(statement: &Statement) -> bool {
    use Statement as S;
    matches!(
        statement,
        S::SpreadsBy(_)
            | S::Covers(_)
            | S::GoesOver(_)
            | S::TucksInto(_)
            | S::Grip(_)
            | S::HoldsDown(_)
            | S::ConnectsTo(_)
            | S::ReusedAfter(_)
            | S::Sizes(_)
            | S::Level { .. }
            | S::KeepCovered(_)
            | S::Wears { .. }
    )
}

struct Printer<'a> {
    text: &'a str,
    declared: &'a Declared,
    spelling: &'a Declared,
}

impl Printer<'_> {
    fn as_it_stands(&self, span: Span, out: &mut String) {
        let (start, end) = whole_lines(self.text, span);
        let mut lines = &self.text[start..end];
        // At the very beginning of a file such a mark is no letter of its first line.
        if out.is_empty() {
            lines = lines.trim_start_matches('\u{feff}');
            if lines.trim().is_empty() {
                return;
            }
        }
        out.push_str(&lines.replace("\r\n", "\n"));
        out.push('\n');
    }

    fn line(&self, line: &Line, statement: &Statement, indent: usize, out: &mut String) {
        let pieces = self.pieces(line, statement);
        if pieces.first().is_some_and(|first| marker(first).is_some()) {
            // It would lose its first word as a bullet when it is read again.
            return self.as_it_stands(line.span, out);
        }
        let width = indent + pieces.iter().map(|piece| piece.chars().count() + 1).sum::<usize>() - 1;
        let wrapped = if width > WIDEST { wrapped(&pieces, indent) } else { String::new() };
        // A line that would fall apart when it is read again stays whole.
        if !wrapped.is_empty() && parse(SourceId(0), &wrapped, self.declared).0.lines.len() == 1 {
            out.push_str(&wrapped);
        } else {
            out.extend(std::iter::repeat_n(' ', indent));
            out.push_str(&pieces.join(" "));
        }
        out.push('\n');
    }

    /// The line in pieces, each but the last with a comma at its end.
    fn pieces(&self, line: &Line, statement: &Statement) -> Vec<String> {
        let measure = if matches!(statement, Statement::ReadFrom(_)) { Measure::Other } else { Measure::Time };
        let keeps_commas = lists(statement);
        let mut pieces = vec![String::new()];
        let mut comma_before_into = false;
        for (at, token) in line.tokens.iter().enumerate() {
            let word = match token.spelling {
                Spelling::Word(word) if token.kind == TokenKind::Keyword => word,
                _ => "",
            };
            let comma = match token.kind {
                TokenKind::Comma => keeps_commas || is_odd_date(line, at) || is_before_slip(line, at),
                TokenKind::Keyword => calls_for_comma(statement, word, at, comma_before_into),
                _ => false,
            };
            comma_before_into |= matches!(word, "rolling" | "together");
            if comma && let Some(piece) = pieces.last_mut() {
                piece.push(',');
                pieces.push(String::new());
            }
            let words = self.words(&line.tokens, at, measure);
            if let Some(piece) = pieces.last_mut()
                && !words.is_empty()
            {
                if !piece.is_empty() {
                    piece.push(' ');
                }
                piece.push_str(&words);
            }
        }
        pieces
    }

    fn words(&self, tokens: &[Token], at: usize, measure: Measure) -> String {
        let token = &tokens[at];
        let written = self.text.get(token.span.start as usize..token.span.end as usize).unwrap_or_default();
        let before = at.checked_sub(1).and_then(|before| self.amount(&tokens[before]));
        match (token.kind, token.spelling) {
            (TokenKind::Comma, _) => String::new(),
            (TokenKind::Note, _) => written.to_owned(),
            (TokenKind::Quote, _) => format!("\"{}\"", within_quotes(written)),
            // A year keeps all of its figures: with two it would be no year.
            (TokenKind::Number, _) if is_year(&tokens[..at]) => self.plain(token),
            (TokenKind::Number, _) => self.number(token, tokens.get(at + 1)),
            (_, Spelling::Word(word)) => agreeing(word, before).to_owned(),
            (_, Spelling::Unit) => unit_after(&unit_in_full(&self.plain(token), measure), before),
            (_, Spelling::Month) => {
                let month = month(&self.plain(token)).and_then(|month| MONTHS.get(month as usize - 1));
                month.map_or_else(|| written.to_owned(), |month| (*month).to_owned())
            }
            (_, Spelling::Lower) => one_line(written).to_ascii_lowercase(),
            (_, Spelling::Upper) => one_line(written).to_ascii_uppercase(),
            (TokenKind::Keyword, Spelling::AsWritten) if at + 1 == tokens.len() => {
                one_line(written.trim_end_matches(LAST_POINTS))
            }
            (_, Spelling::AsWritten) => one_line(written),
            (_, Spelling::Declared(things)) => {
                let name = self.plain(token);
                let name = self.declared.without_article(&name);
                let spelt = things.iter().find_map(|thing| self.spelling.spelt(*thing, name));
                spelt.map_or_else(|| one_line(written), str::to_owned)
            }
        }
    }

    fn plain(&self, token: &Token) -> String {
        let piece = Piece { start: token.span.start as usize, end: token.span.end as usize };
        Written::exactly(self.text, &[piece]).plain
    }

    fn amount(&self, token: &Token) -> Option<u64> {
        (token.kind == TokenKind::Number).then(|| thousandths(&self.plain(token))).flatten()
    }

    fn number(&self, token: &Token, next: Option<&Token>) -> String {
        let plain = self.plain(token);
        let day = plain.trim_end_matches(|c: char| c.is_ascii_alphabetic());
        let figure = if day.is_empty() { plain.as_str() } else { day };
        let Some(thousandths) = thousandths(figure) else { return plain };
        let in_words = next
            .filter(|next| matches!(next.spelling, Spelling::Word("pairs" | "slip")) && thousandths % 1000 == 0)
            .and_then(|_| in_words(u32::try_from(thousandths / 1000).ok()?));
        in_words.map_or_else(|| shown(thousandths), str::to_owned)
    }
}

/// The lines on which a statement stands, from the first letter of the first to the break after the last.
pub fn whole_lines(text: &str, span: Span) -> (usize, usize) {
    let (from, to) = (span.start as usize, span.end as usize);
    let mut start = text[..from].char_indices().rfind(|(_, c)| is_break(*c)).map_or(0, |(at, c)| at + c.len_utf8());
    if start == 0 && text.starts_with('\u{feff}') {
        start = '\u{feff}'.len_utf8();
    }
    let end = text[to..].find(is_break).map_or(text.len(), |length| to + length);
    (start, end)
}

/// Whether a number after these is the year of a date.
fn is_year(before: &[Token]) -> bool {
    let last = before.iter().rev().find(|token| token.kind != TokenKind::Comma);
    last.is_some_and(|token| matches!(token.spelling, Spelling::Month))
}

/// `November 2, 2026` keeps its comma, so that it is seen for what it is.
fn is_odd_date(line: &Line, at: usize) -> bool {
    at >= 2 && line.tokens[at - 2].spelling == Spelling::Month && line.tokens[at - 1].kind == TokenKind::Number
}

/// Before a mistyped word, which might be read otherwise without it.
fn is_before_slip(line: &Line, at: usize) -> bool {
    let next = line.tokens.get(at + 1);
    next.is_some_and(|next| next.kind == TokenKind::Keyword && next.spelling == Spelling::AsWritten)
}

fn calls_for_comma(statement: &Statement, word: &str, at: usize, comma_before_into: bool) -> bool {
    match (statement, word) {
        (Statement::Step(_), "rolling" | "together" | "if" | "unless") => true,
        (Statement::Step(_), "into" | "onto") => comma_before_into,
        (Statement::IfNotGoBack(_), "go") | (Statement::IfNotStart(_), "start") => true,
        (Statement::Sequence { .. }, "in") => at > 0,
        _ => false,
    }
}

fn wrapped(pieces: &[String], indent: usize) -> String {
    let mut wrapped = " ".repeat(indent);
    let mut width = indent;
    for (at, piece) in pieces.iter().enumerate() {
        let length = piece.chars().count();
        if at > 0 && width + 1 + length > WIDEST {
            wrapped.push('\n');
            wrapped.extend(std::iter::repeat_n(' ', indent + 4));
            width = indent + 4;
        } else if at > 0 {
            wrapped.push(' ');
            width += 1;
        }
        wrapped.push_str(piece);
        width += length;
    }
    wrapped
}

/// One or many, as the number before calls for.
fn agreeing(word: &'static str, before: Option<u64>) -> &'static str {
    match (word, before) {
        ("pairs", Some(1000)) => "pair",
        ("copies", Some(1000)) => "copy",
        ("touches", Some(1000)) => "touch",
        ("slip", Some(number)) if number != 1000 => "slips",
        _ => word,
    }
}

fn one_line(written: &str) -> String {
    written.split_whitespace().collect::<Vec<_>>().join(" ")
}
