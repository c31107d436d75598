//! The walk chart: after each step, how near the hazard has come to everybody's skin and clothes.
//!
//! In: a procedure and the walk's run of its level. Out: a [`Chart`]. Must never read a figure as a risk, nor work one out:
//! every figure is the walk's.

use super::chart_lanes::{self, Column, Reach};
use super::chart_notes;
use super::pattern::capital;
use super::plan::{Chart, ChartBand, ChartCell, ChartKey, ChartMark, ChartPerson, ChartRow, ChartSum, Lane, Mark};
use super::rows::Telling;
use super::sentence;
use super::words::say;
use crate::policy::{Act, RoleId, Step, Target};
use crate::walk::state::FAR;
use crate::walk::{Run, StepRef};

/// None where the run never plays the procedure.
pub fn chart(telling: &Telling, run: &Run) -> Option<Chart> {
    let sequence = telling.procedure.sequence?;
    let steps: Vec<StepRef> = (0..telling.procedure.steps.len()).map(|step| StepRef { sequence, step }).collect();
    if !steps.iter().any(|at| run.profile.moments.contains_key(at)) {
        return None;
    }
    let reaches: Vec<Reach> =
        taking_part(telling).into_iter().map(|who| chart_lanes::reach(telling, run, who, &steps)).collect();
    let drawn: Vec<&Reach> = reaches.iter().filter(|reach| !reach.columns.is_empty()).collect();
    let rings: Vec<Vec<(usize, usize)>> = drawn
        .iter()
        .map(|reach| chart_lanes::approaches(reach, run, &steps).iter().map(|near| (near.column, near.step)).collect())
        .collect();
    let people: Vec<ChartPerson> = drawn.iter().map(|reach| person(telling, reach)).collect();
    let bands = bands(telling, run, &drawn, &rings, &steps);
    Some(Chart {
        intro: intro(telling, run),
        key: key(telling, &people, &bands),
        people,
        bands,
        sums: sums(telling, &drawn),
        signals: chart_notes::signals(telling, &drawn),
        notes: chart_notes::notes(telling, run, &reaches, &steps),
    })
}

/// Who acts, or is dressed or undressed: the one whom the procedure is about first.
fn taking_part(telling: &Telling) -> Vec<RoleId> {
    let steps = telling.procedure.steps.iter().filter(|step| !matches!(step.act, Act::Hold(_)));
    let others = steps.flat_map(|step| [Some(step.actor), super::procedure::dresses(&step.act)]).flatten();
    let mut roles: Vec<RoleId> = others.filter(|&who| who != telling.procedure.principal).collect();
    roles.sort();
    roles.dedup();
    roles.insert(0, telling.procedure.principal);
    roles
}

fn intro(telling: &Telling, run: &Run) -> String {
    let words = &telling.words.chart;
    let cases = run.cases.to_string();
    let over = say(words, if run.cases == 1 { "one_case" } else { "cases" }, &[("count", &cases)]);
    say(words, "intro", &[("over", &over)])
}

fn person(telling: &Telling, reach: &Reach) -> ChartPerson {
    let lane = |column: &Column| Lane {
        name: column.name.clone(),
        margin: column.margin,
        is_outermost: column.is_outermost(),
    };
    ChartPerson { name: capital(&telling.policy.role(reach.who).name), lanes: reach.columns.iter().map(lane).collect() }
}

fn bands(
    telling: &Telling,
    run: &Run,
    reaches: &[&Reach],
    rings: &[Vec<(usize, usize)>],
    steps: &[StepRef],
) -> Vec<ChartBand> {
    let mut bands = vec![ChartBand { title: String::new(), rows: Vec::new() }];
    for (at, step) in telling.procedure.steps.iter().enumerate() {
        for part in telling.procedure.parts.iter().filter(|part| part.first == at) {
            bands.push(ChartBand { title: part.title.clone(), rows: Vec::new() });
        }
        let mut row = row(telling, reaches, at, step);
        row.is_played = run.profile.moments.contains_key(&steps[at]);
        for (reach, rings) in reaches.iter().zip(rings) {
            let cells = reach.columns.iter().enumerate();
            row.cells.extend(cells.map(|(lane, column)| cell(telling, column, at, rings.contains(&(lane, at)))));
        }
        if let Some(band) = bands.last_mut() {
            band.rows.push(row);
        }
    }
    bands.retain(|band| !band.rows.is_empty());
    bands
}

fn row(telling: &Telling, reaches: &[&Reach], at: usize, step: &Step) -> ChartRow {
    let told = telling.step(at, step, None);
    let marks = reaches.iter().map(|reach| mark(telling, step, reach.who));
    let hold = match &step.act {
        Act::Hold(hold) => Some(&hold.title),
        _ => None,
    };
    ChartRow {
        number: if hold.is_some() { String::new() } else { told.number.to_string() },
        who: if hold.is_some() { String::new() } else { told.who },
        act: hold.cloned().unwrap_or_else(|| sentence::short(&telling.voice(None), step).unwrap_or(told.act)),
        sometimes: !step.guard.is_always(),
        is_hold: hold.is_some(),
        is_played: true,
        marks: marks.collect(),
        cells: Vec::new(),
    }
}

