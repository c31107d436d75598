//! The leaves of one line that the grammar has read, taken from left to right.
//!
//! In: leaves and the line. Out: names, quotes, numbers, and the line's tokens. Must never judge what they mean.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;

use super::declared::Declared;
use super::parse::Rule;
use super::plain::token;
use super::tree::{Count, Name, Quote, Spelling, Token, TokenKind};
use super::written::{JOINER, Written, is_double_quote, words_of};
use crate::text::misleading::{latin_twin, unseen_in};
use crate::text::{SourceId, Span};

/// A token of the grammar: where it stands in the plain line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Leaf {
    pub rule: Rule,
    pub start: usize,
    pub end: usize,
}

pub(super) struct Leaves<'a> {
    pub source: SourceId,
    pub text: &'a str,
    pub written: &'a Written,
    pub declared: &'a Declared,
    pub list: &'a [Leaf],
}

impl<'a> Leaves<'a> {
    pub fn first(&self) -> Option<Leaf> {
        self.list.first().copied()
    }

    pub fn next(&mut self) -> Option<Leaf> {
        let (first, rest) = self.list.split_first()?;
        self.list = rest;
        Some(*first)
    }

    /// Takes the next leaf if it is this one.
    pub fn take(&mut self, rule: Rule) -> bool {
        let is = self.first().is_some_and(|leaf| leaf.rule == rule);
        if is {
            self.next();
        }
        is
    }

    pub fn has(&self, rule: Rule) -> bool {
        self.list.iter().any(|leaf| leaf.rule == rule)
    }

    /// Leaves out everything up to the next leaf of this kind, and takes it.
    fn skip_to(&mut self, wanted: TokenKind) -> Option<Leaf> {
        loop {
            let leaf = self.next()?;
            if token(leaf.rule).0 == wanted {
                return Some(leaf);
            }
        }
    }

    pub fn span(&self, leaf: Leaf) -> Span {
        let span = self.stretch(leaf.start, leaf.end);
        if leaf.rule == Rule::bare { Span::new(self.source, span.start as usize, self.written.end) } else { span }
    }

    pub fn stretch(&self, start: usize, end: usize) -> Span {
        let (from, to) = self.written.place(start, end);
        Span::new(self.source, from, to)
    }

    pub fn plain(&self, leaf: Leaf) -> &'a str {
        self.written.plain.get(leaf.start..leaf.end).unwrap_or_default()
    }

    pub fn name_of(&self, leaf: Leaf) -> Name {
        let text = self.plain(leaf).replace(JOINER, " ");
        let text = match token(leaf.rule).1 {
            Spelling::Declared(_) => self.declared.without_article(&text).to_owned(),
            _ => text,
        };
        Name { text, span: self.span(leaf) }
    }

    pub fn name(&mut self) -> Option<Name> {
        let leaf = self.skip_to(TokenKind::Name)?;
        Some(self.name_of(leaf))
    }

    pub fn names(&mut self) -> Vec<Name> {
        std::iter::from_fn(|| self.name()).collect()
    }

    pub fn number(&mut self) -> Option<Leaf> {
        self.skip_to(TokenKind::Number)
    }

    pub fn count(&mut self) -> Option<Count> {
        let leaf = self.number()?;
        Some(Count { value: super::figures::whole(self.plain(leaf))?, span: self.span(leaf) })
    }

    pub fn quote(&mut self) -> Option<Quote> {
        let leaf = self.skip_to(TokenKind::Quote)?;
        let span = self.span(leaf);
        let written = self.text.get(span.start as usize..span.end as usize).unwrap_or_default();
        Some(Quote { text: seen(&within_quotes(written)), span })
    }

    pub fn tokens(&self) -> Vec<Token> {
        let token = |leaf: &Leaf| {
            let (kind, spelling) = token(leaf.rule);
            Token { kind, span: self.span(*leaf), spelling }
        };
        self.list.iter().map(token).collect()
    }
}

/// A quoted text without its quotes, one of which may be missing; and a text that stands in single quotes, or in none. Where
/// it goes on in the next line, it is one line nevertheless.
pub(super) fn within_quotes(written: &str) -> Cow<'_, str> {
    let bare = unquoted(written);
    match bare.contains(['\n', '\r']) {
        true => Cow::Owned(
            bare.split(['\n', '\r']).map(str::trim).filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" "),
        ),
        false => Cow::Borrowed(bare),
    }
}

fn unquoted(written: &str) -> &str {
    let Some(rest) = written.strip_prefix(is_double_quote) else {
        let single = |c: char| matches!(c, '\'' | '‘' | '’');
        return written.strip_prefix(single).and_then(|rest| rest.strip_suffix(single)).unwrap_or(written);
    };
    rest.strip_suffix(is_double_quote).unwrap_or(rest)
}

/// A text without what nobody sees, and with the Latin letters that it seems to have, so that two texts that look alike
/// are alike.
fn seen(text: &str) -> String {
    if text.is_ascii() && unseen_in(text).next().is_none() {
        return text.to_owned();
    }
    let mut visible = String::with_capacity(text.len());
    let mut from = 0;
    for (at, c, _) in unseen_in(text) {
        visible.push_str(&text[from..at]);
        from = at + c.len_utf8();
    }
    visible.push_str(&text[from..]);
    let mut shown = String::with_capacity(visible.len());
    let mut from = 0;
    for (at, word, _) in words_of(&visible) {
        if !word.is_ascii() && word.contains(|c: char| c.is_ascii_alphabetic()) {
            shown.push_str(&visible[from..at]);
            shown.extend(word.chars().map(|c| latin_twin(c).unwrap_or(c)));
            from = at + word.len();
        }
    }
    shown.push_str(&visible[from..]);
    shown.nfc().collect()
}
