//! Text from a policy, made fit to be shown: nothing in it can steer a terminal or turn the direction of reading.
//!
//! In: any text. Out: the same text with as many bytes, so that places stay right. Must never add or drop a byte.

use std::borrow::Cow;

/// Each control or unseen character becomes a visible one of the same length in UTF-8.
pub fn shown(text: &str) -> Cow<'_, str> {
    if !text.chars().any(|c| replacement(c).is_some()) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.chars().map(|c| replacement(c).unwrap_or(c)).collect())
}

/// A message for people: shown, and what stands between backticks in quotes.
pub fn spoken(text: &str) -> String {
    let parts = shown(text);
    let mut told = String::with_capacity(parts.len());
    for (at, part) in parts.split('`').enumerate() {
        match at {
            0 => {}
            _ if at % 2 == 1 => told.push('“'),
            _ => told.push('”'),
        }
        told.push_str(part);
    }
    told
}

/// At most `most` characters, cut with an ellipsis; for one line.
pub fn shortened(text: &str, most: usize) -> String {
    let text = shown(text.trim());
    let one_line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if one_line.chars().count() <= most {
        return one_line;
    }
    let cut: String = one_line.chars().take(most.saturating_sub(1)).collect();
    format!("{}…", cut.trim_end())
}

fn replacement(c: char) -> Option<char> {
    match c {
        '\n' | '\t' => None,
        '\r' => Some(' '),
        '\0'..='\u{1f}' | '\u{7f}' => Some('?'),
        '\u{80}'..='\u{9f}' | '\u{ad}' => Some('¿'),
        '\u{61c}' => Some('¿'),
        '\u{200b}'..='\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}' => Some('\u{fffd}'),
        _ => None,
    }
}
