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
