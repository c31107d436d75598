//! How alike two texts are, and which of their words differ.
//!
//! In: two texts. Out: a share from 0 to 1, or pieces marked as kept or changed. Must never judge what words mean.

use serde::Serialize;
use similar::{Algorithm, DiffTag, capture_diff_slices};

/// A run of words of one text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Piece {
    pub text: String,
    /// The other text does not have it here.
    pub changed: bool,
}

/// The share of words that two texts have in common, in order: 1 where all, 0 where none. Case and signs are passed over.
pub fn likeness(one: &str, other: &str) -> f64 {
    let (one, other) = (bare_words(one), bare_words(other));
    if one.is_empty() && other.is_empty() {
        return 1.0;
    }
    let ops = capture_diff_slices(Algorithm::Myers, &one, &other);
    let same: usize = ops.iter().filter(|op| op.tag() == DiffTag::Equal).map(|op| op.old_range().len()).sum();
    2.0 * same as f64 / (one.len() + other.len()) as f64
}

/// Whether two texts have the same words: they differ in case, spacing and signs at most, or in articles.
pub fn same_words(one: &str, other: &str) -> bool {
    let telling = |text: &str| -> Vec<String> {
        let words = bare_words(text).into_iter();
        words.filter(|word| !matches!(word.as_str(), "a" | "an" | "the")).collect()
    };
    telling(one) == telling(other)
}

fn bare_words(text: &str) -> Vec<String> {
    // A figure keeps its point, its sign and its per cent: 0.5 % is not 05.
    let keep = |c: char| c.is_alphanumeric() || matches!(c, '.' | '%' | '°' | '<' | '>' | '+' | '-' | '−' | '≤' | '≥');
    let word = |word: &str| {
        let has_digit = word.chars().any(|c| c.is_numeric());
        let kept: String = word.chars().filter(|&c| if has_digit { keep(c) } else { c.is_alphanumeric() }).collect();
        kept.trim_end_matches('.').to_lowercase()
    };
    text.split(|c: char| c.is_whitespace() || matches!(c, '-' | '‐' | '–' | '—' | '/'))
        .map(word)
        .filter(|word| !word.is_empty())
        .collect()
}

/// The words of both texts, marked where the other differs.
pub fn pieces(old: &str, new: &str) -> (Vec<Piece>, Vec<Piece>) {
    let (one, other): (Vec<&str>, Vec<&str>) = (old.split_whitespace().collect(), new.split_whitespace().collect());
    let (mut left, mut right) = (Vec::new(), Vec::new());
    for op in capture_diff_slices(Algorithm::Myers, &one, &other) {
        let changed = op.tag() != DiffTag::Equal;
        for (words, range, side) in [(&one, op.old_range(), &mut left), (&other, op.new_range(), &mut right)] {
            if !range.is_empty() {
                side.push(Piece { text: words[range].join(" "), changed });
            }
        }
    }
    (left, right)
}
