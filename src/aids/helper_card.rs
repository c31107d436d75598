//! The helper's card: the helper's own acts in full, the others' in brief; every hold.
//!
//! In: a procedure in which a helper acts. Out: its [`Steps`]. Must never leave out a step: the helper must know the place.

use super::plan::{StepRow, Steps};
use super::procedure::Direction;
use super::rows::Telling;
use crate::policy::Step;

pub fn steps(telling: &Telling) -> Steps {
    Steps {
        intro: telling.intro("helper", "helper_alone"),
        bands: telling.bands(|at, step| Some(row(telling, at, step))),
        layers: telling.worn.layers(),
        putting_on: telling.procedure.direction == Direction::PuttingOn,
        endings: telling.endings(),
    }
}

fn row(telling: &Telling, at: usize, step: &Step) -> StepRow {
    if telling.reader == Some(step.actor) {
        let mut row = telling.step(at, step, telling.reader);
        row.detail = telling.detail(at, step, telling.reader, &[]);
        row.say = step.prompts.say.clone();
        return row;
    }
    let mut row = telling.step(at, step, None);
    row.brief = true;
    if row.who.is_empty() {
        row.who = super::pattern::capital(&telling.policy.role(step.actor).name);
    }
    row.look_for.clear();
    row.stop_if.clear();
    row.quiet_detail.clear();
    row
}
