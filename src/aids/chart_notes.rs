//! What a walk chart says beneath its rows: by which touches the hazard comes nearest, and where it comes too near.
//!
//! In: the walk's chains. Out: sentences. Must never tell a chain that the walk did not replay.

use super::chart_lanes::{self, Approach, Column, Of, Reach};
use super::pattern::capital;
use super::plan::{SignalPanel, SignalWord};
use super::rows::Telling;
use super::sentence;
use super::voice::item_name;
use super::words::say;
use crate::policy::{Area, Guard, Literal};
use crate::walk::state::FAR;
use crate::walk::{How, Link, Nearest, Run, StepRef, Surface};

/// Where the hazard comes nearer than the level allows, if anywhere.
pub fn signals(telling: &Telling, reaches: &[&Reach]) -> Vec<SignalPanel> {
    let mut near = Vec::new();
    for reach in reaches {
        for column in &reach.columns {
            let steps: Vec<String> = entries(column).into_iter().map(|at| step_words(telling, at)).collect();
            if steps.is_empty() {
                continue;
            }
            let slots = [
                ("person", person(telling, reach)),
                ("what", what(telling, column)),
                ("step", telling.words.all_of(&steps)),
            ];
            near.push(filled(telling, "near_at", &slots));
        }
    }
    if near.is_empty() {
        return Vec::new();
    }
    let text = say(&telling.words.chart, "too_near", &[("where", &telling.words.all_of(&near))]);
    let word = say(&telling.words.signals, "danger", &[]);
    vec![SignalPanel { signal: SignalWord::Danger, word, text }]
}

/// The steps after which the hazard is nearer than the level allows, and nearer than it was before.
fn entries(column: &Column) -> Vec<usize> {
    let Some(margin) = column.margin else { return Vec::new() };
    let mut before = FAR;
    let mut steps = Vec::new();
    for (at, touches) in column.by_step.iter().enumerate() {
        let Some([planned, ..]) = *touches else { continue };
        if planned < margin && planned < before {
            steps.push(at);
        }
        before = planned;
    }
    steps
}

/// A sentence for each person: the nearest approach with its chain, and what is never reached.
pub fn notes(telling: &Telling, run: &Run, reaches: &[Reach], steps: &[StepRef]) -> Vec<String> {
    let mut notes = Vec::new();
    for reach in reaches {
        notes.extend(nearest(telling, run, reach, steps));
        let person = capital(&telling.policy.role(reach.who).name);
        let columns = reach.columns.iter().any(|column| column.of != Of::Outermost);
        let (key, what) = match (columns, reach.unreached.is_empty()) {
            (false, _) => ("all_unreached", String::new()),
            (true, false) => ("unreached", telling.words.all_of(&reach.unreached)),
            (true, true) => continue,
        };
        notes.push(say(&telling.words.chart, key, &[("person", &person), ("what", &what)]));
    }
    notes
}

/// One for each column that a step brings nearest.
fn nearest(telling: &Telling, run: &Run, reach: &Reach, steps: &[StepRef]) -> Vec<String> {
    let told = |approach: &Approach| {
        let column = &reach.columns[approach.column];
        let slots = [
            ("person", person(telling, reach)),
            ("what", what(telling, column)),
            ("touches", touches(telling, column.least()[0])),
            ("step", step_words(telling, approach.step)),
            ("chain", approach.known.map(|nearest| chain(telling, run, nearest)).unwrap_or_default()),
            ("when", approach.known.map(|nearest| case(telling, nearest)).unwrap_or_default()),
        ];
        filled(telling, "nearest", &slots)
    };
    chart_lanes::approaches(reach, run, steps).iter().map(told).collect()
}

/// `face and eyes`, `scrubs`
fn what(telling: &Telling, column: &Column) -> String {
    match column.of {
        Of::Clothes(item) => item_name(telling.policy, item),
        _ => telling.words.all_of(&chart_lanes::area_names(telling, &column.areas)),
    }
}

fn person(telling: &Telling, reach: &Reach) -> String {
    telling.policy.role(reach.who).name.clone()
}

fn filled(telling: &Telling, key: &str, slots: &[(&str, String)]) -> String {
    let slots: Vec<(&str, &str)> = slots.iter().map(|(slot, words)| (*slot, words.as_str())).collect();
    say(&telling.words.chart, key, &slots)
}

