//! A layer more bares no area: whoever wears one thing more, first of all or last of all, is bare nowhere but where they were.

use std::collections::BTreeSet;

use anteroom::policy::Policy;
use anteroom::session::Reading;
use anteroom::walk::{What, walk};

use super::{Written, random, written};

const LAYER: &str = "further layer";
const AREAS: [&str; 11] = ["hair", "face", "eyes", "nose", "mouth", "neck", "trunk", "arms", "hands", "legs", "feet"];

/// Who is bare where, at which step: by words, since lines and numbers move.
fn bare(policy: &Policy) -> BTreeSet<(String, String, String, bool)> {
    let mut all = BTreeSet::new();
    for (run, event) in walk(policy).runs.iter().flat_map(|run| run.events.iter().map(move |event| (run, event))) {
        let What::Bare { area, clothes, .. } = event.what else { continue };
        // Who wears more can meet with more: what happens in drills is left out.
        if event.case.strike.is_some() {
            continue;
        }
        // Told of the further layer is what without it is told of the step after that.
        let step = event.step.map(|at| {
            let steps = &policy.steps(at.sequence)[at.step..];
            let told = steps.iter().find(|step| !step.words.ends_with(LAYER));
            told.map_or(String::new(), |step| step.words.clone())
        });
        let level = &policy.level(run.level).name;
        let who = format!("{} at {level}", policy.role(event.who).name);
        all.insert((who, area.word().to_string(), step.unwrap_or_default(), clothes));
    }
    all
}

/// Lines that begin with somebody's act of putting on, outermost lines of a sequence only.
fn puts_on(reading: &Reading, who: &str) -> Vec<usize> {
    let text = &reading.sources.iter().next().unwrap().1.text;
    let mut depth = 0_i32;
    let mut lines = Vec::new();
    for (at, line) in text.lines().enumerate() {
        let line = line.trim();
        depth += i32::from(line.starts_with("if ") && !line.starts_with("if not"));
        depth -= i32::from(line.starts_with("end if"));
        if depth == 0 && line.starts_with(&format!("{who} puts on ")) && !line.ends_with(',') {
            lines.push(at);
        }
    }
    lines
}

/// The policy with one item more, which `who` puts on just before that line.
fn with_layer(policy: &Written, who: &str, before: usize, area: &str) -> String {
    let mut lines: Vec<String> = policy.text.lines().map(str::to_string).collect();
    lines.insert(before, format!("  {who} puts on {LAYER}"));
    lines.push(format!("item {LAYER}\n  covers {area}\n"));
    lines.join("\n")
}

#[test]
fn a_layer_more_bares_no_area() {
    let (mut layers, mut covered) = (0, 0);
    for (seed, policy) in written().iter().chain(&random(80)).enumerate() {
        let reading = policy.read(&policy.text);
        let places: Vec<(&str, usize)> = ["wearer", "helper", "practitioner"]
            .iter()
            .flat_map(|who| {
                let lines = puts_on(&reading, who);
                [lines.first().copied(), lines.last().copied()].into_iter().flatten().map(|at| (*who, at))
            })
            .collect();
        if !reading.problems.is_empty() || places.is_empty() {
            continue;
        }
        let without = bare(&reading.policy);
        for (number, &(who, at)) in places.iter().enumerate() {
            let area = AREAS[(seed + 5 * number) % AREAS.len()];
            let more = policy.read(&with_layer(policy, who, at, area));
            assert!(more.problems.is_empty(), "{}: {:?}", policy.name, more.problems);
            let with = bare(&more.policy);
            // Own clothes that are changed go on over the layer, too: that they lie bare was told before, without it.
            let was_bare = |(who, area, step, clothes): &(String, String, String, bool)| {
                let same =
                    |known: &(String, String, String, bool)| (&known.0, &known.1, known.3) == (who, area, *clothes);
                *clothes && step.contains(" changes ") && without.iter().any(same)
            };
            let new: Vec<_> = with.difference(&without).filter(|bare| !was_bare(bare)).collect();
            assert!(
                new.is_empty(),
                "{}: {who} puts on a layer on {area} and is bare: {new:?}\n{}",
                policy.name,
                policy.text
            );
            layers += 1;
            covered += usize::from(with.len() < without.len());
        }
    }
    assert!(layers > 80 && covered > 10, "{layers} layers, {covered} of which cover what was bare");
}
