//! The wearer's card: what the wearer does and what is done to the wearer, spoken to the wearer; every hold.
//!
//! In: a procedure. Out: its [`Steps`]. Must never renumber: a step has one number on every aid.

use super::plan::{StepRow, Steps};
use super::procedure::{Direction, dresses};
use super::rows::Telling;
use crate::policy::{Act, RoleId, Step, Target};

pub fn steps(telling: &Telling) -> Steps {
    Steps {
        intro: telling.intro("wearer_watched", "wearer"),
        bands: telling.bands(|at, step| concerns(step, telling.procedure.principal).then(|| row(telling, at, step))),
        layers: telling.worn.layers(),
        putting_on: telling.procedure.direction == Direction::PuttingOn,
        endings: telling.endings(),
    }
}

fn row(telling: &Telling, at: usize, step: &Step) -> StepRow {
    let you = telling.procedure.principal;
    let mut row = telling.step(at, step, Some(you));
    let mut led_by = step.prompts.say.clone();
    led_by.extend(telling.look_for_in_line(step));
    row.detail = if step.actor == you { telling.detail(at, step, Some(you), &led_by) } else { led_by.join(" ") };
    row.look_for.clear();
    row
}

/// Whether a step is done by a person or on that person.
fn concerns(step: &Step, person: RoleId) -> bool {
    let is_on = |target: &Target| match target {
        Target::Item { wearer, .. } => *wearer == person,
        Target::Person(role) => *role == person,
        Target::Surface(_) | Target::Container(_) => false,
    };
    step.actor == person
        || dresses(&step.act) == Some(person)
        || match &step.act {
            Act::Wipe { target, .. } | Act::Spray { target, .. } => is_on(target),
            Act::Check(target)
            | Act::SwitchOn(target)
            | Act::SwitchOff(target)
            | Act::Untie(target)
            | Act::Open(target)
            | Act::Close(target) => is_on(target),
            Act::Put { what, .. } => is_on(what),
            Act::Connect { item, to } => is_on(item) || is_on(to),
            Act::Disconnect { item, from } => is_on(item) || from.as_ref().is_some_and(is_on),
            Act::Cut { item, .. } | Act::Break { item, .. } => is_on(item),
            _ => false,
        }
}
