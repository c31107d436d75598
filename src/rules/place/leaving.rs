//! A clean place is entered in kit that the hazard may have reached.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, is_many, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;
use crate::walk::{Event, Run, What};

pub struct Leaving;

impl Rule for Leaving {
    fn name(&self) -> Name {
        Name { family: "place", word: "leaving" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("leaving.md")
    }

    /// Told once for each person and step, with the nearest item; own clothes are the matter of `touch near`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::DirtyEntry { item, .. } if !policy.item(item).worn_beneath => Some((event.step, event.who)),
            _ => None,
        };
        for (run, mut events) in brief.groups(group) {
            events.sort_by_key(|event| distance(event));
            let What::DirtyEntry { item, place, distance, margin } = events[0].what else { continue };
            let is_on = if is_many(policy, item) { "are" } else { "is" };
            let near = match distance {
                0 => "The hazard itself may lie on it".to_string(),
                more => format!("The hazard can reach it by {}", touches(more)),
            };
            let near = if is_many(policy, item) { near.replace(" it", " them") } else { near };
            let more = match events.len() {
                1 => String::new(),
                2 => " One more item goes along.".to_string(),
                many => format!(" {} more items go along.", many - 1),
            };
            let said = Said {
                title: "Contaminated kit goes into a clean place".to_string(),
                message: format!(
                    "{} {is_on} still on as {} enters the {}. {near}; the level asks for {margin}.{more}",
                    capital(&the_item(policy, item)),
                    the_role(policy, events[0].who),
                    policy.place(place).name
                ),
                way_out: "Take it off, or clean it, before this step.".to_string(),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}

fn distance(event: &Event) -> u16 {
    match event.what {
        What::DirtyEntry { distance, .. } => distance,
        _ => u16::MAX,
    }
}
