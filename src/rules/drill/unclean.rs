//! What the event of a contingency brought to skin or clothes is never cleaned, or not far enough.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Contingency, Ending, Policy, Step};
use crate::rules::drills::{contingency, finding};
use crate::rules::nearness::surface_words;
use crate::rules::telling::{Said, fitting};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;
use crate::walk::{Event, How, Run, Surface, What};

pub struct Unclean;

impl Rule for Unclean {
    fn name(&self) -> Name {
        Name { family: "drill", word: "unclean" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unclean.md")
    }

    /// Told once for each contingency, level and person, of the nearest surface.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let group = |run: &Run, event: &Event| {
            let (at, drill) = contingency(brief.policy, event)?;
            let (surface, ..) = near(event)?;
            (!is_seen_to(brief.policy, drill, surface)).then_some((run.level, at, event.who))
        };
        for (run, mut events) in brief.groups(group) {
            events.sort_by_key(|event| near(event).map(|(_, distance, _)| distance));
            let Some((surface, distance, margin)) = near(events[0]) else { continue };
            let place = surface_words(brief.policy, surface);
            let far = match distance {
                0 => format!("The hazard is still on {place}"),
                _ => format!("The hazard is still {} from {place}", touches(distance)),
            };
            let is_cleaned = events[0].chain.last().is_some_and(|link| link.how == How::Cleaned);
            let cleaning = if is_cleaned { "and the cleaning is worth less" } else { "and nothing cleans it" };
            let said = Said {
                title: fitting(format!("The drill leaves the hazard at {place}"), "The drill leaves the hazard on the skin"),
                message: format!("{far} when all is over. The level asks for at least {margin}, {cleaning}."),
                way_out: "In the drill, clean it; where that is not hands, write `does \"…\"` and what is washed.".to_string(),
            };
            findings.push(finding(brief, self, run, events[0], said));
        }
    }
}

/// Only hands are cleaned in words that the model knows: elsewhere, a `does` in the drill or in what it starts is taken to
/// see to it, and the report says that nobody looks inside.
fn is_seen_to(policy: &Policy, drill: &Contingency, surface: Surface) -> bool {
    let is_other = |step: &Step| matches!(step.act, Act::Other(_));
    let in_started = drill.endings.iter().any(|ending| match ending {
        Ending::Start(sequence) => policy.steps(*sequence).iter().any(is_other),
        _ => false,
    });
    !matches!(surface, Surface::Skin { area: Area::Hands, .. }) && (in_started || drill.steps.iter().any(is_other))
}

fn near(event: &Event) -> Option<(Surface, u16, u16)> {
    match event.what {
        What::StillNear { surface, distance, margin } => Some((surface, distance, margin)),
        _ => None,
    }
}
