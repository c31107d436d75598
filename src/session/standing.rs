//! Whether an edition may be followed today.
//!
//! In: a checked policy. Out: its [`Standing`]. Must never know of other editions than this one.

use crate::aids::draft_reason;
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
    /// Why it may be printed only as a draft.
    Draft(Vec<Reason>),
}

/// One reason why an edition is a draft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// So many places of the policy are not understood.
    Unread(usize),
    /// So many findings at DANGER stand open.
    Open(usize),
    /// The check did not come to its end.
    Unfinished,
    Unapproved,
    /// The review date has passed.
    Overdue(Day),
}

impl Reason {
    /// A sentence in the program's own language.
    pub fn sentence(self) -> String {
        draft_reason(self)
    }
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

/// Why the policy may be printed only as a draft; empty where it may be printed as in force.
pub fn draft_reasons(checked: &Checked) -> Vec<Reason> {
    let policy = &checked.reading.policy;
    let paper = &policy.paper;
    let mut reasons = Vec::new();
    let is_unread = |finding: &&Finding| finding.name.family == "reading" && finding.signal <= Signal::Warning;
    let unread = checked.findings.iter().filter(is_unread).count().max(usize::from(!policy.gaps.is_empty()));
    if unread > 0 {
        reasons.push(Reason::Unread(unread));
    }
    let is_danger = |finding: &&Finding| finding.signal == Signal::Danger && finding.accepted.is_none();
    let dangers = checked.findings.iter().filter(|finding| is_danger(finding) && !is_unread(finding)).count();
    if dangers > 0 {
        reasons.push(Reason::Open(dangers));
    }
    let choice_gave_up = checked.walk.assessment.as_ref().is_some_and(|assessment| assessment.gave_up);
    if choice_gave_up
        || checked.walk.times.gave_up
        || checked.walk.runs.iter().any(|run| run.gave_up || run.is_doubtful())
    {
        reasons.push(Reason::Unfinished);
    }
    if paper.approval.is_none() {
        reasons.push(Reason::Unapproved);
    }
    if let (Some(review), Some(today)) = (paper.review_by, checked.today)
        && today > review
    {
        reasons.push(Reason::Overdue(review));
    }
    reasons
}
