//! Why a policy says something else than another: its own lines `differ at …`.
//!
//! In: the new policy and the changes. Out: the same changes with their reasons, and the reasons that belong to none.

use super::change::Change;
use super::lines::because;
use super::view::Word;
use crate::policy::{Deviation, Policy};

/// A reason beneath the line itself comes first.
pub fn give(policy: &Policy, changes: &mut [Change]) {
    for change in changes.iter_mut().filter(|change| change.reason.is_none()) {
        let given = policy.deviations.iter().find(|deviation| is_of(deviation, change));
        change.reason = given.map(|deviation| because(policy, &deviation.because).shown);
    }
}

pub fn idle(policy: &Policy, changes: &[Change]) -> Vec<String> {
    let is_idle = |deviation: &&Deviation| !changes.iter().any(|change| is_of(deviation, change));
    policy.deviations.iter().filter(is_idle).map(|deviation| deviation.at.clone()).collect()
}

/// The words of the line, before or after; its title; or the name of what is changed.
fn is_of(deviation: &Deviation, change: &Change) -> bool {
    let at = Word::name(&deviation.at);
    let ats = [&change.before_at, &change.after_at].into_iter().flatten();
    let mut of_lines = ats.flat_map(|at| [&at.words, &at.name]);
    let titled = |words: &String| words.split(['“', '”', '"']).nth(1).is_some_and(|title| Word::name(title) == at);
    let is_own = change.kind != super::view::Kind::Deviation;
    let no_line = change.before_at.is_none() && change.after_at.is_none();
    is_own
        && (of_lines.any(|words| Word::name(words) == at || titled(words)) || no_line && Word::name(&change.of) == at)
}
