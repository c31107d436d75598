//! What was looked at and what was not, in sentences.
//!
//! In: a reading and its walk. Out: [`Examined`]. Must never say more than was done.

use std::collections::{BTreeMap, BTreeSet};

use super::{Examined, Reading, timing};
use crate::policy::{Act, Area, Day, GapOf, LevelId, Policy, SequenceId, Step};
use crate::walk::telling::step_name;
use crate::walk::{Assessment, Run, StepRef, Walk};

pub(super) fn examined(reading: &Reading, walk: &Walk, today: Option<Day>, unfinished: &BTreeSet<LevelId>) -> Examined {
    let policy = &reading.policy;
    let mut examined = Examined { timings: timing::timings(policy, walk), ..Examined::default() };
    let files: Vec<&str> = reading.sources.iter().map(|(_, source)| source.name.as_str()).collect();
    if files.len() > 1 {
        examined.looked_at.push(format!("The files {}.", listed(&files)));
    }
    if !policy.paper.is_policy {
        shared(policy, &mut examined);
        return examined;
    }
    procedures(policy, walk, &mut examined);
    for &level in unfinished {
        let name = &policy.level(level).name;
        examined
            .not_looked_at
            .push(format!("The level {name} to its end: lines that it depends on cannot be read yet."));
    }
    not_yet(reading, &mut examined);
    if today.is_none() {
        examined.not_looked_at.push("Dates that may have passed: no date was given for today.".to_owned());
    }
    let beyond = "Whether people, kit and rooms are as the policy says: only its words are read.";
    examined.not_looked_at.push(beyond.to_owned());
    examined
}

fn shared(policy: &Policy, examined: &mut Examined) {
    let counted = [
        count(policy.items.len(), "item", "items"),
        count(policy.surfaces.len(), "surface", "surfaces"),
        count(policy.cleaners.len(), "cleaner", "cleaners"),
        count(policy.containers.len(), "container", "containers"),
        count(policy.places.len(), "place", "places"),
    ];
    let counted: Vec<&str> = counted.iter().filter(|words| !words.starts_with("0 ")).map(String::as_str).collect();
    if !counted.is_empty() {
        examined.looked_at.push(format!("Shared declarations: {}.", listed(&counted)));
    }
    examined.not_looked_at.push("Procedures: this file holds none and is used by policies.".to_owned());
    if !policy.left_open.is_empty() {
        let names: Vec<&str> = policy.left_open.iter().map(String::as_str).collect();
        examined
            .not_looked_at
            .push(format!("Names that this file leaves to the policies that use it: {}.", listed(&names)));
    }
}

fn procedures(policy: &Policy, walk: &Walk, examined: &mut Examined) {
    let names: Vec<&str> = policy.levels.iter().map(|level| level.name.as_str()).collect();
    if !names.is_empty() {
        examined.looked_at.push(format!("{}: {}.", count(names.len(), "level", "levels"), listed(&names)));
    }
    let steps = || policy.sequences.iter().flat_map(|sequence| &sequence.steps);
    let holds = steps().filter(|step| matches!(step.act, Act::Hold(_))).count();
    let acts = steps().count() - holds;
    examined.looked_at.push(format!(
        "{} with {} and {}.",
        count(policy.sequences.len(), "sequence", "sequences"),
        count(acts, "step", "steps"),
        count(holds, "hold", "holds"),
    ));
    let idle: Vec<&str> = policy
        .levels
        .iter()
        .enumerate()
        .filter(|(at, _)| policy.sequences_of(LevelId::new(*at)).next().is_none())
        .map(|(_, level)| level.name.as_str())
        .collect();
    if !idle.is_empty() {
        examined.not_looked_at.push(format!("Levels without a sequence: {}.", listed(&idle)));
    }
    choice(policy, walk.assessment.as_ref(), examined);
    timing::sentences(policy, &walk.times, examined);
    for run in &walk.runs {
        played(policy, run, examined);
    }
    let unread = policy.contingencies.iter().filter(|drill| !drill.is_whole);
    let titles: Vec<String> = unread.map(|drill| format!("“{}”", drill.title)).collect();
    if !titles.is_empty() {
        let titles: Vec<&str> = titles.iter().map(String::as_str).collect();
        examined.not_looked_at.push(format!("Drills of which lines cannot be read yet: {}.", listed(&titles)));
    }
    if walk.runs.iter().any(|run| !run.drills.is_empty()) {
        examined.not_looked_at.push(TOGETHER.to_owned());
    }
}

