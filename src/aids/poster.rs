//! The wall poster: every step for everybody, with the layer lines.
//!
//! In: a procedure. Out: its [`Steps`]. Must never drop a prompt: what has no row of its own goes into the detail.

use super::plan::{StepRow, Steps};
use super::procedure::Direction;
use super::rows::Telling;
use crate::policy::Step;

pub fn steps(telling: &Telling) -> Steps {
    Steps {
        intro: telling.intro("poster_watched", "poster"),
        bands: telling.bands(|at, step| Some(row(telling, at, step))),
        layers: telling.worn.layers(),
        putting_on: telling.procedure.direction == Direction::PuttingOn,
        endings: telling.endings(),
    }
}

fn row(telling: &Telling, at: usize, step: &Step) -> StepRow {
    let mut row = telling.step(at, step, None);
    let mut led_by = step.prompts.say.clone();
    led_by.extend(telling.look_for_in_line(step));
    row.detail = telling.detail(at, step, None, &led_by);
    row.look_for.clear();
    row.because = step.prompts.because.iter().map(|because| telling.because(because)).collect();
    row
}
