//! Something clean is handled with unclean hands.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, fitting, is_many};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;
use crate::walk::{Event, Run, Surface, What};

pub struct Unclean;

impl Rule for Unclean {
    fn name(&self) -> Name {
        Name { family: "touch", word: "unclean" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unclean.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events() {
            let What::UncleanHands { surface, distance, margin } = event.what else { continue };
            if is_told_otherwise(run, event) {
                continue;
            }
            let (title, thing, become_dirty) = match surface {
                Surface::Front { piece, .. } => {
                    let name = &brief.policy.item(piece.item).name;
                    let verb = if is_many(brief.policy, piece.item) { "are" } else { "is" };
                    (format!("Unclean hands on the fresh {name}"), name, format!("{verb} contaminated before use"))
                }
                Surface::Fixture(id) => {
                    let name = &brief.policy.surface(id).name;
                    let title = format!("Unclean hands on the clean {}", name.trim_start_matches("clean "));
                    (title, name, "is clean no more".to_string())
                }
                _ => continue,
            };
            let hands = format!("the {}'s hands", brief.policy.role(event.actor).name);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: fitting(title, "Unclean hands on something clean"),
                    message: format!("The {thing} {become_dirty}. {}; the level asks for {}.", far(distance, &hands), touches(margin)),
                    way_out: "Clean the hands just before this step.".to_string(),
                },
            ));
        }
    }
}

fn far(distance: u16, hands: &str) -> String {
    match distance {
        0 => format!("The hazard itself may lie on {hands}"),
        _ => format!("The hazard is {} from {hands}", touches(distance)),
    }
}

/// Hands not cleaned after gloves, and kit put on in a contaminated place, are told as that.
fn is_told_otherwise(run: &Run, event: &Event) -> bool {
    run.events.iter().any(|other| match other.what {
        What::AfterGloves => {
            other.actor == event.actor && event.step.is_some() && [other.step, other.earlier].contains(&event.step)
        }
        What::PutOnInContaminated { .. } => other.step == event.step,
        _ => false,
    })
}
