//! The exceptions that a policy makes, and the findings that they accept.
//!
//! In: a policy, a finding and today's date. Out: why the finding is accepted, and until when. A lapsed exception accepts
//! nothing; a rule of its own tells of it.

use crate::findings::Finding;
use crate::policy::resolve::same_title;
use crate::policy::{Act, Day, Policy, Sequence};
use crate::text::Span;

/// `Because the room has no second door, until 1 June 2027`, as the reason and the date.
pub(super) fn reason(policy: &Policy, finding: &Finding, today: Option<Day>) -> Option<String> {
    let name = finding.name.to_string();
    let fits = policy.exceptions.iter().find(|exception| {
        exception.finding == name
            && today.is_none_or(|today| exception.until >= today)
            && extents(policy, &exception.at).iter().any(|extent| within(*extent, finding.span))
    })?;
    Some(format!("{} (until {})", fits.because, fits.until))
}

fn within(extent: Span, span: Span) -> bool {
    extent.source == span.source && extent.start <= span.start && span.start < extent.end
}

/// Where the sequences, contingencies, parts, holds and levels of a title lie in the text.
fn extents(policy: &Policy, title: &str) -> Vec<Span> {
    let mut found = Vec::new();
    if policy.paper.title.as_deref().is_some_and(|own| same_title(own, title)) {
        found.extend(policy.paper.spans.iter().map(|&(_, span)| span));
    }
    for level in policy.levels.iter().filter(|level| same_title(&level.name, title)) {
        found.push(level.extent);
    }
    for contingency in policy.contingencies.iter().filter(|each| same_title(&each.title, title)) {
        found.push(contingency.extent);
    }
    for sequence in &policy.sequences {
        if same_title(&sequence.title, title) {
            found.push(sequence.extent);
        }
        found.extend(parts_and_holds(sequence, title));
    }
    found
}

fn parts_and_holds(sequence: &Sequence, title: &str) -> Vec<Span> {
    let mut starts: Vec<u32> = sequence.parts.iter().map(|part| part.span.start).collect();
    let upto = |starts: &[u32], span: Span| {
        let next = starts.iter().copied().filter(|&start| start > span.start).min();
        Span { end: next.unwrap_or(sequence.extent.end), ..span }
    };
    let parts = sequence.parts.iter().filter(|part| same_title(&part.title, title));
    let mut found: Vec<Span> = parts.map(|part| upto(&starts, part.span)).collect();
    starts.extend(sequence.steps.iter().map(|step| step.span.start));
    for step in &sequence.steps {
        if let Act::Hold(hold) = &step.act
            && same_title(&hold.title, title)
        {
            found.push(upto(&starts, step.span));
        }
    }
    found
}
