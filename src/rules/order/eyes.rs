//! A mask or respirator comes off while eye protection is still on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, ItemId, Policy};
use crate::rules::telling::{Said, capital, is_are, listed, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Eyes;

impl Rule for Eyes {
    fn name(&self) -> Name {
        Name { family: "order", word: "eyes" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("eyes.md")
    }

    /// One finding for a mask, however much is still on: garments are named with the eye protection.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: Vec<(&Run, &Event)> = Vec::new();
        for (run, event) in brief.events() {
            let What::FaceBefore { item, still_on } = event.what else { continue };
            if !guards_eyes(policy, still_on) || told.iter().any(|(_, known)| same_moment(known, event)) {
                continue;
            }
            told.push((run, event));
            let mask = the_item(policy, item);
            let names: Vec<String> =
                still_on_with(policy, run, event).iter().map(|&other| the_item(policy, other)).collect();
            let are = if names.len() > 1 { "are" } else { is_are(policy, still_on) };
            let others = listed(&names);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} off before eye protection", capital(&policy.item(item).name)),
                    message: format!(
                        "Contaminated hands then work close to a bare nose and mouth. {} {are} still on when {mask} comes off.",
                        capital(&others),
                    ),
                    way_out: format!("Keep {mask} on until {others} {are} off."),
                },
            ));
        }
    }
}

fn guards_eyes(policy: &Policy, item: ItemId) -> bool {
    policy.item(item).covers.has(Area::Eyes)
}

fn same_moment(a: &Event, b: &Event) -> bool {
    a.step == b.step && a.who == b.who
}

/// Eye protection and garments that are still on at that moment, whatever the case: all of it comes off before the mask.
fn still_on_with(policy: &Policy, run: &Run, event: &Event) -> Vec<ItemId> {
    let still_on = |other: &Event| match other.what {
        What::FaceBefore { still_on, .. } => Some(still_on),
        _ => None,
    };
    let mut items: Vec<ItemId> =
        run.events.iter().filter(|other| same_moment(other, event)).filter_map(still_on).collect();
    items.retain(|&item| guards_eyes(policy, item) || policy.item(item).covers.has(Area::Trunk));
    items.sort_by_key(|&item| !guards_eyes(policy, item));
    items
}