fn touches(telling: &Telling, count: u16) -> String {
    let key = if count == 1 { "touch" } else { "touches" };
    say(&telling.words.chart, key, &[("count", &count.to_string())])
}

/// `step 4`, `the hold “Seal”`
fn step_words(telling: &Telling, at: usize) -> String {
    let step = &telling.procedure.steps[at];
    match (&step.act, step.number) {
        (crate::policy::Act::Hold(hold), _) => say(&telling.words.chart, "at_hold", &[("title", &hold.title)]),
        (_, number) => {
            let number = number.or_else(|| telling.procedure.number_at(at)).unwrap_or_default();
            say(&telling.words.chart, "at_step", &[("number", &number.to_string())])
        }
    }
}

/// `the front of the wearer’s suit, the helper’s gloves (step 27), …`
fn chain(telling: &Telling, run: &Run, nearest: &Nearest) -> String {
    let mut told: Vec<String> = Vec::new();
    for link in &nearest.chain {
        match link.how {
            How::Cleaned => {
                let cleaned = say(&telling.words.chart, "cleaned", &[]);
                if let Some(last) = told.last_mut().filter(|last| !last.ends_with(&cleaned)) {
                    last.push_str(&cleaned);
                }
            }
            _ => told.push(linked(telling, run, link)),
        }
    }
    told.join(&say(&telling.words.chart, "then", &[]))
}

fn linked(telling: &Telling, run: &Run, link: &Link) -> String {
    let surface = surface(telling, run, link.surface);
    let starts = matches!(link.how, How::Landed | How::Starts);
    let step = link.step.filter(|_| !starts);
    let here = step.filter(|step| Some(step.sequence) == telling.procedure.sequence);
    let at = match (here, step) {
        (Some(here), _) => step_words(telling, here.step),
        (None, Some(step)) => {
            let steps = &telling.policy.steps(step.sequence)[step.step..];
            let number = steps.iter().find_map(|step| step.number).unwrap_or_default();
            let slots = [("number", number.to_string()), ("sequence", telling.policy.title(step.sequence).to_owned())];
            filled(telling, "at_step_of", &slots)
        }
        (None, None) => String::new(),
    };
    filled(telling, "link", &[("surface", surface), ("at", at)])
}

fn surface(telling: &Telling, run: &Run, surface: Surface) -> String {
    let policy = telling.policy;
    let of = |key: &str, who: crate::policy::RoleId, what: String, part: String| {
        filled(telling, key, &[("person", policy.role(who).name.clone()), ("what", what), ("part", part)])
    };
    let item = |piece: crate::walk::body::Piece| item_name(policy, piece.item);
    match surface {
        Surface::Skin { who, area: Area::Hands } => of("bare_hands", who, String::new(), String::new()),
        Surface::Skin { who, area } => of("skin", who, super::chart_lanes::area_name(telling, area), String::new()),
        Surface::Front { who, piece } => of("front", who, item(piece), String::new()),
        Surface::Back { who, piece } => of("back", who, item(piece), String::new()),
        Surface::Inside { who, piece } => of("inside", who, item(piece), String::new()),
        Surface::Grip { who, piece, part } => {
            let part = telling.words.lexicon.translated(run.surfaces.part_name(piece.item, part));
            of("part", who, item(piece), part.to_string())
        }
        Surface::Fixture(id) => telling.voice(None).the(&policy.surface(id).name),
        Surface::Container(id) => telling.voice(None).the(&policy.container(id).printed),
    }
}

/// `Only if the suit is soiled`; empty for every case.
fn case(telling: &Telling, nearest: &Nearest) -> String {
    let all: Vec<Literal> = nearest.case.facts.iter().map(|&(fact, holds)| Literal { fact, holds }).collect();
    let facts =
        if all.is_empty() { String::new() } else { sentence::when(&telling.voice(None), &Guard { any: vec![all] }) };
    let failing = nearest.case.failing.iter().map(|at| {
        let hold = &telling.policy.steps(at.sequence)[at.step];
        let crate::policy::Act::Hold(hold) = &hold.act else { return String::new() };
        say(&telling.words.chart, "not_confirmed", &[("title", &hold.title)])
    });
    let parts: Vec<String> = std::iter::once(facts).chain(failing).filter(|part| !part.is_empty()).collect();
    parts.join(&telling.words.nouns.list_comma)
}
