//! Orders of taking off, put to z3: is there any order at all that holds nothing back, and which are they?

use anteroom::policy::{Act, ItemId, Policy, Sequence, Step};
use anteroom::session;
use anteroom::walk::{Case, What, cast::Cast, play::Play, script::Script};
use serde_json::json;

use super::random_policy::{Dice, kit};
use super::{Alone, agreed};

/// Kits in the ordinary test run, each with every order of its steps.
const KITS: u64 = 300;

/// Whether the walk sees something held back where the steps come in this order.
fn holds_back(policy: &Policy, order: &[usize]) -> bool {
    let sequence = &policy.sequences[0];
    let steps: Vec<Step> = order.iter().map(|&step| sequence.steps[step].clone()).collect();
    let policy = Policy { sequences: vec![Sequence { steps, ..sequence.clone() }], ..policy.clone() };
    let script = Script::new(&policy, sequence.level);
    let cast = Cast::new(&policy, sequence.level, &script);
    let plain = Case::default();
    let seen = Play::new(&policy, &script, &cast, Some(&plain)).run();
    seen.events.keys().any(|key| matches!(key.what, What::Blocked { .. }))
}

fn orders(of: usize) -> Vec<Vec<usize>> {
    if of == 0 {
        return vec![Vec::new()];
    }
    let shorter = orders(of - 1);
    (0..of)
        .flat_map(|place| shorter.iter().map(move |order| [&order[..place], &[of - 1], &order[place..]].concat()))
        .collect()
}

/// What comes off at a step.
fn comes_off(step: &Step) -> Vec<ItemId> {
    match &step.act {
        Act::TakeOff { item, together_with, .. } => [&[*item], together_with.as_slice()].concat(),
        other => panic!("{other:?} takes nothing off"),
    }
}

fn line(seed: u64) -> String {
    let text = kit(&mut Dice::new(seed));
    let reading = session::read("ward.ppe", text.as_str(), &Alone);
    assert!(reading.problems.is_empty(), "{seed}: {:#?}\n{text}", reading.problems);
    let policy = reading.policy;
    let steps = &policy.sequences[0].steps;
    let worn: Vec<ItemId> = policy.levels[0].kits[0].items.iter().map(|worn| worn.item).collect();
    let free: Vec<Vec<usize>> = orders(steps.len()).into_iter().filter(|order| !holds_back(&policy, order)).collect();
    let steps: Vec<Vec<ItemId>> = steps.iter().map(comes_off).collect();
    json!({ "name": format!("kit {seed}"), "policy": session::exported(&policy), "worn": worn, "steps": steps,
            "free": free })
    .to_string()
}

#[test]
fn z3_agrees_which_orders_hold_nothing_back() {
    let lines: Vec<String> = (1..=KITS).map(line).collect();
    let summary = agreed("order.py", &lines);
    assert_eq!(summary["kits"], json!(lines.len()));
    let without = summary["without_any_order"].as_u64().unwrap_or_default();
    assert!(without > 0 && without < KITS, "some kits come off in no order, and some do: {summary}");
    println!("orders of taking off: {summary}");
}

#[test]
fn every_order_is_there_once() {
    let mut all = orders(4);
    all.sort();
    all.dedup();
    assert_eq!(all.len(), 4 * 3 * 2);
}
