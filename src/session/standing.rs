//! Whether an edition may be followed today.
//!
//! In: a checked policy. Out: its [`Standing`]. Must never know of other editions than this one.

use crate::findings::{Finding, Signal};
use crate::policy::Day;

use super::Checked;

/// What the policy's own lines and the check say of it on the day of the check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Standing {
    InForce,
    /// It holds from a later day on.
    NotYet(Day),
    Withdrawn(Day),
    /// Why it may be printed only as a draft, each a sentence.
    Draft(Vec<String>),
}

/// Where several hold, the one that matters most to whoever finds the paper.
pub fn standing(checked: &Checked) -> Standing {
    let paper = &checked.reading.policy.paper;
    let reasons = draft_reasons(checked);
    let has_come = |day: Day| checked.today.is_some_and(|today| today >= day);
    let is_to_come = |day: Day| checked.today.is_some_and(|today| today < day);
    match (paper.withdrawn, paper.in_force) {
        (Some(day), _) if has_come(day) => Standing::Withdrawn(day),
        _ if !reasons.is_empty() => Standing::Draft(reasons),
        (_, Some(day)) if is_to_come(day) => Standing::NotYet(day),
        _ => Standing::InForce,
    }
}

/// Why the policy may be printed only as a draft, each a sentence; empty where it may be printed as in force.
pub fn draft_reasons(checked: &Checked) -> Vec<String> {
    let policy = &checked.reading.policy;
    let paper = &policy.paper;
    let mut reasons = Vec::new();
    let is_unread = |finding: &&Finding| finding.name.family == "reading" && finding.signal <= Signal::Warning;
    match checked.findings.iter().filter(is_unread).count().max(usize::from(!policy.gaps.is_empty())) {
        0 => {}
        1 => reasons.push("One place in the policy is not understood as it stands.".to_string()),
        many => reasons.push(format!("{many} places in the policy are not understood as they stand.")),
    }
    let is_danger = |finding: &&Finding| finding.signal == Signal::Danger && finding.accepted.is_none();
    let dangers = checked.findings.iter().filter(|finding| is_danger(finding) && !is_unread(finding)).count();
    match dangers {
        0 => {}
        1 => reasons.push("One finding at DANGER stands open.".to_string()),
        many => reasons.push(format!("{many} findings at DANGER stand open.")),
    }
    let choice_gave_up = checked.walk.assessment.as_ref().is_some_and(|assessment| assessment.gave_up);
    if choice_gave_up
        || checked.walk.times.gave_up
        || checked.walk.runs.iter().any(|run| run.gave_up || run.is_doubtful())
    {
        reasons.push("The check did not come to its end.".to_string());
    }
    if paper.approval.is_none() {
        reasons.push("Nobody has approved this edition.".to_string());
    }
    if let (Some(review), Some(today)) = (paper.review_by, checked.today)
        && today > review
    {
        reasons.push(format!("The review date, {review}, has passed."));
    }
    reasons
}
