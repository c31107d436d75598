//! Findings that may only follow from a line that could not be read. One mistake is told once.
//!
//! In: a policy with gaps, and findings. Out: the findings that stand whatever the unread lines say, and the levels of
//! which some were held back, so that it can be said. What comes before an unread step stands.

use std::collections::BTreeSet;

use crate::findings::Finding;
use crate::policy::{GapOf, LevelId, Policy};
use crate::text::Span;

pub(super) struct Kept {
    pub findings: Vec<Finding>,
    /// Levels that were not examined to the end.
    pub levels: BTreeSet<LevelId>,
}

/// Families that look at single lines, and so are not misled by a missing one.
const OF_SINGLE_LINES: [&str; 2] = ["reading", "paper"];

/// Findings about something that never comes, which an unread line may hold.
const OF_ABSENCE: [&str; 5] = ["order lingering", "role stranded", "role idle", "waste nowhere", "kit seal"];

pub(super) fn without_consequences(policy: &Policy, findings: Vec<Finding>) -> Kept {
    let mut levels = BTreeSet::new();
    for id in (0..policy.levels.len()).map(LevelId::new) {
        if policy.gaps.iter().any(|gap| gap.of == GapOf::Steps(id) || affects(policy, id, gap.of)) {
            levels.insert(id);
        }
    }
    let findings = findings.into_iter().filter(|finding| stands(policy, &levels, finding)).collect();
    Kept { findings, levels }
}

fn stands(policy: &Policy, levels: &BTreeSet<LevelId>, finding: &Finding) -> bool {
    if OF_SINGLE_LINES.contains(&finding.name.family) || policy.gaps.is_empty() {
        return true;
    }
    if policy.contingencies.iter().any(|each| within(each.extent, finding.span)) {
        return !policy.gaps.iter().any(|gap| matches!(gap.of, GapOf::Contingency | GapOf::Everything));
    }
    !levels.iter().any(|&level| concerns(policy, level, finding.span) && !stands_at(policy, level, finding))
}

fn within(extent: Span, span: Span) -> bool {
    extent.source == span.source && extent.start <= span.start && span.start < extent.end
}

fn concerns(policy: &Policy, level: LevelId, span: Span) -> bool {
    within(policy.level(level).extent, span) || policy.sequences_of(level).any(|(_, each)| within(each.extent, span))
}

/// Whether a finding about a level stands: every gap of the level lies among steps that come later.
fn stands_at(policy: &Policy, level: LevelId, finding: &Finding) -> bool {
    if within(policy.level(level).extent, finding.span) || OF_ABSENCE.contains(&finding.name.to_string().as_str()) {
        return false;
    }
    policy.gaps.iter().all(|gap| match gap.of {
        GapOf::Steps(other) if other == level => {
            gap.span.source == finding.span.source && finding.span.end <= gap.span.start
        }
        of => !affects(policy, level, of),
    })
}

fn affects(policy: &Policy, level: LevelId, of: GapOf) -> bool {
    match of {
        GapOf::Everything => true,
        GapOf::Level(other) => other == level,
        GapOf::Item(item) => policy.level(level).kits.iter().any(|kit| kit.items.iter().any(|worn| worn.item == item)),
        GapOf::Steps(_) | GapOf::Contingency => false,
    }
}
