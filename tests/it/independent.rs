//! The checker against an independent player: `tests/oracles/player.py` plays every case of a policy alone, builds the
//! time-expanded contact graph and takes shortest paths with networkx. It gets the policy's exported facts and shares no
//! code with the walk; both follow the model's documentation, and where they differ, one of them is wrong.

use anteroom::faces::shelf::FolderShelf;
use anteroom::policy::Policy;
use anteroom::session;
use anteroom::walk::{Case, Event, Run, StepRef, Strike, Surface, What, walk};
use camino::Utf8Path;
use serde_json::{Value, json};

use crate::oracle::python;

mod orders;
pub mod random_policy;

/// Random policies in the ordinary test run; `ANTEROOM_RANDOM_POLICIES` asks for more, `ANTEROOM_RANDOM_FIRST` for others.
const POLICIES: u64 = 2_000;
/// Sent to the player at once.
const BATCH: u64 = 2_000;

pub fn asked(name: &str, otherwise: u64) -> u64 {
    std::env::var(name).map_or(otherwise, |count| count.parse().unwrap_or_else(|_| panic!("{name}: {count}")))
}

/// One line for the player: the policy's facts, and what the walk said.
fn line(name: &str, policy: &Policy) -> String {
    let runs: Vec<Value> = walk(policy).runs.iter().map(told).collect();
    json!({ "name": name, "policy": session::exported(policy), "runs": runs }).to_string()
}

fn told(run: &Run) -> Value {
    assert!(run.nearest.iter().all(|near| !near.chain.is_empty()), "a nearest approach without its chain");
    let nearest: Vec<Value> = run
        .nearest
        .iter()
        .map(|near| {
            json!({ "slips": near.slips, "surface": surface(near.surface), "distance": near.distance,
                    "case": case(&near.case) })
        })
        .collect();
    let reached: Vec<Value> = run.reached.iter().map(|&at| step(at)).collect();
    let events: Vec<Value> = (run.events.iter())
        .filter_map(|event| {
            Some(json!({ "note": note(event)?, "distance": distance(event), "case": case(&event.case) }))
        })
        .collect();
    let strikes: Vec<Value> = run.strikes.iter().map(|&each| strike(each)).collect();
    assert!(!run.is_doubtful(), "something did not come out the same when it was played alone");
    json!({ "level": run.level, "nearest": nearest, "events": events, "played": reached,
            "strikes": strikes, "cases": run.cases as u64, "gave_up": run.gave_up })
}

fn step(at: StepRef) -> Value {
    json!([at.sequence, at.step])
}

fn case(case: &Case) -> Value {
    let failing: Vec<Value> = case.failing.iter().map(|&at| step(at)).collect();
    json!({ "facts": case.facts, "failing": failing, "strike": case.strike.map(strike) })
}

fn strike(strike: Strike) -> Value {
    json!([strike.contingency, strike.who, strike.after.map(step), strike.again.map(step)])
}

fn surface(surface: Surface) -> Value {
    match surface {
        Surface::Skin { who, area } => json!(["skin", who, area]),
        Surface::Front { who, piece } => json!(["front", who, piece.item, piece.copy]),
        Surface::Back { who, piece } => json!(["back", who, piece.item, piece.copy]),
        other => panic!("{other:?} is neither skin nor clothes"),
    }
}

/// What the player looks for, too.
fn note(event: &Event) -> Option<Value> {
    let (at, who) = (event.step.map(step), event.who);
    Some(match event.what {
        What::Bare { area, clothes, .. } => json!(["bare", at, who, area, clothes]),
        What::Blocked { item, by, .. } => json!(["blocked", at, who, item, by]),
        What::NotOn { item, .. } => json!(["not_on", at, who, item]),
        What::AlreadyOn { item } => json!(["on_twice", at, who, item]),
        What::LeftOn { item } | What::NeverTakesOff { item } => json!(["left_on", null, who, item]),
        What::Near { surface: at, .. } => json!(["near", event.step.map(step), surface(at)]),
        What::StillNear { surface: at, .. } => json!(["still_near", null, surface(at)]),
        What::CannotAct => json!(["cannot_act", at, who]),
        What::EndsInside { .. } => json!(["ends_inside", null, who]),
        What::WithoutAir { item, .. } => json!(["without_air", null, who, item]),
        _ => return None,
    })
}

/// In touches, where that is what it is about.
fn distance(event: &Event) -> Option<u16> {
    match event.what {
        What::Near { distance, .. } | What::StillNear { distance, .. } => Some(distance),
        _ => None,
    }
}

/// Runs a program of `tests/oracles` that tells each disagreement; what it tells at the end.
fn agreed(program: &str, lines: &[String]) -> Value {
    let output = python(program, &[], &lines.join("\n"));
    let mut told: Vec<&str> = output.lines().collect();
    let summary: Value = serde_json::from_str(told.pop().unwrap_or_default()).expect("the program's last line");
    assert!(told.is_empty(), "the walk and {program} differ in {} things:\n{}", told.len(), told.join("\n"));
    summary
}

/// Runs the player; how many policies, cases and steps it played.
fn agrees(lines: &[String]) -> Value {
    let summary = agreed("player.py", lines);
    assert_eq!(summary["policies"], json!(lines.len()), "every policy is played");
    summary
}

fn random_line(seed: u64) -> String {
    let text = random_policy::text(seed);
    let reading = session::read("ward.ppe", text.as_str(), &Alone);
    assert!(reading.problems.is_empty(), "{seed}: {:#?}\n{text}", reading.problems);
    line(&format!("random policy {seed}"), &reading.policy)
}

struct Alone;

impl session::Shelf for Alone {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no such file".into())
    }
}

#[test]
fn random_policies_agree_with_the_player() {
    let first = asked("ANTEROOM_RANDOM_FIRST", 1);
    let count = asked("ANTEROOM_RANDOM_POLICIES", POLICIES);
    let after_last = first + count;
    if count == 1 {
        println!("{}", random_policy::text(first));
    }
    for batch in (first..after_last).step_by(BATCH as usize) {
        let middle = (batch + BATCH / 2).min(after_last);
        let second = std::thread::spawn(move || (middle..(batch + BATCH).min(after_last)).map(random_line).collect());
        let mut lines: Vec<String> = (batch..middle).map(random_line).collect();
        lines.extend::<Vec<String>>(second.join().expect("a policy that can be walked"));
        println!("random policies from {batch}: {}", agrees(&lines));
    }
}

/// The samples, the demonstration policies, and what bodies publish.
#[test]
fn written_policies_agree_with_the_player() {
    let mut lines = Vec::new();
    for folder in ["tests/samples", "policies", "policies/editions", "policies/faulty", "tests/published"] {
        let mut files: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path().to_string_lossy().into_owned())
            .filter(|file| file.ends_with(".ppe"))
            .collect();
        files.sort();
        for file in files {
            let (shelf, text) = FolderShelf::open(Utf8Path::new(&file)).unwrap_or_else(|why| panic!("{file}: {why}"));
            lines.push(line(&file, &session::read(&file, &text, &shelf).policy));
        }
    }
    println!("written policies: {}", agrees(&lines));
}
