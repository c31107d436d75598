//! A clean place is entered in kit that the hazard may have reached.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::ItemId;
use crate::rules::telling::{Said, capital, is_many, listed, the_item, the_role};
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

    /// Told once for each person and step, the nearest item first; own clothes are the matter of `touch near`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match event.what {
            What::DirtyEntry { item, .. } if !policy.item(item).worn_beneath => Some((event.step, event.who)),
            _ => None,
        };
        for (run, mut events) in brief.groups(group) {
            events.sort_by_key(|event| distance(event));
            let What::DirtyEntry { item, place, distance, margin } = events[0].what else { continue };
            let items: Vec<ItemId> = events.iter().filter_map(|event| entered_with(event)).collect();
            let many = items.len() > 1 || is_many(policy, item);
            let (is_on, them) = if many { ("are", "them") } else { ("is", "it") };
            let near = match distance {
                0 => format!("The hazard itself may lie on {them}"),
                more => format!("The hazard can reach {them} by {}", touches(more)),
            };
            let named: Vec<String> = items.iter().take(MOST_NAMED).map(|&item| the_item(policy, item)).collect();
            let named = match items.len().saturating_sub(MOST_NAMED) {
                0 => listed(&named),
                more => format!("{} and {more} more", named.join(", ")),
            };
            let said = Said {
                title: "Contaminated kit goes into a clean place".to_string(),
                message: format!(
                    "{} {is_on} still on as {} enters the {}. {near}; the level asks for {margin}.",
                    capital(&named),
                    the_role(policy, events[0].who),
                    policy.place(place).name
                ),
                way_out: format!("Take {them} off, or clean {them}, before this step."),
            };
            findings.push(brief.finding(self, run, events[0], said));
        }
    }
}

/// More items than this are counted, not named.
const MOST_NAMED: usize = 2;

fn entered_with(event: &Event) -> Option<ItemId> {
    match event.what {
        What::DirtyEntry { item, .. } => Some(item),
        _ => None,
    }
}

fn distance(event: &Event) -> u16 {
    match event.what {
        What::DirtyEntry { distance, .. } => distance,
        _ => u16::MAX,
    }
}
