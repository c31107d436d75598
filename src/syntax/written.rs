//! A logical line made plain for the grammar, with the way back to where each character came from.
//!
//! In: pieces of the text and the declared names. Out: lower case, single spaces, straight dashes, each quoted text shrunk
//! to its two quotes, declared names joined. Must never lose the place of a character.

use unicode_normalization::char::compose;

use super::declared::{Declared, thing};
use super::lines::Piece;
use crate::text::misleading::{Misleads, latin_twin, unseen_in};

/// Joins the words of a declared name.
pub(super) const JOINER: char = '\u{1f}';
/// Stands behind every declared name in the strict reading.
pub(super) const MARK: char = '\u{1e}';

/// What may stand at the end of a line and says nothing.
pub(super) const LAST_POINTS: [char; 5] = ['.', ':', ';', ',', ' '];

#[derive(Clone, Debug, Default)]
pub(super) struct Written {
    pub plain: String,
    /// For each byte of `plain`, the character of the text that it stands for: from, to.
    at: Vec<(u32, u32)>,
    /// The end of the line in the text, points and all; a text without quotes goes on up to it.
    pub end: usize,
    /// Where a quoted text begins that does not end on its line.
    pub unclosed: Option<usize>,
    /// A declared name that stands in quotes, read as if it stood without: where in `plain`.
    pub unquoted: Option<(usize, usize)>,
    /// Characters that mislead, by where they stand, in order.
    pub misleading: Vec<(u32, char, Misleads)>,
}

impl Written {
    pub fn new(text: &str, pieces: &[Piece]) -> Written {
        let mut written = Written::exactly(text, pieces);
        written.drop_last_quote();
        written.end = written.at.last().map_or(0, |&(_, to)| to as usize);
        written.drop_last_points();
        written.unquote_name(text);
        written
    }

    /// A part of a line, with what stands at its end.
    pub fn exactly(text: &str, pieces: &[Piece]) -> Written {
        let length = pieces.iter().map(|piece| piece.end - piece.start + 1).sum();
        let mut written = Written {
            plain: String::with_capacity(length),
            at: Vec::with_capacity(length),
            end: 0,
            unclosed: None,
            unquoted: None,
            misleading: Vec::new(),
        };
        for &piece in pieces {
            written.space(piece.start);
            written.add(text, piece);
        }
        written
    }

    /// The line from a place on.
    pub fn from(&self, start: usize) -> Written {
        Written { plain: self.plain[start..].to_owned(), at: self.at[start..].to_vec(), ..self.clone() }
    }

    /// The place in the text of a stretch of `plain`.
    pub fn place(&self, start: usize, end: usize) -> (usize, usize) {
        let last = self.at.last().map_or(0, |&(_, to)| to as usize);
        let from = self.at.get(start).map_or(last, |&(from, _)| from as usize);
        let to = if end > start { self.at.get(end - 1).map_or(last, |&(_, to)| to as usize) } else { from };
        (from, to.max(from))
    }

    fn push(&mut self, c: char, from: usize, to: usize) {
        self.plain.push(c);
        self.at.extend(std::iter::repeat_n((from as u32, to as u32), c.len_utf8()));
    }

    fn space(&mut self, at: usize) {
        if !self.plain.is_empty() && !self.plain.ends_with(' ') {
            self.push(' ', at, at);
        }
    }

    fn add(&mut self, text: &str, piece: Piece) {
        let line = &text[piece.start..piece.end];
        let mut next_unseen = self.misleading.len();
        self.misleading.extend(unseen_in(line).map(|(at, c, what)| ((piece.start + at) as u32, c, what)));
        let mut quoted = None;
        for (offset, c) in line.char_indices() {
            let at = piece.start + offset;
            let to = at + c.len_utf8();
            if self.misleading.get(next_unseen).is_some_and(|(unseen, _, _)| *unseen as usize == at) {
                next_unseen += 1;
                continue;
            }
            match (quoted, is_double_quote(c)) {
                (Some(_), false) => {}
                (Some(_), true) => {
                    self.push('"', at, to);
                    quoted = None;
                }
                (None, true) => {
                    self.push('"', at, to);
                    quoted = Some(at);
                }
                (None, false) if c.is_whitespace() => self.space(at),
                (None, false) if c == ':' && says_nothing(&text[to..piece.end]) => self.space(at),
                (None, false) => self.letter(c, at, to),
            }
        }
        if let Some(start) = quoted {
            self.unclosed = Some(start);
            self.push('"', piece.end, piece.end);
        }
        if !line.is_ascii() {
            self.look_alikes(line, piece.start);
        }
    }

