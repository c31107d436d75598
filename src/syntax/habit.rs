//! What people write by habit, and what is understood but has to be put right.
//!
//! In: the leaves of a line that was read. Out: what to tell, if anything. Must never change what was read.

use std::borrow::Cow;

use super::leaves::{Leaf, Leaves};
use super::parse::Rule;
use super::plain::token;
use super::problem::ProblemKind;
use super::recover::{BARE_NAME, Slip, example_for, word_end};
use super::tree::TokenKind;
use super::written::Written;

/// Words that no sentence could tell from a name of the same letters.
const JOINING: [&str; 19] = [
    "by", "into", "onto", "with", "for", "together", "rolling", "if", "unless", "to", "from", "of", "as", "and", "is",
    "are", "on", "off", "up",
];

/// A name that stands in quotes.
pub(super) fn unquoted(rule: Rule, written: &Written) -> Option<Slip> {
    let (start, end) = written.unquoted?;
    let seems = example_for(rule, &written.plain).map(Cow::from);
    let kind = ProblemKind::Line { seems, wanted: vec![BARE_NAME] };
    Some(Slip { kind, start, end })
}

pub(super) fn habit(rule: Rule, list: &[Leaf], leaves: &Leaves) -> Option<Slip> {
    let at_leaf = |leaf: &Leaf, kind| Some(Slip { kind, start: leaf.start, end: leaf.end });
    let line = |leaf: &Leaf, seems: Option<&'static str>, wanted| {
        at_leaf(leaf, ProblemKind::Line { seems: seems.map(Cow::from), wanted: vec![wanted] })
    };
    list.iter().enumerate().find_map(|(at, leaf)| match leaf.rule {
        Rule::bare | Rule::bare_before_for | Rule::bare_before_when => {
            let wanted = vec!["words in double quotes"];
            let seems = in_quotes(leaf, list, leaves).map(Cow::from);
            let seems = seems.or_else(|| example_for(rule, &leaves.written.plain).map(Cow::from));
            at_leaf(leaf, ProblemKind::Line { seems, wanted })
        }
        _ if is_new(leaf.rule) && JOINING.contains(&leaves.plain(*leaf)) => {
            line(leaf, example_for(rule, &leaves.written.plain), "a name that is no word of the sentences")
        }
        Rule::apart_on => line(leaf, Some("wearer puts on gown"), "“on”"),
        Rule::apart_off => line(leaf, Some("wearer takes off gown by ties into clinical waste"), "“off”"),
        Rule::kw_by | Rule::kw_rolling | Rule::kw_together | Rule::kw_into | Rule::kw_onto
            if said_before(leaf.rule, &list[..at]) =>
        {
            line(leaf, Some("wearer takes off gown by ties into clinical waste"), "the end of the line")
        }
        Rule::date_figures => at_leaf(leaf, dated(leaf, leaves)),
        Rule::month if list.get(at + 1).is_some_and(|next| next.rule == Rule::day) => {
            let end = list.iter().rfind(|leaf| leaf.rule == Rule::year).map_or(leaf.end, |year| year.end);
            let whole = Leaf { end, ..*leaf };
            at_leaf(&whole, dated(&whole, leaves))
        }
        _ => None,
    })
}

/// The writer's own line with quotes around what lacks them; none where it is too long to be taken in.
fn in_quotes(bare: &Leaf, list: &[Leaf], leaves: &Leaves) -> Option<String> {
    const LONGEST: usize = 100;
    let end = list.last().map_or(bare.end, |leaf| leaf.end);
    let whole = leaves.stretch(list.first().map_or(0, |leaf| leaf.start), end);
    let words = leaves.span(*bare);
    let text = |from: u32, to: u32| {
        let words = leaves.text.get(from as usize..to as usize).unwrap_or_default();
        words.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let bare = text(words.start, words.end);
    let quoted = format!("\"{}\"", bare.trim_matches(['\'', '‘', '’', '“', '”']));
    let parts = [text(whole.start, words.start), quoted, text(words.end, whole.end)];
    let line = parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" ");
    (line.len() <= LONGEST).then_some(line)
}

fn is_new(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::new_item | Rule::new_role | Rule::new_place | Rule::new_surface | Rule::new_cleaner | Rule::new_container
    )
}

/// A sentence says once by what, how and into what something is taken off.
fn said_before(rule: Rule, before: &[Leaf]) -> bool {
    let alike: &[Rule] =
        if matches!(rule, Rule::kw_into | Rule::kw_onto) { &[Rule::kw_into, Rule::kw_onto] } else { &[rule] };
    before.iter().any(|leaf| alike.contains(&leaf.rule))
}

fn dated(leaf: &Leaf, leaves: &Leaves) -> ProblemKind {
    let span = leaves.span(*leaf);
    let written = leaves.text.get(span.start as usize..span.end as usize).unwrap_or_default();
    ProblemKind::Date { written: written.split_whitespace().collect::<Vec<_>>().join(" ") }
}

/// A number that is too large, or a date in figures that makes no day.
pub(super) fn misfigured(rule: Rule, list: &[Leaf], leaves: &Leaves) -> Slip {
    if let Some(leaf) = list.iter().find(|leaf| leaf.rule == Rule::date_figures) {
        return Slip { kind: dated(leaf, leaves), start: leaf.start, end: leaf.end };
    }
    let plain = &leaves.written.plain;
    let number = list.iter().find(|leaf| token(leaf.rule).0 == TokenKind::Number);
    let (start, end) = number.map_or((0, word_end(plain, 0)), |leaf| (leaf.start, leaf.end));
    let wanted = vec!["a smaller number, or a whole one"];
    let seems = example_for(rule, plain).map(Cow::from);
    Slip { kind: ProblemKind::Line { seems, wanted }, start, end }
}
