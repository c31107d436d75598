//! The exceptions that a policy makes, and the findings that they accept.
//!
//! In: a policy, findings and today's date. Out: for each finding that is accepted, why and until when. A lapsed exception
//! accepts nothing; a rule of its own tells of it.

use std::collections::BTreeMap;

use crate::findings::{Finding, Signal};
use crate::policy::resolve::folded_title;
use crate::policy::{Act, Day, Policy, Sequence};
use crate::text::Span;

/// Marks the findings that an exception accepts: of that name, within what bears that title, up to and with its day. What
/// is not understood cannot be accepted.
pub(super) fn mark(policy: &Policy, findings: &mut [Finding], today: Option<Day>) {
    if policy.exceptions.is_empty() {
        return;
    }
    let extents = extents(policy);
    for exception in policy.exceptions.iter().filter(|exception| today.is_none_or(|today| exception.until >= today)) {
        let Some(places) = extents.get(&folded_title(&exception.at)) else { continue };
        for finding in findings.iter_mut().filter(|finding| finding.accepted.is_none() && is_open(finding)) {
            if finding.name.to_string() == exception.finding && places.iter().any(|&place| within(place, finding.span))
            {
                finding.accepted = Some(format!("{} (until {})", exception.because, exception.until));
            }
        }
    }
}

fn is_open(finding: &Finding) -> bool {
    finding.name.family != "reading" || finding.signal > Signal::Warning
}

pub(super) fn within(extent: Span, span: Span) -> bool {
    extent.source == span.source && extent.start <= span.start && span.start < extent.end
}

/// Where the sequences, contingencies, parts, holds, levels and the policy's own lines lie in the text, by title.
fn extents(policy: &Policy) -> BTreeMap<String, Vec<Span>> {
    let mut extents: BTreeMap<String, Vec<Span>> = BTreeMap::new();
    let mut add = |title: &str, extent: Span| extents.entry(folded_title(title)).or_default().push(extent);
    if let Some(title) = &policy.paper.title {
        policy.paper.spans.iter().for_each(|&(_, span)| add(title, span));
        policy.citations.iter().for_each(|citation| add(title, citation.span));
    }
    policy.levels.iter().for_each(|level| add(&level.name, level.extent));
    policy.contingencies.iter().for_each(|contingency| add(&contingency.title, contingency.extent));
    for sequence in &policy.sequences {
        add(&sequence.title, sequence.extent);
        parts(sequence, &mut add);
        holds(sequence, &mut add);
    }
    extents
}

/// A part lies from its own line to that of the next.
fn parts(sequence: &Sequence, add: &mut impl FnMut(&str, Span)) {
    for (at, part) in sequence.parts.iter().enumerate() {
        let end = sequence.parts.get(at + 1).map_or(sequence.extent.end, |next| next.span.start);
        add(&part.title, Span { end, ..part.span });
    }
}

/// A hold lies from its own line to that of the next step.
fn holds(sequence: &Sequence, add: &mut impl FnMut(&str, Span)) {
    for (at, step) in sequence.steps.iter().enumerate() {
        if let Act::Hold(hold) = &step.act {
            let end = sequence.steps.get(at + 1).map_or(sequence.extent.end, |next| next.span.start);
            add(&hold.title, Span { end, ..step.span });
        }
    }
}