    fn letter(&mut self, c: char, at: usize, to: usize) {
        match c {
            'A'..='Z' => self.push(c.to_ascii_lowercase(), at, to),
            '‐' | '‑' | '‒' | '–' | '—' | '−' => self.push('-', at, to),
            '‘' | '’' | 'ʼ' => self.push('\'', at, to),
            ';' => self.push(',', at, to),
            _ if c.is_ascii() => self.push(c, at, to),
            _ if self.composed(c, to) => {}
            _ => c.to_lowercase().for_each(|small| self.push(small, at, to)),
        }
    }

    /// A letter and the accent that follows it are one letter, however they were typed.
    fn composed(&mut self, accent: char, to: usize) -> bool {
        let Some(letter) = self.plain.chars().next_back() else { return false };
        let Some(whole) = compose(letter, accent) else { return false };
        let start = self.plain.len() - letter.len_utf8();
        let from = self.at[start].0 as usize;
        self.plain.truncate(start);
        self.at.truncate(start);
        self.push(whole, from, to);
        true
    }

    /// A word that mixes Latin letters with letters that only look like them is read with the Latin ones; so is, outside
    /// quotes, a word of nothing but such letters, unless the line holds other letters of their kind.
    fn look_alikes(&mut self, line: &str, start: usize) {
        let words = words_of(line);
        let foreign = |word: &str| word.chars().any(|c| c.is_alphabetic() && !c.is_ascii() && latin_twin(c).is_none());
        let names_are_foreign = words.iter().any(|(_, word, quoted)| !quoted && foreign(word));
        for (at, word, quoted) in words {
            let mixed = word.contains(|c: char| c.is_ascii_alphabetic());
            if word.is_ascii() || !mixed && (quoted || names_are_foreign) {
                continue;
            }
            for (offset, c) in word.char_indices() {
                let Some(twin) = latin_twin(c) else { continue };
                let place = start + at + offset;
                self.misleading.push((place as u32, c, Misleads::LooksLike(twin)));
                self.replace(place, twin);
            }
        }
    }

    fn replace(&mut self, at: usize, twin: char) {
        let first = self.at.partition_point(|&(from, _)| (from as usize) < at);
        let last = self.at.partition_point(|&(from, _)| from as usize <= at);
        if first == last {
            return;
        }
        let place = self.at[first];
        let mut small = [0; 4];
        let small = twin.to_ascii_lowercase().encode_utf8(&mut small);
        self.plain.replace_range(first..last, small);
        self.at.splice(first..last, std::iter::repeat_n(place, small.len()));
    }

    /// A double quote at the very end that closes nothing: the words before it lack their opening quote.
    fn drop_last_quote(&mut self) {
        let Some(start) = self.unclosed else { return };
        let kept = self.at.partition_point(|&(from, _)| (from as usize) < start);
        // The quote itself, and the one that was put behind it to close it.
        if self.at.get(kept).is_none_or(|&(_, to)| self.at.last().is_none_or(|&(last, _)| last > to)) {
            return;
        }
        self.plain.truncate(kept);
        self.plain.truncate(self.plain.trim_end().len());
        self.at.truncate(self.plain.len());
        self.unclosed = None;
    }

