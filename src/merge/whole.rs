//! What is not of one statement but of the whole text: the mark at its beginning, its line ends, the end of its last line.
//!
//! In: three texts. Out: how the merged text has these. Must never change a letter.

use super::Texts;

const MARK: char = '\u{feff}';

#[derive(Clone, Copy, Debug, Default)]
pub struct Whole {
    begins_with_mark: bool,
    has_carriage_returns: bool,
    /// The last line does not end.
    is_open: bool,
}

impl Whole {
    pub fn of(texts: Texts) -> Whole {
        Whole {
            begins_with_mark: of_three(texts, |text| text.starts_with(MARK)),
            has_carriage_returns: of_three(texts, all_carriage_returns),
            is_open: of_three(texts, |text| !text.is_empty() && !text.ends_with('\n')),
        }
    }

    pub fn dressed(self, mut text: String) -> String {
        if self.is_open && text.ends_with('\n') {
            text.pop();
        }
        if self.has_carriage_returns {
            text = text.replace('\n', "\r\n");
        }
        if self.begins_with_mark {
            text.insert(0, MARK);
        }
        text
    }
}

/// As the side that changed it has it.
fn of_three(texts: Texts, is: impl Fn(&str) -> bool) -> bool {
    let (base, ours, theirs) = (is(texts.base), is(texts.ours), is(texts.theirs));
    if ours == base { theirs } else { ours }
}

/// Where only some lines end so, each keeps its own end.
fn all_carriage_returns(text: &str) -> bool {
    text.contains('\n') && text.matches('\n').count() == text.matches("\r\n").count()
}

/// Without these.
pub fn plain(text: &str) -> String {
    let bare = text.strip_prefix(MARK).unwrap_or(text);
    let mut plain = if all_carriage_returns(bare) { bare.replace("\r\n", "\n") } else { bare.to_owned() };
    if !plain.is_empty() && !plain.ends_with('\n') {
        plain.push('\n');
    }
    plain
}
