//! What one session puts into a container is more than it holds.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, ContainerId, Dest, ItemId, Policy, Step};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::Run;

pub struct Small;

impl Rule for Small {
    fn name(&self) -> Name {
        Name { family: "waste", word: "small" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("small.md")
    }

    /// One taking-off of everybody at the level, every conditional removal counted; items that say nothing of their room
    /// count for nothing.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (index, container) in policy.containers.iter().enumerate() {
            let Some(holds) = container.millilitres else { continue };
            let needs = |run: &Run| room(policy, run, ContainerId::new(index));
            let most = brief.walk.runs.iter().map(|run| (needs(run), run)).max_by_key(|(needs, _)| *needs);
            let Some((needs, run)) = most.filter(|(needs, _)| *needs > holds) else { continue };
            let said = Said {
                title: "A container is too small for one session".to_string(),
                message: format!(
                    "Kit is pressed down by hand, or left beside it. One taking-off at {} fills {}, and it holds {}.",
                    policy.level(run.level).name,
                    litres(needs),
                    litres(holds)
                ),
                way_out: "Set out a larger one, or a second one, and say so.".to_string(),
            };
            findings.push(plain(self, container.span, said));
        }
    }
}

fn room(policy: &Policy, run: &Run, container: ContainerId) -> u64 {
    let steps = run.taking_off.iter().flat_map(|&sequence| &policy.sequence(sequence).steps);
    steps.flat_map(|step| ending_in(policy, step, container)).filter_map(|item| policy.item(item).millilitres).sum()
}

/// The items of a step that end in a container: where the step says so, or else where the item goes.
fn ending_in(policy: &Policy, step: &Step, container: ContainerId) -> Vec<ItemId> {
    let (items, into) = match &step.act {
        Act::TakeOff { item, together_with, into, .. } => {
            (std::iter::once(*item).chain(together_with.iter().copied()).collect::<Vec<_>>(), *into)
        }
        Act::Change { item, .. } => (vec![*item], None),
        _ => return Vec::new(),
    };
    let ends_here = |item: &ItemId| match into {
        Some(Dest::Container(id)) => id == container,
        Some(Dest::Surface(_)) => false,
        None => policy.item(*item).goes_to == Some(container),
    };
    items.into_iter().filter(ends_here).collect()
}

/// `60 litres`, `7.5 litres`
fn litres(millilitres: u64) -> String {
    let (whole, tenths) = (millilitres / 1000, millilitres % 1000 / 100);
    match (whole, tenths) {
        (1, 0) => "1 litre".to_string(),
        (whole, 0) => format!("{whole} litres"),
        (whole, tenths) => format!("{whole}.{tenths} litres"),
    }
}
