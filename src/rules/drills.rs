//! What the rules about contingencies share: findings at a contingency's own line.
//!
//! In: a brief and an event. Out: a finding. Must never choose a rule's own words.

use super::telling::Said;
use super::{Brief, Rule};
use crate::findings::Finding;
use crate::policy::{Contingency, Policy};
use crate::walk::{Event, Run};

/// The contingency in whose play something was noticed.
pub fn contingency<'a>(policy: &'a Policy, event: &Event) -> Option<(usize, &'a Contingency)> {
    let at = event.case.strike?.contingency;
    Some((at, policy.contingencies.get(at)?))
}

/// A finding that is told at the contingency.
pub fn finding(brief: &Brief, rule: &dyn Rule, run: &Run, event: &Event, said: Said) -> Finding {
    let finding = brief.finding(rule, run, event, said);
    match contingency(brief.policy, event) {
        Some((_, drill)) => Finding { span: drill.span, ..finding },
        None => finding,
    }
}
