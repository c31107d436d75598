//! A mask or respirator comes off while a garment is still on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, ItemId, Policy};
use crate::rules::telling::{Said, capital, is_are, listed, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Respirator;

impl Rule for Respirator {
    fn name(&self) -> Name {
        Name { family: "order", word: "respirator" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("respirator.md")
    }

    /// Silent where eye protection is still on too: `order eyes` tells of both.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: Vec<&Event> = Vec::new();
        for (run, event) in brief.events() {
            let What::FaceBefore { item, still_on } = event.what else { continue };
            let names: Vec<String> =
                garments_still_on(policy, run, event).iter().map(|&other| the_item(policy, other)).collect();
            if names.is_empty() || told.iter().any(|known| known.step == event.step && known.who == event.who) {
                continue;
            }
            told.push(event);
            let mask = the_item(policy, item);
            let are = if names.len() > 1 { "are" } else { is_are(policy, still_on) };
            let garments = listed(&names);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} off before a garment", capital(&policy.item(item).name)),
                    message: format!(
                        "Nose and mouth are bare while contaminated kit still has to come off. {} {are} still on.",
                        capital(&garments)
                    ),
                    way_out: format!("Keep {mask} on until {garments} {are} off."),
                },
            ));
        }
    }
}

/// What covers the trunk and is still on at that moment; none where eye protection is on as well.
fn garments_still_on(policy: &Policy, run: &Run, event: &Event) -> Vec<ItemId> {
    let same = |other: &&Event| other.step == event.step && other.who == event.who;
    let still_on = |other: &Event| match other.what {
        What::FaceBefore { still_on, .. } => Some(still_on),
        _ => None,
    };
    let worn: Vec<ItemId> = run.events.iter().filter(same).filter_map(still_on).collect();
    let covers = |area: Area| worn.iter().copied().filter(move |&item| policy.item(item).covers.has(area));
    if covers(Area::Eyes).next().is_some() { Vec::new() } else { covers(Area::Trunk).collect() }
}
