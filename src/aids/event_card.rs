//! The card for one event: what everybody does when it happens, from the first step to where it goes on.
//!
//! In: a drill. Out: its [`Steps`]. Must never leave out who acts: it is read in haste, by whoever holds it.

use super::pattern::capital;
use super::plan::{Row, Steps};
use super::poster;
use super::rows::Telling;
use super::words::say;

pub fn steps(telling: &Telling) -> Steps {
    let mut steps = poster::steps(telling);
    steps.intro = say(&telling.words.intro, "event", &[]);
    let role = capital(&telling.policy.role(telling.procedure.principal).name);
    for row in steps.bands.iter_mut().flat_map(|band| &mut band.rows) {
        if let Row::Step(step) = row
            && step.who.is_empty()
        {
            step.who.clone_from(&role);
        }
    }
    steps
}
