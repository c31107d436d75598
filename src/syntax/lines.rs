//! The physical lines of a text, without bullets, list numbers and outer blanks.
//!
//! In: a text. Out: pieces of it, in order. Must never look at the words.

/// A place in the text, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    pub start: usize,
    pub end: usize,
}

impl Piece {
    pub fn is_empty(self) -> bool {
        self.start == self.end
    }
}

/// Where a line ends, the carriage return and the line separators of word processors included.
pub(super) fn is_break(c: char) -> bool {
    matches!(c, '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}')
}

/// The lines with anything on them. What stands before the piece on its line is blank, a bullet or a list number.
pub(super) fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    let mut from = if text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
    while from < text.len() {
        let rest = &text[from..];
        let length = rest.find(is_break).unwrap_or(rest.len());
        let piece = stripped(text, from, from + length);
        if !piece.is_empty() {
            pieces.push(piece);
        }
        from += length + rest[length..].chars().next().map_or(0, char::len_utf8);
    }
    pieces
}

/// A line without outer blanks and without what a list puts before its entries.
fn stripped(text: &str, start: usize, end: usize) -> Piece {
    let line = &text[start..end];
    let mut rest = line.trim();
    for _ in 0..3 {
        match marker(rest) {
            Some(length) => rest = rest[length..].trim_start(),
            None => break,
        }
    }
    let start = start + (line.trim_end().len() - rest.len());
    Piece { start, end: start + rest.len() }
}

/// The length of the bullet or list number with which a line begins.
pub(super) fn marker(line: &str) -> Option<usize> {
    let first = line.chars().next()?;
    let after = first.len_utf8();
    let blank_at = |at: usize| line[at..].chars().next().is_none_or(char::is_whitespace);
    match first {
        '•' | '‣' | '◦' | '▪' | '▫' | '●' | '○' | '■' | '□' | '☐' | '➢' | '✓' | '·' | '∙' | '\u{f0b7}' | '\u{f0a7}' => {
            Some(after)
        }
        '-' | '–' | '—' | '*' | '+' | 'o' if blank_at(after) && line.len() > after => Some(after),
        '(' => {
            let close = line.find(')')?;
            (is_label(&line[1..close]) && blank_at(close + 1)).then_some(close + 1)
        }
        _ if first.is_ascii_alphanumeric() => {
            let length = line.find(char::is_whitespace).unwrap_or(line.len());
            let label = line[..length].strip_suffix(')').or_else(|| {
                line[..length].strip_suffix('.').filter(|label| label.starts_with(|c: char| c.is_ascii_digit()))
            })?;
            is_label(label).then_some(length)
        }
        _ => None,
    }
}

/// `12`, `3.1` or a single letter.
fn is_label(label: &str) -> bool {
    let number = label.starts_with(|c: char| c.is_ascii_digit())
        && label.len() <= 8
        && label.chars().all(|c| c.is_ascii_digit() || c == '.');
    number || (label.len() == 1 && label.starts_with(|c: char| c.is_ascii_alphabetic()))
}

#[cfg(test)]
mod tests {
    use super::pieces;

    fn lines(text: &str) -> Vec<&str> {
        pieces(text).into_iter().map(|piece| &text[piece.start..piece.end]).collect()
    }

    #[test]
    fn every_kind_of_line_end_counts() {
        assert_eq!(lines("\u{feff}a\r\nb\rc\n\n  d \u{2028}e\u{b}f"), ["a", "b", "c", "d", "e", "f"]);
    }

    #[test]
    fn bullets_and_list_numbers_go() {
        let text = "• gown\n- gown\n– gown\n* gown\no gown\n1. gown\n2) gown\n(3) gown\na) gown\n1.2. gown\n\u{f0b7}\tgown\n• 4. gown";
        assert!(lines(text).iter().all(|line| *line == "gown"), "{:?}", lines(text));
    }

    #[test]
    fn what_only_looks_like_a_bullet_stays() {
        let text = "12 copies\noperator\n1.5 metres\n(see note)\nA3 paper\n-";
        assert_eq!(lines(text), ["12 copies", "operator", "1.5 metres", "(see note)", "A3 paper", "-"]);
    }
}
