//! Two people's changes to one policy, put together statement by statement.
//!
//! In: the text that both began with, and the text of each. Out: one text, or one with marks around the statements that a
//! person must decide. Must never read a file, nor decide between two different wishes.

mod blocks;
mod dangers;
mod likeness;
mod pairing;
mod three;
mod weave;
mod whole;

pub use dangers::{marked, new_findings};
pub use three::Why;

use crate::syntax::{Declared, declarations};
use blocks::{Names, blocks};
use whole::Whole;

/// The three texts of a merge.
#[derive(Clone, Copy, Debug)]
pub struct Texts<'a> {
    pub base: &'a str,
    pub ours: &'a str,
    pub theirs: &'a str,
}

/// How the marks of a conflict are drawn: git's own, so many signs long, with a name for each side.
#[derive(Clone, Copy, Debug)]
pub struct Marks<'a> {
    pub ours: &'a str,
    pub theirs: &'a str,
    pub size: usize,
}

#[derive(Clone, Debug)]
pub struct Merged {
    pieces: Vec<Piece>,
    whole: Whole,
}

#[derive(Clone, Debug)]
enum Piece {
    Text(String),
    Conflict(Conflict),
}

/// What a person must decide. A half is empty where that side does not have it, or has it elsewhere.
#[derive(Clone, Debug)]
pub struct Conflict {
    pub why: Why,
    pub ours: String,
    pub theirs: String,
}

/// `elsewhere`: the names that the files declare which the policy uses.
pub fn merge(texts: Texts, elsewhere: &Declared) -> Merged {
    let whole = Whole::of(texts);
    if let Some(text) = unchanged(texts) {
        return Merged { pieces: vec![Piece::Text(text.to_owned())], whole: Whole::default() };
    }
    let plain = [texts.base, texts.ours, texts.theirs].map(whole::plain);
    // The sides are taken in one order whoever merges, so that both get the same text.
    let swapped = plain[1] > plain[2];
    let [left, right] = if swapped { [&plain[2], &plain[1]] } else { [&plain[1], &plain[2]] };
    let mut declared = elsewhere.clone();
    [&plain[0], left, right].iter().for_each(|text| declared.extend(&declarations(text)));
    let mut names = Names::default();
    let [base, left, right] = [&plain[0], left, right].map(|text| blocks(text, &declared, &mut names));
    let mut pieces = three::merge(&base, &left, &right);
    if swapped {
        for piece in &mut pieces {
            if let Piece::Conflict(conflict) = piece {
                std::mem::swap(&mut conflict.ours, &mut conflict.theirs);
            }
        }
    }
    Merged { pieces, whole }
}

/// The answer where a side changed nothing, or both changed the same: byte for byte.
fn unchanged<'a>(texts: Texts<'a>) -> Option<&'a str> {
    if texts.ours == texts.base || texts.ours == texts.theirs {
        Some(texts.theirs)
    } else {
        (texts.theirs == texts.base).then_some(texts.ours)
    }
}

impl Merged {
    pub fn conflicts(&self) -> impl Iterator<Item = &Conflict> {
        self.pieces.iter().filter_map(|piece| match piece {
            Piece::Conflict(conflict) => Some(conflict),
            Piece::Text(_) => None,
        })
    }

    pub fn is_clean(&self) -> bool {
        self.conflicts().next().is_none()
    }

    pub fn text(&self, marks: &Marks) -> String {
        let mut text = String::new();
        for piece in &self.pieces {
            match piece {
                Piece::Text(plain) => text.push_str(plain),
                Piece::Conflict(conflict) => marks.around(&conflict.ours, &conflict.theirs, &mut text),
            }
        }
        self.whole.dressed(text)
    }
}

impl Marks<'_> {
    /// The halves stand between marks, each on lines of its own.
    fn around(&self, ours: &str, theirs: &str, text: &mut String) {
        self.mark('<', self.ours, text);
        text.push_str(ours);
        self.mark('=', "", text);
        text.push_str(theirs);
        self.mark('>', self.theirs, text);
    }

    fn mark(&self, sign: char, label: &str, text: &mut String) {
        if !text.is_empty() && !text.ends_with('\n') {
            text.push('\n');
        }
        text.extend(std::iter::repeat_n(sign, self.size));
        let label = label.split_whitespace().collect::<Vec<_>>().join(" ");
        if !label.is_empty() {
            text.push(' ');
            text.push_str(&label);
        }
        text.push('\n');
    }
}
