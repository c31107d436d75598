//! What the put-together text brings that neither side had.
//!
//! In: the checked texts of a merge. Out: findings that are new, and the text with marks around the statements
//! that they are told of. Must never count what a side had already, nor what the policy itself accepts.

use std::collections::{BTreeMap, BTreeSet};

use super::Marks;
use crate::findings::{Finding, Signal};
use crate::session::Checked;
use crate::syntax::whole_lines;
use crate::text::{SourceId, Span};

/// A finding wherever it stands: lines and numbers move.
type Gist<'a> = (crate::findings::Name, &'a str, &'a str);

/// The findings of that signal word. `sides`: the text that both began with, and each side.
pub fn new_findings<'a>(signal: Signal, sides: [&Checked; 3], merged: &'a Checked) -> Vec<&'a Finding> {
    let [base, ours, theirs] = sides.map(|side| counted(signal, side));
    let count = |known: &BTreeMap<Gist, usize>, gist: &Gist| known.get(gist).copied().unwrap_or(0);
    let mut seen: BTreeMap<Gist, usize> = BTreeMap::new();
    let mut new = Vec::new();
    for finding in of(signal, merged) {
        let gist = gist(finding);
        let (before, one, other) = (count(&base, &gist), count(&ours, &gist), count(&theirs, &gist));
        // Two statements of the same words, one of each side's making, are no news either.
        let known = one.max(other).max((one + other).saturating_sub(before));
        let so_far = seen.entry(gist).or_default();
        *so_far += 1;
        if *so_far > known {
            new.push(finding);
        }
    }
    new
}

fn of(signal: Signal, checked: &Checked) -> impl Iterator<Item = &Finding> {
    checked.findings.iter().filter(move |finding| finding.signal == signal && finding.accepted.is_none())
}

fn gist(finding: &Finding) -> Gist<'_> {
    (finding.name, &finding.sentence, &finding.title)
}

fn counted(signal: Signal, checked: &Checked) -> BTreeMap<Gist<'_>, usize> {
    let mut counts = BTreeMap::new();
    of(signal, checked).for_each(|finding| *counts.entry(gist(finding)).or_default() += 1);
    counts
}

/// The text with marks around the statements of findings. Both halves hold the statement, so that none is lost whichever
/// is kept; what is told in another file is marked at the first statement.
pub fn marked(text: &str, findings: &[&Finding], marks: &Marks) -> String {
    let main = SourceId(0);
    let first = text.find(|c: char| !c.is_whitespace() && c != '\u{feff}').unwrap_or(0);
    let place = |finding: &&Finding| {
        let spans = [finding.span].into_iter().chain(finding.related.iter().map(|(span, _)| *span));
        spans.into_iter().find(|span| span.source == main).unwrap_or(Span::new(main, first, first))
    };
    let whole: BTreeSet<(usize, usize)> = findings.iter().map(|finding| whole_lines(text, place(finding))).collect();
    let mut out = String::new();
    let mut done = 0;
    for (start, end) in whole {
        if start < done {
            continue;
        }
        let end = end + text[end..].find('\n').map_or(text.len() - end, |at| at + 1);
        out.push_str(&text[done..start]);
        let statement = &text[start..end];
        let ends = if statement.ends_with('\n') { "" } else { "\n" };
        marks.around(&format!("{statement}{ends}"), &format!("{statement}{ends}"), &mut out);
        done = end;
    }
    out + &text[done..]
}
