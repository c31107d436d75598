//! A line with one mistyped word put right, where it then reads as something that was surely meant.
//!
//! In: a plain line, and where reading it stopped. Out: the mended line, its leaves, and what to tell. Must never make a
//! guess between two words that are as likely.

use super::declared::Declared;
use super::leaves::Leaf;
use super::parse::{Rule, leaves_of};
use super::plain::{keyword, quoted, token};
use super::problem::ProblemKind;
use super::recover::{Slip, example_for, word_end};
use super::seems::{openers, seems};
use super::tree::TokenKind;
use super::written::{JOINER, Written};
use crate::text::near::{nearest, nearest_of_few};

/// Words that end a name in a sentence.
const LINKS: [&str; 5] = ["by", "into", "onto", "with", "for"];
/// So many words, and so many names of a line, are looked at.
const MOST: usize = 5;

pub(super) struct Mended {
    pub rule: Rule,
    pub leaves: Vec<Leaf>,
    pub written: Written,
    pub slip: Slip,
}

/// The line with `meant` in the place of a word, if it then reads.
fn mended(rule: Rule, written: &Written, start: usize, end: usize, meant: &str) -> Option<Mended> {
    let written = written.with(start, end, meant);
    let leaves = leaves_of(rule, &written.plain).ok()?;
    let wanted = quoted(meant).into_iter().collect();
    let kind = ProblemKind::Line { seems: example_for(rule, &written.plain).map(Into::into), wanted };
    Some(Mended { rule, leaves, written, slip: Slip { kind, start, end } })
}

/// The word at which reading stopped is a mistyped keyword.
pub(super) fn keyword_mended(rule: Rule, at: usize, rules: &[Rule], written: &Written) -> Option<Mended> {
    let end = word_end(&written.plain, at);
    let word = &written.plain[at..end];
    let keywords = rules.iter().filter_map(|&rule| keyword(rule)).filter(|word| !word.contains(' '));
    let meant = nearest_of_few(word, keywords).filter(|meant| *meant != word)?;
    mended(rule, written, at, end, meant)
}

/// A name has swallowed a mistyped linking word: `by ties int waste bin`. More names are found once it is put right.
pub(super) fn link_mended(rule: Rule, leaves: &[Leaf], written: &Written, declared: &Declared) -> Option<Mended> {
    let names = |leaves: &[Leaf]| leaves.iter().filter(|leaf| token(leaf.rule).0 == TokenKind::Name).count();
    let known = names(leaves);
    leaves.iter().filter(|leaf| ends_at_link(leaf.rule)).take(MOST).find_map(|leaf| {
        let name = &written.plain[leaf.start..leaf.end];
        if declared.has(&name.replace(JOINER, " ")) {
            return None;
        }
        name.match_indices(' ').take(MOST).find_map(|(at, _)| {
            let start = leaf.start + at + 1;
            let end = word_end(&written.plain, start);
            let meant = nearest_of_few(&written.plain[start..end], LINKS)?;
            mended(rule, written, start, end, meant).filter(|mended| names(&mended.leaves) > known)
        })
    })
}

/// Names in sentences that end only where a linking word stands.
fn ends_at_link(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::part_off | Rule::item_off | Rule::item_with | Rule::thing_into | Rule::cleaner_used | Rule::target
    )
}

/// `gown is nto soiled` would say the contrary of what is meant.
pub(super) fn denial_mended(rule: Rule, leaves: &[Leaf], written: &Written) -> Option<Mended> {
    const SLIPS: [&str; 5] = ["nto", "ont", "nt", "nott", "noot"];
    let state = leaves.iter().find(|leaf| {
        let first = written.plain[leaf.start..leaf.end].split(' ').next();
        leaf.rule == Rule::state && first.is_some_and(|first| SLIPS.contains(&first))
    })?;
    mended(rule, written, state.start, word_end(&written.plain, state.start), "not")
}

/// The first word of the line is a mistyped word that begins a line.
pub(super) fn opening_mended(written: &Written, declared: &Declared) -> Option<Mended> {
    let end = word_end(&written.plain, 0);
    let meant = nearest(&written.plain[..end], openers())?;
    let rule = seems(&written.with(0, end, meant).plain, declared)?;
    mended(rule, written, 0, end, meant)
}
