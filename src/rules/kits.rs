//! What kind of kit a level has: how many layers of gloves, how much of the body, and so how grave what it is for.
//!
//! In: a policy and one level's play. Out: whether the level is of high consequence; when somebody wears gloves. Must never
//! judge a procedure by it: which guidance holds at which levels is for each rule to say.

use super::barriers::{enters, is_respirator};
use crate::policy::{Act, Area, Assumption, ItemId, Kit, Policy, RoleId, SequenceId, Step};
use crate::walk::{Run, Spell, StepRef, Walk};

/// Guidance differs by kit: what is asked at the one kind of level is advised against at the other (GUIDANCE.md C9, C10).
/// No line of a policy says which kind a level is; what it wears and assumes does. High-consequence is a level that assumes
/// every outside to be contaminated and at which
///
/// - somebody wears one pair of gloves over another: asked for against haemorrhagic fevers and other infections of high
///   consequence, and advised against in daily care (CDC 2015; NHS England, NIPCM; HSE Ireland, 8 May 2020), or
/// - somebody is covered from head to foot and breathes filtered air: “total body coverage and filtered air” is the kit of
///   the United Kingdom's high-consequence infections (NHS England, addendum of 23 May 2024).
///
/// A powered hood alone makes none: it is worn in daily care against airborne infections too. An observer alone makes none
/// either: two people dress each other at many a routine door.
pub fn is_high_consequence(policy: &Policy, run: &Run) -> bool {
    policy.level(run.level).assume == Some(Assumption::EveryOutside) && has_grave_kit(policy, run)
}

/// Daily care: a level with none of these kits. Between the two kinds lies double-glove kit whose backs and ties count as
/// clean, as Italy wore against COVID-19 (European Respiratory Review [S3]): guidance for either kind is silent there.
pub fn is_routine(policy: &Policy, run: &Run) -> bool {
    !has_grave_kit(policy, run)
}

/// Whoever goes in to the hazard at a high-consequence level. Helpers and observers have not met what it leaves on the kit.
pub fn those_who_go_in<'a>(policy: &'a Policy, walk: &'a Walk) -> impl Iterator<Item = (&'a Run, RoleId)> {
    let runs = walk.runs.iter().filter(|run| is_high_consequence(policy, run));
    runs.flat_map(|run| {
        let people = policy.level(run.level).kits.iter().map(|kit| kit.role);
        people.filter(|&who| enters(policy, run.level, who)).map(move |who| (run, who))
    })
}

fn has_grave_kit(policy: &Policy, run: &Run) -> bool {
    let kits = &policy.level(run.level).kits;
    kits.iter().any(|kit| layers_of_gloves(policy, run, kit.role) > 1 || is_from_head_to_foot(policy, kit))
}

/// How many layers of gloves somebody wears at once, on an ordinary day. A second pair that is kept for a change is none.
pub fn layers_of_gloves(policy: &Policy, run: &Run, who: RoleId) -> usize {
    let gloves: Vec<&Spell> =
        run.spells.iter().filter(|spell| spell.wearer == who && is_glove(policy, spell.item)).collect();
    let with = |one: &Spell, other: &Spell| match one.on_at {
        Some(at) => other.on_at == Some(at) || is_on(run, other, at),
        None => other.on_at.is_none(),
    };
    let at_once = |one: &Spell| -> usize {
        let worn = gloves.iter().filter(|other| with(one, other));
        worn.map(|spell| policy.item(spell.item).pairs.unwrap_or(1).max(1) as usize).sum()
    };
    gloves.iter().map(|spell| at_once(spell)).max().unwrap_or_default()
}

/// Gloves, not a suit with gloves to it.
pub fn is_glove(policy: &Policy, item: ItemId) -> bool {
    let covers = policy.item(item).covers;
    covers.has(Area::Hands) && !covers.has(Area::Trunk)
}

/// Whether somebody has gloves on at a step, on an ordinary day.
pub fn wears_gloves(policy: &Policy, run: &Run, who: RoleId, at: StepRef) -> bool {
    let covers = |spell: &Spell| policy.item(spell.item).covers.has(Area::Hands);
    run.spells.iter().any(|spell| spell.wearer == who && covers(spell) && is_on(run, spell, at))
}

/// The steps of the level's putting-on and taking-off, in the order in which they are played.
pub fn steps_of<'a>(policy: &'a Policy, sequences: &'a [SequenceId]) -> impl Iterator<Item = (StepRef, &'a Step)> {
    sequences.iter().flat_map(|&sequence| {
        let steps = policy.sequence(sequence).steps.iter().enumerate();
        steps.map(move |(step, data)| (StepRef { sequence, step }, data))
    })
}

/// The first step at which somebody's kit comes off.
pub fn first_off(policy: &Policy, run: &Run, who: RoleId) -> Option<StepRef> {
    let comes_off = |act: &Act| match act {
        Act::TakeOff { wearer, item, .. } => *wearer == who && !policy.item(*item).worn_beneath,
        _ => false,
    };
    steps_of(policy, &run.taking_off).find(|(_, step)| comes_off(&step.act)).map(|(at, _)| at)
}

fn is_on(run: &Run, spell: &Spell, at: StepRef) -> bool {
    let order: Vec<SequenceId> = run.putting_on.iter().chain(&run.taking_off).copied().collect();
    let place = |at: StepRef| (order.iter().position(|&sequence| sequence == at.sequence), at.step);
    spell.on_at.is_none_or(|on| place(on) < place(at)) && spell.off_at.is_none_or(|off| place(at) < place(off))
}

fn is_from_head_to_foot(policy: &Policy, kit: &Kit) -> bool {
    let worn = || kit.items.iter().filter(|worn| !policy.item(worn.item).worn_beneath);
    let covers = |area: Area| worn().any(|worn| policy.item(worn.item).covers.has(area));
    Area::ALL.into_iter().all(covers) && worn().any(|worn| is_respirator(policy, worn.item))
}