/// What is not played together.
const TOGETHER: &str = "Two events at once, and a slip within a drill.";

/// Which combinations of answers were played, and what could not be told of them.
fn choice(policy: &Policy, assessment: Option<&Assessment>, examined: &mut Examined) {
    let Some(choice) = &policy.choice else { return };
    let Some(assessment) = assessment else {
        if policy.gaps.iter().any(|gap| gap.of == GapOf::Choice) {
            let unread = "The choice of level: lines of it cannot be read yet.";
            examined.not_looked_at.push(unread.to_owned());
        }
        return;
    };
    if assessment.gave_up {
        examined.not_looked_at.push(
            "The choice of level to its end: its lines overlap in more ways than are looked at. Ask fewer questions."
                .to_owned(),
        );
    } else {
        let questions = count(assessment.questions, "question", "questions");
        examined.looked_at.push(format!("The choice of level: {} to {questions}.", combinations(assessment.questions)));
    }
    if choice.outranks.is_empty() && assessment.ranks.len() > 1 {
        let unranked = "Whether a higher risk gives a lower level: no line says which level outranks which.";
        examined.not_looked_at.push(unranked.to_owned());
    }
}

/// `all 8 combinations of answers`
fn combinations(questions: usize) -> String {
    match questions {
        0 => "its one way through".to_owned(),
        1..=20 => format!("all {} combinations of answers", 1_u32 << questions),
        _ => "all combinations of answers, more than a million,".to_owned(),
    }
}

/// What the play of one level stands for, and what it had to take for granted.
fn played(policy: &Policy, run: &Run, examined: &mut Examined) {
    let level = policy.level(run.level);
    let name = &level.name;
    let cases = match run.cases {
        1 => "in its one case".to_owned(),
        few @ ..=1_000_000 => format!("in all of its {few} cases"),
        _ => "in all of its cases, which are more than a million".to_owned(),
    };
    if run.gave_up {
        let (steps, states) = (crate::walk::play::MOST_STEPS, crate::walk::play::MOST_STATES);
        let (kept, played) = (crate::walk::play::MOST_REPLAYED, crate::walk::play::MOST_PLAYED);
        examined.not_looked_at.push(format!(
            "The level {name} to its end: it has more than {steps} steps, or its conditions and contingencies lead to more \
             than {states} states at once, {kept} for one hold or {played} steps in all. Split its sequences."
        ));
    } else {
        let can_slip =
            |at: &&StepRef| matches!(policy.steps(at.sequence)[at.step].act, Act::TakeOff { .. } | Act::Change { .. });
        let slips = count(run.reached.iter().filter(can_slip).count(), "step", "steps");
        examined
            .looked_at
            .push(format!("{name}, played step by step {cases}, and with slips of {slips}, one and two at a time."));
    }
    if !run.gave_up {
        events(policy, run, examined);
    }
    if run.is_doubtful() {
        examined.not_looked_at.push(format!(
            "The level {name} for certain: a case came out differently when it was played alone. That is a fault of this \
             program; take the level for not checked."
        ));
    }
    for &who in &run.dressed_unseen {
        let who = &policy.role(who).name;
        examined
            .not_looked_at
            .push(format!("How the {who} puts on at {name}: no sequence says it, so the kit was taken as listed."));
    }
    for &who in &run.met_unseen {
        let who = &policy.role(who).name;
        examined.not_looked_at.push(format!(
            "How the {who} meets the hazard at {name}: no step goes to a contaminated place, so it was taken for granted."
        ));
    }
    let bare: Vec<&str> = Area::ALL.into_iter().filter(|&area| !level.keep_covered.has(area)).map(Area::word).collect();
    if !bare.is_empty() && !level.keep_covered.is_empty() {
        let them = if bare.len() == 1 { "it" } else { "them" };
        examined.not_looked_at.push(format!("What lands on {}: {name} does not keep {them} covered.", listed(&bare)));
    }
}

