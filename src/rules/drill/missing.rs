//! Something can go wrong that the level's hazards and kit make likely, and no contingency says what to do.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, ItemId, Level, Policy, Route};
use crate::rules::telling::{Said, fitting, listed, plain};
use crate::rules::{Brief, Rule};
use crate::walk::Happening;

pub struct Missing;

impl Rule for Missing {
    fn name(&self) -> Name {
        Name { family: "drill", word: "missing" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("missing.md")
    }

    /// Told once for each event, at the first level that lacks its drill.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut lacking: Vec<(Likely, Vec<&Level>)> = Vec::new();
        // Without the steps of a taking-off there is nothing that a drill could lead to.
        for run in brief.walk.runs.iter().filter(|run| !run.taking_off.is_empty()) {
            let level = policy.level(run.level);
            for event in likely(policy, level) {
                if run.drills.iter().any(|&(_, happening)| event.is_met_by(policy, happening)) {
                    continue;
                }
                match lacking.iter_mut().find(|(known, _)| *known == event) {
                    Some((_, levels)) => levels.push(level),
                    None => lacking.push((event, vec![level])),
                }
            }
        }
        for (event, levels) in lacking {
            let names: Vec<String> = levels.iter().map(|level| level.name.clone()).collect();
            let (title, harm, written) = event.words(policy);
            let at = if levels.len() == 1 { "the level" } else { "the levels" };
            findings.push(plain(
                self,
                levels[0].span,
                Said {
                    title: fitting(title, "No drill for a likely event"),
                    message: format!("{harm} No contingency says what to do at {at} {}.", listed(&names)),
                    way_out: format!("Write the drill: `contingency \"…\" when {written}`, and how it ends."),
                },
            ));
        }
    }
}

/// An event that a level's hazards and kit imply.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Likely {
    Tear,
    Splash,
    Sharps,
    Failure(ItemId),
}

fn likely(policy: &Policy, level: &Level) -> Vec<Likely> {
    let items = || level.kits.iter().flat_map(|kit| &kit.items).map(|worn| worn.item);
    let mut events = Vec::new();
    if items().any(|item| policy.item(item).covers.has(Area::Hands)) {
        events.push(Likely::Tear);
    }
    if level.routes.contains(&Route::Splash) {
        events.push(Likely::Splash);
    }
    if level.routes.contains(&Route::Sharps) {
        events.push(Likely::Sharps);
    }
    let running = items().filter(|&item| policy.item(item).runs_for.is_some());
    events.extend(running.map(Likely::Failure).take(1));
    events
}

impl Likely {
    fn is_met_by(self, policy: &Policy, happening: Happening) -> bool {
        match (self, happening) {
            (Likely::Tear, Happening::Tear(item)) => policy.item(item).covers.has(Area::Hands),
            (Likely::Splash, Happening::Splash(areas)) => areas.iter().any(Area::is_face),
            (Likely::Sharps, Happening::Pierce(_)) => true,
            (Likely::Failure(item), Happening::Fails(other)) => {
                let linked = &policy.item(item).connects_to;
                other == item || linked.contains(&other) || policy.item(other).connects_to.contains(&item)
            }
            _ => false,
        }
    }

    /// A title, what it does to people, and how the event is written.
    fn words(self, policy: &Policy) -> (String, String, String) {
        let plain = |title: &str, harm: &str, written: &str| (title.to_string(), harm.to_string(), written.to_string());
        match self {
            Likely::Tear => plain(
                "No drill for torn gloves",
                "Through a tear the hazard reaches the hands, and people improvise.",
                "gloves are torn",
            ),
            Likely::Splash => plain(
                "No drill for a splash to the face",
                "After a splash, the first hand goes to the face.",
                "face is splashed",
            ),
            Likely::Sharps => plain(
                "No drill for a needle-stick",
                "After a needle-stick, people tear their kit off.",
                "skin is pierced",
            ),
            Likely::Failure(item) => {
                let name = &policy.item(item).name;
                (
                    format!("No drill for a failing {name}"),
                    format!("When the {name} fails, people breathe what the room holds."),
                    format!("{name} fails"),
                )
            }
        }
    }
}
