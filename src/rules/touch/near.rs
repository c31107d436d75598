//! The hazard comes nearer to skin, face or clothes than the level allows.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Policy;
use crate::rules::telling::{Said, capital};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;
use crate::walk::{Event, Run, Surface, What};

pub struct Near;

impl Rule for Near {
    fn name(&self) -> Name {
        Name { family: "touch", word: "near" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("near.md")
    }

    /// One finding for each person and step: the nearest of the surfaces reached there, the others named with it.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let mut told: Vec<(&Run, Vec<&Event>)> = Vec::new();
        for (run, event) in brief.events().filter(|(_, event)| matches!(event.what, What::Near { .. })) {
            let same = |group: &&mut (&Run, Vec<&Event>)| {
                group.0.level == run.level && group.1[0].step == event.step && group.1[0].who == event.who
            };
            match told.iter_mut().find(same) {
                Some((_, events)) => events.push(event),
                None => told.push((run, vec![event])),
            }
        }
        for (run, mut events) in told {
            events.sort_by_key(|event| distance(event));
            let nearest = events[0];
            let What::Near { surface, distance, margin } = nearest.what else { continue };
            let place = surface_words(brief.policy, surface);
            let others: Vec<String> = events[1..].iter().filter_map(|event| reached(brief.policy, event)).collect();
            let also =
                if others.is_empty() { String::new() } else { format!(" It reaches {} too.", others.join(" and ")) };
            findings.push(brief.finding(
                self,
                run,
                nearest,
                Said {
                    title: format!("{} from {}", capital(&touches(distance)), place),
                    message: format!(
                        "The hazard can reach {place} by {}. The level asks for at least {margin}.{also}",
                        touches(distance)
                    ),
                    way_out: "Clean the hands or the item earlier in the chain, take hold of a cleaner part, or let somebody \
                              help."
                        .to_string(),
                },
            ));
        }
    }
}

fn distance(event: &Event) -> u16 {
    match event.what {
        What::Near { distance, .. } => distance,
        _ => u16::MAX,
    }
}

fn reached(policy: &Policy, event: &Event) -> Option<String> {
    match event.what {
        What::Near { surface, .. } => Some(surface_words(policy, surface)),
        _ => None,
    }
}

/// `the wearer's mouth`, `the wearer's scrubs`
fn surface_words(policy: &Policy, surface: Surface) -> String {
    match surface {
        Surface::Skin { who, area } => format!("the {}'s {}", policy.role(who).name, area.word()),
        Surface::Front { who, piece } | Surface::Back { who, piece } => {
            format!("the {}'s {}", policy.role(who).name, policy.item(piece.item).name)
        }
        _ => "skin".to_string(),
    }
}