/// Each event of a contingency, with the steps after which it was let happen.
fn events(policy: &Policy, run: &Run, examined: &mut Examined) {
    let name = &policy.level(run.level).name;
    if !run.strikes.is_empty() {
        let happen = count(run.drills.len(), "event", "events");
        let times = count(run.strikes.len(), "moment", "moments");
        examined.looked_at.push(format!("{name}, with {happen} of contingencies, let happen at {times} in all."));
    }
    for &(contingency, _) in &run.drills {
        // By the hold for which they are played, none for the main way first, and by sequence.
        let mut moments: BTreeMap<(Option<StepRef>, Option<SequenceId>), BTreeSet<u32>> = BTreeMap::new();
        for strike in run.strikes.iter().filter(|strike| strike.contingency == contingency) {
            let steps = moments.entry((strike.again, strike.after.map(|at| at.sequence))).or_default();
            // A hold has no number; what happens after it is played as after the step before it.
            steps.extend(strike.after.and_then(|at| policy.steps(at.sequence)[at.step].number));
        }
        let places: Vec<String> =
            moments.iter().map(|(&(again, id), steps)| places(policy, again, id, steps)).collect();
        if !places.is_empty() {
            let places: Vec<&str> = places.iter().map(String::as_str).collect();
            let title = &policy.contingencies[contingency].title;
            examined.looked_at.push(format!("{name}, when “{title}” happens {}.", listed(&places)));
        }
    }
}

/// `after steps 2 to 4 of “Taking off”`
fn places(policy: &Policy, again: Option<StepRef>, sequence: Option<SequenceId>, steps: &BTreeSet<u32>) -> String {
    let Some(id) = sequence else { return "where the hazard is".to_owned() };
    let after = format!("after {} of “{}”", spans(steps), policy.title(id));
    let Some(hold) = again else { return after };
    let once_more = if hold.sequence == id { " once more" } else { "" };
    format!("{after}{once_more} where {} is not confirmed", step_name(policy, hold))
}

/// `step 4`, `steps 1 to 3 and 7`; a hold alone has no number.
fn spans(steps: &BTreeSet<u32>) -> String {
    let mut spans: Vec<(u32, u32)> = Vec::new();
    for &step in steps {
        match spans.last_mut() {
            Some((_, last)) if *last + 1 == step => *last = step,
            _ => spans.push((step, step)),
        }
    }
    let words: Vec<String> = spans
        .iter()
        .map(|&(first, last)| if first == last { first.to_string() } else { format!("{first} to {last}") })
        .collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match steps.len() {
        0 => "a hold".to_owned(),
        1 => format!("step {}", listed(&words)),
        _ => format!("steps {}", listed(&words)),
    }
}

/// What the policy says and this edition of the program does not look into.
fn not_yet(reading: &Reading, examined: &mut Examined) {
    let policy = &reading.policy;
    let opaque: Vec<&Step> = policy
        .sequences
        .iter()
        .flat_map(|sequence| &sequence.steps)
        .chain(policy.contingencies.iter().flat_map(|contingency| &contingency.steps))
        .filter(|step| matches!(step.act, Act::Other(_)))
        .collect();
    if !opaque.is_empty() {
        let mut lines: Vec<u32> = opaque.iter().map(|step| reading.sources.start(step.span).line).collect();
        lines.sort_unstable();
        let places: Vec<String> = lines.iter().take(10).map(u32::to_string).collect();
        let places: Vec<&str> = places.iter().map(String::as_str).collect();
        let more = if opaque.len() > places.len() { " and further on" } else { "" };
        let lines = if opaque.len() == 1 { "line" } else { "lines" };
        examined.not_looked_at.push(format!(
            "What happens in {} of “does”: {lines} {}{more}.",
            count(opaque.len(), "step", "steps"),
            listed(&places)
        ));
    }
}

/// `1 step`, `2 steps`
pub(super) fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// `a, b and c`
pub(super) fn listed(words: &[&str]) -> String {
    match words.split_last() {
        None => String::new(),
        Some((only, [])) => (*only).to_owned(),
        Some((last, others)) => format!("{} and {last}", others.join(", ")),
    }
}
