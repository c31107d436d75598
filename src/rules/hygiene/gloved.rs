//! In daily care, gloves are cleaned while they are on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Asks, ItemId, Policy, RoleId, SequenceId, Step, Target};
use crate::rules::kits::{is_routine, steps_of, wears_gloves};
use crate::rules::telling::{Said, plain, played_at};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, StepRef, What};

pub struct Gloved;

impl Rule for Gloved {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "gloved" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("gloved.md")
    }

    /// Only at routine levels. Told once for each sequence and person; a level that forbids it itself tells of it.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told = Vec::new();
        for run in &brief.walk.runs {
            let forbids = policy.level(run.level).wishes.iter().any(|wish| wish.asks == Asks::BareHandsOnly);
            if forbids || !is_routine(policy, run) {
                continue;
            }
            let cleaned: Vec<(SequenceId, &Step)> = cleanings(policy, run).chain(in_drills(policy, run)).collect();
            for &(at, step) in &cleaned {
                let key = (at, step.actor);
                if told.contains(&key) {
                    continue;
                }
                told.push(key);
                let others = cleaned.iter().filter(|(other, _)| *other == at).map(|(_, step)| *step);
                let others = others.filter(|other| other.actor == step.actor && other.span != step.span);
                let said = Said {
                    title: "Gloves are cleaned while they are on".to_string(),
                    message: "Rub can weaken a glove, and dirty gloves then stay on too long. In daily care national guidance \
                              rules this out."
                        .to_string(),
                    way_out: "Take the gloves off, clean the hands, and put fresh gloves on where they are needed."
                        .to_string(),
                };
                let related = others.map(|other| (other.span, format!("The same again: {}", other.words)));
                findings.push(Finding {
                    related: related.collect(),
                    ..plain(self, step.span, said)
                });
            }
        }
    }
}

/// The steps at which gloves are cleaned on the hands, with their sequences.
fn cleanings<'a>(
    policy: &'a Policy,
    run: &'a Run,
) -> impl Iterator<Item = (SequenceId, &'a Step)> + use<'a> {
    let steps = steps_of(policy, &run.putting_on).chain(steps_of(policy, &run.taking_off));
    let gloves = |item: ItemId| policy.item(item).covers.has(Area::Hands);
    let cleaned = move |(at, step): &(StepRef, &Step)| match step.act {
        Act::CleanHands(_) => wears_gloves(policy, run, step.actor, *at),
        Act::Wipe { target: Target::Item { item, wearer }, .. }
        | Act::Spray { target: Target::Item { item, wearer }, .. } => {
            gloves(item) && wears_gloves(policy, run, wearer, *at)
        }
        _ => false,
    };
    let told_otherwise = move |(at, step): &(StepRef, &Step)| is_left_on(policy, run, *at, step.actor);
    steps.filter(cleaned).filter(move |step| !told_otherwise(step)).map(|(at, step)| (at.sequence, step))
}

/// In drills: hands that are cleaned before gloves come off them.
fn in_drills<'a>(policy: &'a Policy, run: &'a Run) -> impl Iterator<Item = (SequenceId, &'a Step)> + use<'a> {
    let takes_off = |step: &Step, who: RoleId| match &step.act {
        Act::TakeOff { wearer, item, .. } | Act::Change { wearer, item } => {
            *wearer == who && policy.item(*item).covers.has(Area::Hands)
        }
        _ => false,
    };
    run.drills.iter().flat_map(move |&(contingency, _)| {
        let id = policy.drill(contingency);
        let steps = policy.steps(id);
        let gloved = move |at: usize| {
            let who = steps[at].actor;
            let first = steps.iter().position(|step| takes_off(step, who));
            matches!(steps[at].act, Act::CleanHands(_)) && first.is_some_and(|first| at < first)
        };
        (0..steps.len()).filter(move |&at| gloved(at)).map(move |at| (id, &steps[at]))
    })
}

/// The gloves are on only because something was to come off from beneath them: that order is told instead.
fn is_left_on(policy: &Policy, run: &Run, at: StepRef, who: RoleId) -> bool {
    run.events.iter().any(|event| {
        let by_gloves = matches!(event.what, What::Blocked { by, .. } if policy.item(by).covers.has(Area::Hands));
        by_gloves && event.who == who && event.case.strike.is_none() && event.step.is_some() && played_at(run, event.step) < played_at(run, Some(at))
    })
}