    /// `item "gown"`: what follows a declaring word is a name, whether it stands in quotes or not.
    fn unquote_name(&mut self, text: &str) {
        const LONGEST: usize = 60;
        let Some((opener, rest)) = self.plain.split_once(' ') else { return };
        let Some(after) = rest.strip_prefix("\"\"").filter(|_| thing(opener).is_some()) else { return };
        if !after.is_empty() && ![" \"\"", " is ", " against "].iter().any(|next| after.starts_with(next)) {
            return;
        }
        let start = opener.len() + 1;
        let (from, to) = (self.at[start].1 as usize, self.at[start + 1].0 as usize);
        let name = text.get(from..to).unwrap_or_default();
        // At the end of the line a full stop says nothing, with quotes as without.
        let trimmed = if after.is_empty() { name.trim_end_matches(LAST_POINTS).trim() } else { name.trim() };
        if trimmed.is_empty() || name.len() > LONGEST || name.contains([',', ';']) {
            return;
        }
        let start_of_name = from + (name.len() - name.trim_start().len());
        let piece = Piece { start: start_of_name, end: start_of_name + trimmed.len() };
        let bare = Written::exactly(text, &[piece]);
        self.plain.replace_range(start..start + 2, &bare.plain);
        self.at.splice(start..start + 2, bare.at);
        self.unquoted = Some((start, start + bare.plain.len()));
    }

    /// A full stop, colon, semicolon or comma at the very end says nothing.
    fn drop_last_points(&mut self) {
        let kept = self.plain.trim_end_matches(LAST_POINTS).len();
        if kept > 0 {
            self.plain.truncate(kept);
            self.at.truncate(kept);
        }
    }

    /// Joins the words of every declared name of two or more words, the longest first.
    pub fn join(&mut self, declared: &Declared) {
        let mut bytes = std::mem::take(&mut self.plain).into_bytes();
        for (start, end) in declared.found_in(&bytes) {
            for byte in &mut bytes[start..end] {
                if *byte == b' ' {
                    *byte = JOINER as u8;
                }
            }
        }
        self.plain = String::from_utf8(bytes).unwrap_or_default();
    }

    /// The strict reading: a mark behind every declared name.
    pub fn marked(&self, declared: &Declared) -> Written {
        let mut marked = Written { unclosed: self.unclosed, ..Written::default() };
        let mut names = declared.names_in(self.plain.as_bytes()).into_iter().peekable();
        for (at, c) in self.plain.char_indices() {
            while let Some(&(_, end)) = names.peek() {
                if end > at {
                    break;
                }
                if end == at {
                    marked.push(MARK, self.at[at].0 as usize, self.at[at].0 as usize);
                }
                names.next();
            }
            let (from, to) = self.at[at];
            marked.push(c, from as usize, to as usize);
        }
        if let Some(&(_, end)) = names.peek()
            && end == self.plain.len()
        {
            let last = self.at.last().map_or(0, |&(_, to)| to as usize);
            marked.push(MARK, last, last);
        }
        marked
    }

    /// The same line with one word put in the place of another; its letters all stand for the old word.
    pub fn with(&self, start: usize, end: usize, word: &str) -> Written {
        let (from, to) = self.place(start, end);
        let mut mended = self.clone();
        mended.plain.replace_range(start..end, word);
        mended.at.splice(start..end, std::iter::repeat_n((from as u32, to as u32), word.len()));
        mended
    }
}

/// The words of a line with their places, and whether each stands in quotes.
pub(super) fn words_of(line: &str) -> Vec<(usize, &str, bool)> {
    let mut words = Vec::new();
    let mut quoted = false;
    let mut start = None;
    for (at, c) in line.char_indices() {
        if c.is_alphanumeric() {
            start.get_or_insert(at);
            continue;
        }
        words.extend(start.take().map(|from| (from, &line[from..at], quoted)));
        quoted ^= is_double_quote(c);
    }
    words.extend(start.map(|from| (from, &line[from..], quoted)));
    words
}

/// A colon says nothing where a blank or a quoted text follows.
fn says_nothing(after_colon: &str) -> bool {
    let rest = after_colon.trim_start_matches(':');
    rest.starts_with(|c: char| c.is_whitespace() || is_double_quote(c))
}

/// Straight, curly, low and angle double quotes.
pub(super) fn is_double_quote(c: char) -> bool {
    matches!(c, '"' | '“' | '”' | '„' | '‟' | '«' | '»' | '＂')
}