/// What a step does to a person's hands and layers.
fn mark(telling: &Telling, step: &Step, who: RoleId) -> ChartMark {
    let mark = match &step.act {
        Act::CleanHands(_) if step.actor == who => Mark::Hands,
        Act::PutOn { wearer, .. } | Act::PullUp { wearer, .. } if *wearer == who => Mark::On,
        Act::TakeOff { wearer, .. } if *wearer == who => Mark::Off,
        Act::Change { wearer, .. } if *wearer == who => Mark::Change,
        Act::Wipe { target: Target::Item { wearer, .. }, .. }
        | Act::Spray { target: Target::Item { wearer, .. }, .. }
            if *wearer == who =>
        {
            Mark::Kit
        }
        _ => Mark::None,
    };
    ChartMark { mark, alt: say(&telling.words.chart, mark_key(mark), &[]) }
}

fn mark_key(mark: Mark) -> &'static str {
    match mark {
        Mark::None => "",
        Mark::Hands => "mark_hands",
        Mark::Kit => "mark_kit",
        Mark::On => "mark_on",
        Mark::Off => "mark_off",
        Mark::Change => "mark_change",
    }
}

fn cell(telling: &Telling, column: &Column, at: usize, ringed: bool) -> ChartCell {
    let now = column.by_step[at];
    let before = column.by_step[..at].iter().rev().flatten().next().copied();
    let [planned, slipped, _] = now.unwrap_or([FAR; 3]);
    ChartCell {
        touches: finite(planned),
        slipped: finite(slipped),
        words: touches_words(telling, planned),
        changed: now.is_some() && before.map_or(planned != FAR, |before| before[0] != planned),
        near: column.margin.is_some_and(|margin| planned < margin),
        ringed,
    }
}

fn finite(touches: u16) -> Option<u16> {
    (touches != FAR).then_some(touches)
}

/// `3`; the sign for what is out of reach.
pub(super) fn touches_words(telling: &Telling, touches: u16) -> String {
    if touches == FAR { say(&telling.words.chart, "far", &[]) } else { touches.to_string() }
}

/// The least of each column, and what the level asks.
fn sums(telling: &Telling, reaches: &[&Reach]) -> Vec<ChartSum> {
    let words = &telling.words.chart;
    let columns = || reaches.iter().flat_map(|reach| &reach.columns);
    let sum = |slips: usize, key: &str| {
        let cells = columns().map(|column| {
            let least = column.least()[slips];
            let asked = column.asked[slips];
            ChartCell {
                touches: finite(least),
                slipped: None,
                words: touches_words(telling, least),
                changed: true,
                near: asked.is_some_and(|asked| least < asked),
                ringed: false,
            }
        });
        ChartSum { label: say(words, key, &[]), cells: cells.collect() }
    };
    let asks = |slips: usize, key: &str| {
        let cell = |column: &Column| ChartCell {
            touches: column.asked[slips],
            slipped: None,
            words: column.asked[slips].map(|touches| touches.to_string()).unwrap_or_default(),
            changed: false,
            near: false,
            ringed: false,
        };
        let is_asked = columns().any(|column| column.asked[slips].is_some());
        is_asked.then(|| ChartSum { label: say(words, key, &[]), cells: columns().map(cell).collect() })
    };
    let nearest = [sum(0, "planned"), sum(1, "one_slip"), sum(2, "two_slips")];
    let asked = [asks(0, "asked"), asks(1, "asked_one_slip"), asks(2, "asked_two_slips")];
    nearest.into_iter().chain(asked.into_iter().flatten()).collect()
}

/// The signs that the chart bears, and no others.
fn key(telling: &Telling, people: &[ChartPerson], bands: &[ChartBand]) -> ChartKey {
    let rows = || bands.iter().flat_map(|band| &band.rows);
    let cells = || rows().flat_map(|row| &row.cells);
    let lanes = || people.iter().flat_map(|person| &person.lanes);
    let told = |key: &str, is_there: bool| if is_there { say(&telling.words.chart, key, &[]) } else { String::new() };
    let marks = [Mark::Hands, Mark::Kit, Mark::On, Mark::Off, Mark::Change];
    let marks = marks.into_iter().filter(|&mark| rows().flat_map(|row| &row.marks).any(|there| there.mark == mark));
    ChartKey {
        tide: told("tide", lanes().any(|lane| !lane.is_outermost)),
        outermost: told("outermost_words", lanes().any(|lane| lane.is_outermost)),
        slipped: told("slipped", cells().any(|cell| cell.slipped != cell.touches)),
        margin: told("margin", lanes().any(|lane| lane.margin.is_some())),
        near: told("near", cells().any(|cell| cell.near)),
        ring: told("ring", cells().any(|cell| cell.ringed)),
        far: told("far_words", cells().any(|cell| cell.touches.is_none())),
        far_sign: told("far", true),
        sometimes: told("sometimes", rows().any(|row| row.sometimes)),
        marks: marks.map(|mark| ChartMark { mark, alt: told(mark_key(mark), true) }).collect(),
    }
}
