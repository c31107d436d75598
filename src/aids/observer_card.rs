//! The observer's card: every step with what to say, what to look for and when to stop; every hold.
//!
//! In: a procedure. Out: its [`Steps`]. Must never leave a step without words to read aloud: where the policy gives none,
//! they are made from the act (see [`spoken`](super::sentence::spoken)), unless the act says them already as it stands.

use super::plan::{Row, StepRow, Steps};
use super::procedure::{Direction, dresses};
use super::rows::Telling;
use super::sentence;
use super::words::say;
use crate::policy::{Seconds, Step};
use crate::walk::times;

pub fn steps(telling: &Telling) -> Steps {
    let mut steps = Steps {
        intro: String::new(),
        bands: telling.bands(|at, step| Some(row(telling, at, step))),
        layers: telling.worn.layers(),
        putting_on: telling.procedure.direction == Direction::PuttingOn,
        endings: telling.endings(),
    };
    let aloud = times::read_aloud(read_aloud(&steps).iter().map(String::as_str));
    let time = telling.words.duration(Seconds(aloud.0.div_ceil(HALF_A_MINUTE) * HALF_A_MINUTE));
    let intro = &telling.words.intro;
    steps.intro = format!("{} {}", say(intro, "observer", &[]), say(intro, "aloud", &[("time", &time)]));
    steps
}

/// The time that reading takes is told in steps of so many seconds.
const HALF_A_MINUTE: u32 = 30;

/// What the observer says: the words of each step, or the act where it has none, and what the observer or others confirm.
pub fn read_aloud(steps: &Steps) -> Vec<String> {
    let rows = steps.bands.iter().flat_map(|band| &band.rows);
    let spoken = rows.flat_map(|row| match row {
        Row::Step(step) if step.say.is_empty() => vec![step.act.clone()],
        Row::Step(step) => step.say.clone(),
        Row::Hold(hold) => {
            let confirmed = hold.confirms.iter().map(|confirm| confirm.what.clone());
            hold.say.iter().cloned().chain(confirmed).collect()
        }
    });
    spoken.collect()
}

fn row(telling: &Telling, at: usize, step: &Step) -> StepRow {
    let mine = telling.reader == Some(step.actor);
    let you = telling.reader.filter(|_| mine);
    let mut row = telling.step(at, step, you);
    let mut detail: Vec<String> = sentence::named(&telling.voice(you), step).into_iter().collect();
    detail.extend(sentence::details(&telling.voice(you), step, at, &telling.worn));
    row.say = step.prompts.say.clone();
    if row.say.is_empty() {
        let spoken = sentence::spoken(&telling.voice(None), step, telling.reader);
        // The act is read aloud as it stands, so that the same words a second time would only be in the way.
        row.say.extend(spoken.filter(|spoken| spoken.trim_end_matches('.') != row.act));
        // Said aloud already.
        let rolled = sentence::rolled(&telling.voice(you), step);
        detail.retain(|told| Some(told) != rolled.as_ref());
    }
    row.detail = detail.join(" ");
    if dresses(&step.act) == Some(telling.procedure.principal) {
        row.still_on = telling.worn.still_on(telling.words, at);
    }
    row
}
