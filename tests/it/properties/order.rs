//! Two neighbouring steps that have nothing in common may change places: no distance changes.

use std::collections::BTreeSet;

use anteroom::policy::{Act, ContainerId, Dest, ItemId, Policy, RoleId, Sequence, Step, SurfaceId, Target};

use super::{nearest, random, written};

/// What a step has to do with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Thing {
    Person(RoleId),
    Item(ItemId),
    Surface(SurfaceId),
    Container(ContainerId),
}

fn target(target: Target) -> Vec<Thing> {
    match target {
        Target::Item { item, wearer } => vec![Thing::Item(item), Thing::Person(wearer)],
        Target::Surface(surface) => vec![Thing::Surface(surface)],
        Target::Container(container) => vec![Thing::Container(container)],
        Target::Person(person) => vec![Thing::Person(person)],
    }
}

fn dest(dest: Dest) -> Thing {
    match dest {
        Dest::Container(container) => Thing::Container(container),
        Dest::Surface(surface) => Thing::Surface(surface),
    }
}

/// What a step touches by its own words; nothing for a hold, which looks at everybody.
fn things(step: &Step) -> Option<BTreeSet<Thing>> {
    let more: Vec<Thing> = match &step.act {
        Act::PutOn { wearer, item, .. } | Act::PullUp { wearer, item } | Act::Change { wearer, item } => {
            vec![Thing::Person(*wearer), Thing::Item(*item)]
        }
        Act::TakeOff { wearer, item, together_with, into, .. } => {
            let mut things = vec![Thing::Person(*wearer), Thing::Item(*item)];
            things.extend(together_with.iter().map(|&other| Thing::Item(other)));
            things.extend(into.map(dest));
            things
        }
        Act::Wipe { target: what, .. } | Act::Spray { target: what, .. } => target(*what),
        Act::Check(what) | Act::Untie(what) | Act::Open(what) | Act::Close(what) => target(*what),
        Act::SwitchOn(what) | Act::SwitchOff(what) | Act::Break { item: what, .. } => target(*what),
        Act::Cut { item, tool, .. } => target(*item).into_iter().chain(tool.map(Thing::Item)).collect(),
        Act::Put { what, into } => target(*what).into_iter().chain([dest(*into)]).collect(),
        Act::Connect { item, to } => target(*item).into_iter().chain(target(*to)).collect(),
        Act::Disconnect { item, from } => {
            target(*item).into_iter().chain(from.iter().copied().flat_map(target)).collect()
        }
        Act::StepOnto(surface) | Act::StepOff(surface) | Act::SitOn(surface) | Act::Fold(surface) => {
            vec![Thing::Surface(*surface)]
        }
        Act::CleanHands(_) | Act::StandUp | Act::Go(_) | Act::Other(_) => Vec::new(),
        Act::Hold(_) => return None,
    };
    Some(more.into_iter().chain([Thing::Person(step.actor)]).collect())
}

/// Whoever sits on something or stands on a sheet at some time: they go on touching it while others act.
fn seated(policy: &Policy) -> BTreeSet<Thing> {
    let steps = policy.sequences.iter().flat_map(|sequence| &sequence.steps);
    let sit = steps.filter(|step| matches!(step.act, Act::SitOn(_) | Act::StepOnto(_)));
    sit.map(|step| Thing::Person(step.actor)).collect()
}

fn have_nothing_in_common(policy: &Policy, sequence: &Sequence, at: usize) -> bool {
    let (one, other) = (&sequence.steps[at], &sequence.steps[at + 1]);
    let starts_a_part = sequence.parts.iter().any(|part| part.first == at + 1);
    let (Some(ones), Some(others)) = (things(one), things(other)) else { return false };
    let seated = seated(policy);
    !starts_a_part
        && one.guard == other.guard
        && [&ones, &others].iter().all(|things| things.is_disjoint(&seated))
        && ones.is_disjoint(&others)
}

#[test]
fn steps_that_have_nothing_in_common_may_change_places() {
    let mut swapped = 0;
    for written in written().iter().chain(&random(600)) {
        let policy = written.read(&written.text).policy;
        let mut as_written = None;
        for (number, sequence) in policy.sequences.iter().enumerate() {
            for at in 0..sequence.steps.len().saturating_sub(1) {
                if !have_nothing_in_common(&policy, sequence, at) {
                    continue;
                }
                let mut other = policy.clone();
                other.sequences[number].steps.swap(at, at + 1);
                let (one, two) = (&sequence.steps[at].words, &sequence.steps[at + 1].words);
                let before = as_written.get_or_insert_with(|| nearest(&policy));
                assert_eq!(*before, nearest(&other), "{}: “{one}” and “{two}”\n{}", written.name, written.text);
                swapped += 1;
            }
        }
    }
    assert!(swapped > 100, "{swapped} pairs");
}

/// Whose name begins the line, and who of the others is not in it.
fn stranger(line: &str, people: &[&str]) -> Option<String> {
    let mut words = line.split_whitespace();
    let does = people.iter().any(|who| words.clone().next() == Some(who)) && words.nth(1) != Some("confirms");
    let apart = ["does", "sits", "stands", "steps", "goes"];
    let lasts = apart.iter().any(|verb| line.split_whitespace().nth(1) == Some(verb));
    let stranger = people.iter().find(|who| !line.split([' ', ',']).any(|word| word == **who));
    stranger.filter(|_| does && !lasts).map(|who| who.to_string())
}

/// Whoever has no part in a step cleans their hands before it or after it: no distance changes.
#[test]
fn a_strangers_hands_may_be_cleaned_before_or_after() {
    let (mut tried, mut cleaned) = (0, 0);
    for policy in random(60) {
        let people: Vec<&str> =
            ["wearer", "helper"].into_iter().filter(|who| policy.text.contains(&format!("role {who}\n"))).collect();
        let lines: Vec<&str> = policy.text.lines().collect();
        let sits = lines.iter().any(|line| line.contains(" sits on ") || line.contains(" steps onto "));
        let Some(first) = lines.iter().position(|line| line.starts_with("sequence ")).filter(|_| !sits) else {
            continue;
        };
        let without = nearest(&policy.read(&policy.text).policy);
        for at in
            (first..lines.len()).filter(|at| !lines[*at].contains(" is soiled") && !lines[*at].contains(" are soiled"))
        {
            let Some(who) = stranger(lines[at], &people) else { continue };
            let rub = format!("{who} cleans hands with soap and water for 40 seconds");
            let with = |before: usize| {
                let all = lines[..before].iter().copied().chain([rub.as_str()]).chain(lines[before..].iter().copied());
                nearest(&policy.read(&all.collect::<Vec<_>>().join("\n")).policy)
            };
            let (before, after) = (with(at), with(at + 1));
            assert_eq!(before, after, "{}: {who} and “{}”\n{}", policy.name, lines[at], policy.text);
            tried += 1;
            cleaned += usize::from(before != without);
        }
    }
    assert!(tried > 50 && cleaned > 5, "{tried} places, at {cleaned} of them it matters");
}
