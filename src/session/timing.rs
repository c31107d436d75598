//! How long each sequence takes by what is written, over all cases, and how long its observer's card takes to read aloud.
//!
//! In: a policy and its walk. Out: a [`Timing`] for each sequence, and sentences. Must never pass off what is written for how
//! long people take: steps without a time are counted and told.

use serde::Serialize;

use super::Examined;
use super::examined::{count, listed};
use crate::aids::read_aloud;
use crate::policy::{Policy, Seconds};
use crate::rules::telling::known_words;
use crate::walk::times::WORDS_A_MINUTE;
use crate::walk::{Times, Walk};

/// One sequence.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Timing {
    pub level: String,
    pub sequence: String,
    /// None where conditions lead to more ways through than are added up.
    pub shortest_seconds: Option<Seconds>,
    pub longest_seconds: Option<Seconds>,
    /// The answers without which it is not the longest, in words.
    pub longest_when: Vec<String>,
    /// Steps and holds without a time.
    pub untimed: Option<usize>,
    /// All that an observer's card has to be read aloud, whatever is found; none where none is printed.
    pub read_aloud_seconds: Option<Seconds>,
}

pub(super) fn timings(policy: &Policy, walk: &Walk) -> Vec<Timing> {
    let aloud = read_aloud(policy, walk);
    let durations = policy.sequences.iter().zip(&walk.times.sequences).enumerate();
    let timing = durations.map(|(at, (sequence, duration))| Timing {
        level: policy.level(sequence.level).name.clone(),
        sequence: sequence.title.clone(),
        shortest_seconds: duration.as_ref().map(|duration| duration.shortest),
        longest_seconds: duration.as_ref().map(|duration| duration.longest),
        longest_when: duration.as_ref().map_or(Vec::new(), |duration| known_words(policy, &duration.longest_when)),
        untimed: duration.as_ref().map(|duration| duration.untimed),
        read_aloud_seconds: aloud.iter().find(|(id, _)| id.index() == at).map(|(_, time)| *time),
    });
    timing.collect()
}

/// How long the sequences take, where the policy speaks of how long anything may last; and the cards.
pub(super) fn sentences(policy: &Policy, times: &Times, examined: &mut Examined) {
    cards(examined);
    let takes = policy.sequences.iter().flat_map(|sequence| &sequence.steps).any(|step| step.prompts.takes.is_some());
    let lasts = policy.levels.iter().any(|level| level.stay.is_some())
        || policy.items.iter().any(|item| item.runs_for.is_some());
    if !takes && !lasts {
        return;
    }
    if times.gave_up || times.sequences.iter().any(Option::is_none) {
        let most = "Time to its end: conditions lead to more ways through than are added up. Split the sequences.";
        examined.not_looked_at.push(most.to_owned());
    }
    let told: Vec<String> = examined.timings.iter().filter_map(words).collect();
    if !told.is_empty() {
        let told: Vec<&str> = told.iter().map(String::as_str).collect();
        examined.looked_at.push(format!("Time, as far as it is written: {}.", listed(&told)));
    }
    let untimed = examined.timings.iter().filter_map(|timing| timing.untimed).sum();
    if untimed > 0 {
        let untimed = count(untimed, "step or hold takes", "steps and holds take");
        examined.not_looked_at.push(format!("How long {untimed}: no line says it, and each counts as no time."));
    }
}

/// `“Putting on” 30 seconds to 4 minutes (where gloves are wet)`; nothing where no step has a time.
fn words(timing: &Timing) -> Option<String> {
    let (shortest, longest) = (timing.shortest_seconds?, timing.longest_seconds.filter(|time| *time > Seconds(0))?);
    if shortest == longest {
        return Some(format!("“{}” {longest}", timing.sequence));
    }
    let when = match timing.longest_when.as_slice() {
        [] => String::new(),
        few @ ([_] | [_, _]) => format!(" where {}", few.join(" and ")),
        many => format!(" in a case of {} answers", many.len()),
    };
    Some(format!("“{}” {shortest} to {longest}{when}", timing.sequence))
}

fn cards(examined: &mut Examined) {
    let read = |timing: &Timing| Some(format!("“{}” {}", timing.sequence, timing.read_aloud_seconds?));
    let told: Vec<String> = examined.timings.iter().filter_map(read).collect();
    if !told.is_empty() {
        let told: Vec<&str> = told.iter().map(String::as_str).collect();
        examined.looked_at.push(format!(
            "Reading the observer's cards aloud, all of their steps, at {WORDS_A_MINUTE} words a minute: {}.",
            listed(&told)
        ));
    }
}
