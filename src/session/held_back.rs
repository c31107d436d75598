//! Findings that may only follow from a line that could not be read. One mistake is told once.
//!
//! In: a policy with gaps, and findings. Out: the findings that stand whatever the unread lines say, and the levels of
//! which some were held back, so that it can be said. What comes before an unread step stands.

use std::collections::{BTreeMap, BTreeSet};

use super::accepted::within;
use crate::findings::Finding;
use crate::policy::{GapOf, ItemId, LevelId, Policy};
use crate::text::Span;

pub(super) struct Kept {
    pub findings: Vec<Finding>,
    /// Levels that were not examined to the end.
    pub levels: BTreeSet<LevelId>,
}

/// Families that look at single lines, and so are not misled by a missing one.
const OF_SINGLE_LINES: [&str; 2] = ["reading", "paper"];

/// Findings about something that never comes, which an unread line may hold.
const OF_ABSENCE: [&str; 10] = [
    "order lingering",
    "role stranded",
    "role idle",
    "role unready",
    "place ending",
    "place heading",
    "waste nowhere",
    "kit seal",
    "time stay",
    "time budget",
];

pub(super) fn without_consequences(policy: &Policy, findings: Vec<Finding>) -> Kept {
    if policy.gaps.is_empty() {
        return Kept { findings, levels: BTreeSet::new() };
    }
    let doubt = Doubt::of(policy);
    let findings = findings.into_iter().filter(|finding| doubt.leaves(policy, finding)).collect();
    Kept { findings, levels: doubt.levels.keys().copied().collect() }
}

/// What the gaps of a policy cast doubt on.
struct Doubt {
    /// Each level in doubt: from its first unread step on, or altogether.
    levels: BTreeMap<LevelId, Option<Span>>,
    contingencies: bool,
}

impl Doubt {
    fn of(policy: &Policy) -> Doubt {
        let everything = policy.gaps.iter().any(|gap| gap.of == GapOf::Everything);
        let mut doubt = Doubt { levels: BTreeMap::new(), contingencies: everything };
        let mut items: BTreeSet<ItemId> = BTreeSet::new();
        for gap in &policy.gaps {
            match gap.of {
                GapOf::Everything | GapOf::Choice => {}
                GapOf::Contingency => doubt.contingencies = true,
                GapOf::Item(item) => drop(items.insert(item)),
                GapOf::Level(level) => drop(doubt.levels.insert(level, None)),
                GapOf::Steps(level) => {
                    let first = doubt.levels.entry(level).or_insert(Some(gap.span));
                    *first = first.map(|first| first.min(gap.span));
                }
            }
        }
        for (at, level) in policy.levels.iter().enumerate() {
            let touched = level.kits.iter().flat_map(|kit| &kit.items).any(|worn| items.contains(&worn.item));
            if everything || touched {
                doubt.levels.insert(LevelId::new(at), None);
            }
        }
        doubt
    }

    fn leaves(&self, policy: &Policy, finding: &Finding) -> bool {
        if OF_SINGLE_LINES.contains(&finding.name.family) {
            return true;
        }
        // What comes of a drill depends on the steps of its level, too; and an unread one may be the one that is missing.
        let in_drill = policy.contingencies.iter().any(|each| within(each.extent, finding.span));
        let is_missing = finding.name.to_string() == "drill missing";
        if in_drill && (self.contingencies || !self.levels.is_empty()) || is_missing && self.contingencies {
            return false;
        }
        let of_absence = OF_ABSENCE.contains(&finding.name.to_string().as_str());
        self.levels.iter().all(|(&level, first)| {
            let in_level = within(policy.level(level).extent, finding.span);
            let in_steps = policy.sequences_of(level).any(|(_, sequence)| within(sequence.extent, finding.span));
            let earlier = first.is_some_and(|first| {
                first.source == finding.span.source && finding.span.end <= first.start && !of_absence
            });
            !in_level && (!in_steps || earlier)
        })
    }
}
