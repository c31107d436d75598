//! What people write by habit, and what is understood but has to be put right.
//!
//! In: the leaves of a line that was read. Out: what to tell, if anything. Must never change what was read.

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
    let kind = ProblemKind::Line { seems: example_for(rule, &written.plain), wanted: vec![BARE_NAME] };
    Some(Slip { kind, start, end })
}

pub(super) fn habit(rule: Rule, list: &[Leaf], leaves: &Leaves) -> Option<Slip> {
    let at_leaf = |leaf: &Leaf, kind| Some(Slip { kind, start: leaf.start, end: leaf.end });
    let line = |leaf: &Leaf, seems, wanted| at_leaf(leaf, ProblemKind::Line { seems, wanted: vec![wanted] });
    list.iter().enumerate().find_map(|(at, leaf)| match leaf.rule {
        Rule::bare | Rule::bare_before_for | Rule::bare_before_when => {
            line(leaf, example_for(rule, &leaves.written.plain), "words in double quotes")
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
    Slip { kind: ProblemKind::Line { seems: example_for(rule, plain), wanted }, start, end }
}
