//! An item that the level lists for a role and that nobody puts on them.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, ItemId, LevelId, Policy, RoleId, Target};
use crate::rules::telling::{Said, capital, is_are, plain, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, What};

pub struct Unused;

impl Rule for Unused {
    fn name(&self) -> Name {
        Name { family: "kit", word: "unused" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unused.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, level) in policy.levels.iter().enumerate() {
            let id = LevelId::new(at);
            for kit in &level.kits {
                if !policy
                    .sequences_of(id)
                    .any(|(_, sequence)| sequence.steps.iter().any(|step| dresses(&step.act, kit.role)))
                {
                    continue;
                }
                for worn in &kit.items {
                    if policy.item(worn.item).worn_beneath
                        || used(policy, id, kit.role, worn.item)
                        || is_told_at_a_step(brief, id, kit.role, worn.item)
                    {
                        continue;
                    }
                    let (what, who) = (the_item(policy, worn.item), the_role(policy, kit.role));
                    findings.push(plain(
                        self,
                        worn.span,
                        Said {
                            title: format!("{} {} listed but never put on", capital(&what), is_are(policy, worn.item)),
                            message: format!(
                                "A step may be missing, and what it covers stays bare. No sequence of this level puts {what} on {who}."
                            ),
                            way_out: format!("Add the step that puts on {what}, or strike {what} off the list."),
                        },
                    ));
                }
            }
        }
    }
}

/// The skin that it was to cover is bare with the hazard, or it is taken off without being on: that is told at the step.
fn is_told_at_a_step(brief: &Brief, level: LevelId, who: RoleId, item: ItemId) -> bool {
    let events = brief.walk.runs.iter().filter(|run| run.level == level).flat_map(|run| &run.events);
    let covers = brief.policy.item(item).covers;
    events.filter(|event| event.who == who).any(|event| match event.what {
        What::NotOn { item: what, .. } => what == item,
        What::Bare { area, .. } => covers.has(area) && !is_bared_by_removal(brief, event),
        _ => false,
    })
}

fn is_bared_by_removal(brief: &Brief, event: &Event) -> bool {
    event.step.is_some_and(|at| matches!(brief.step(at).act, Act::TakeOff { .. }))
}

fn dresses(act: &Act, role: RoleId) -> bool {
    matches!(act, Act::PutOn { wearer, .. } | Act::Change { wearer, .. } if *wearer == role)
}

/// Put on, or taken into use as a tool or a part of something else.
fn used(policy: &Policy, level: LevelId, role: RoleId, item: ItemId) -> bool {
    let steps = policy.sequences_of(level).flat_map(|(_, sequence)| &sequence.steps);
    let mut acts = steps.map(|step| &step.act);
    acts.any(|act| match act {
        Act::PutOn { wearer, item: what, .. } | Act::Change { wearer, item: what } => (*wearer, *what) == (role, item),
        Act::Cut { tool, .. } => *tool == Some(item),
        Act::Connect { item: one, to: other } => is(one, item) || is(other, item),
        Act::SwitchOn(one) => is(one, item),
        _ => false,
    })
}

fn is(target: &Target, item: ItemId) -> bool {
    matches!(target, Target::Item { item: what, .. } if *what == item)
}
