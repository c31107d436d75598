//! One slip, or two, and the hazard comes nearer than the level allows even then.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::nearness::surface_words;
use crate::rules::telling::{Said, fitting};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;
use crate::walk::{Event, How, StepRef, Surface, What};

pub struct Slip;

impl Rule for Slip {
    fn name(&self) -> Name {
        Name { family: "touch", word: "slip" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("slip.md")
    }

    /// One finding for each person and step that slips: the nearest that the hazard comes by it, wherever that shows.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let groups =
            brief.groups(|run, event| near(event).map(|(.., slips)| (run.level, event.who, slips, slipped_at(event))));
        for (run, mut events) in groups {
            events.sort_by_key(|event| near(event).map(|(_, distance, ..)| distance));
            let nearest = events[0];
            let Some((surface, distance, margin, slips)) = near(nearest) else { continue };
            let place = surface_words(brief.policy, surface);
            let when = if slips == 1 { "If this step slips" } else { "If this step and one more slip" };
            let mut finding = brief.finding(
                self,
                run,
                nearest,
                Said {
                    title: fitting(
                        format!("A slip here leaves {} to {place}", touches(distance)),
                        "A slip here brings the hazard too near",
                    ),
                    message: format!(
                        "{when}, the hazard can reach {place} by {}. The level asks for {margin} even then.",
                        touches(distance)
                    ),
                    way_out: "Clean the hands straight after this step, or before the step that reaches skin.".to_string(),
                },
            );
            if let Some(at) = slipped_at(nearest) {
                finding.span = brief.step(at).span;
            }
            findings.push(finding);
        }
    }
}

fn near(event: &Event) -> Option<(Surface, u16, u16, u8)> {
    match event.what {
        What::NearAfterSlip { surface, distance, margin, slips } => Some((surface, distance, margin, slips)),
        _ => None,
    }
}

/// The step whose slip matters most: the last one of the chain.
fn slipped_at(event: &Event) -> Option<StepRef> {
    event.chain.iter().rev().find(|link| link.how == How::Slipped).and_then(|link| link.step)
}
