//! Cases and chains in words, for findings and reports.

use super::Run;
use super::event::{Case, How, Link, StepRef, Strike};
use crate::policy::{Act, Fact, FactKind, Policy};

/// `step 4`, `the hold "Seal"`
pub fn step_name(policy: &Policy, at: StepRef) -> String {
    let step = &policy.steps(at.sequence)[at.step];
    match (&step.act, step.number) {
        (Act::Hold(hold), _) => format!("the hold “{}”", hold.title),
        (_, Some(number)) => format!("step {number}"),
        _ => "this step".to_string(),
    }
}

/// The answers of a case, each a clause that goes on from "when": `the apron is soiled`.
pub fn case_words(policy: &Policy, case: &Case) -> Vec<String> {
    let facts = case.facts.iter().map(|&(fact, holds)| fact_words(policy.fact(fact), holds));
    // The hold for which it happens is told with what happens.
    let told = case.strike.and_then(|strike| strike.again);
    let failing = case
        .failing
        .iter()
        .filter(|&&at| Some(at) != told)
        .map(|&at| format!("{} is not confirmed at first", step_name(policy, at)));
    let strike = case.strike.iter().map(|strike| strike_words(policy, strike));
    facts.chain(failing).chain(strike).collect()
}

/// `“Outer glove tears” happens to the helper after step 4 of “Taking off”`
fn strike_words(policy: &Policy, strike: &Strike) -> String {
    let title = &policy.contingencies[strike.contingency].title;
    let who = &policy.role(strike.who).name;
    let Some(at) = strike.after else {
        return format!("“{title}” happens to the {who} where the hazard is");
    };
    let step = format!("{} of “{}”", step_name(policy, at), policy.title(at.sequence));
    let again = strike.again.map_or(String::new(), |hold| {
        let played = if hold.sequence == at.sequence { "played again" } else { "started" };
        format!(", {played} since {} was not confirmed", step_name(policy, hold))
    });
    format!("“{title}” happens to the {who} after {step}{again}")
}

/// A fact as it is told: `suit is soiled`, `boots are not supplied`; a question by its name and answer.
pub fn fact_words(fact: &Fact, holds: bool) -> String {
    if let FactKind::Asked(_) = fact.kind {
        return format!("the answer to “{}” is {}", fact.words, if holds { "yes" } else { "no" });
    }
    if holds {
        return fact.words.clone();
    }
    for verb in [" is ", " are "] {
        if let Some((subject, state)) = fact.words.split_once(verb) {
            return format!("{subject}{verb}not {state}");
        }
    }
    format!("it is not so that {}", fact.words)
}

/// A chain as a short story, one sentence a link; a step of another sequence than `here` says which.
pub fn chain_words(policy: &Policy, run: &Run, here: Option<StepRef>, chain: &[Link]) -> Vec<String> {
    let name = |surface| run.surfaces.words(policy, surface);
    let here = here.map(|at| at.sequence);
    chain
        .iter()
        .map(|link| {
            let at = link.step.map(|step| {
                let elsewhere = format!(" of “{}”", policy.title(step.sequence));
                let of = if Some(step.sequence) == here { "" } else { &elsewhere };
                format!("At {}{of}", step_name(policy, step))
            });
            let far = touches(link.distance);
            let sentence = match link.how {
                How::Landed => format!("the hazard lies on {}", name(link.surface)),
                How::Happened => format!("it happens, and the hazard is on {}", name(link.surface)),
                How::CameThrough => {
                    format!("it comes from {} through the tear to {} ({far})", name(link.from), name(link.surface))
                }
                How::Starts => format!("{} is contaminated from the beginning", name(link.surface)),
                How::Touched => format!("{} touches {} ({far})", name(link.from), name(link.surface)),
                How::Brushed => format!("{} may brush {} ({far})", name(link.from), name(link.surface)),
                How::Slipped => {
                    format!("the step slips and {} touches {} ({far})", name(link.from), name(link.surface))
                }
                How::Cleaned => {
                    format!("cleaning sets {} back to {far}{}", name(link.surface), own_figure(policy, link.step))
                }
            };
            match at {
                Some(at) => format!("{at}, {sentence}."),
                None => format!("{}.", capital(&sentence)),
            }
        })
        .collect()
}

/// Names the policy's own figure where a cleaning rests on it.
fn own_figure(policy: &Policy, step: Option<StepRef>) -> String {
    let act = step.map(|at| &policy.steps(at.sequence)[at.step].act);
    let Some(Act::CleanHands(with) | Act::Wipe { with, .. } | Act::Spray { with, .. }) = act else {
        return String::new();
    };
    let cleaner = policy.cleaner(with.cleaner);
    let worth = |touches| format!(", by the policy's own figure of {touches} for {}", cleaner.name);
    cleaner.worth.map(worth).unwrap_or_default()
}

/// `1 touch`, `3 touches`
pub fn touches(count: u16) -> String {
    if count == 1 { "1 touch".to_string() } else { format!("{count} touches") }
}

pub fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
