//! A bare hand meets something that the hazard itself may lie on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Assumption, Policy};
use crate::rules::telling::{Said, fitting};
use crate::rules::{Brief, Rule};
use crate::walk::parts::{Lie, lies};
use crate::walk::{Event, Run, Surface, What};

pub struct Barehand;

impl Rule for Barehand {
    fn name(&self) -> Name {
        Name { family: "touch", word: "barehand" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("barehand.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events() {
            let What::BareHand { surface } = event.what else { continue };
            let by_front = |what: &What| matches!(what, What::FrontGrip { .. });
            if run.events.iter().any(|other| other.step == event.step && by_front(&other.what)) {
                continue;
            }
            if is_without_kit(brief, run, event) {
                continue;
            }
            let words = run.surfaces.words(brief.policy, surface);
            let unsaid = is_grip_unsaid(brief, event);
            let silent = if unsaid { " The step does not say which part is taken hold of." } else { "" };
            let thing = short_words(brief.policy, surface);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: fitting(
                        format!("Bare hand on the contaminated {thing}"),
                        "Bare hand on a contaminated outside",
                    ),
                    message: format!(
                        "Skin comes within 1 touch of the hazard. A bare hand takes hold of {words}.{silent}"
                    ),
                    way_out: way_out(brief, run, event, surface, unsaid),
                },
            ));
        }
    }
}

/// Somebody who has no kit at all handles another's: the rules of roles tell of it, with this in their chain.
fn is_without_kit(brief: &Brief, run: &Run, event: &Event) -> bool {
    let takes_off = event.step.is_some_and(|at| run.taking_off.contains(&at.sequence));
    let actor = brief.policy.role(event.actor);
    let handles = |other: &Event| match other.what {
        What::Handles { other: whom } => {
            let only_watches = actor.watches && !actor.helps.contains(&whom);
            (other.step, other.actor) == (event.step, event.actor) && (takes_off || only_watches)
        }
        _ => false,
    };
    !brief.has_kit(run, event.actor) && run.events.iter().any(handles)
}

/// The step takes something off and names no part.
fn is_grip_unsaid(brief: &Brief, event: &Event) -> bool {
    event.step.is_some_and(|at| matches!(brief.step(at).act, Act::TakeOff { grip: None, .. }))
}

/// `gown`, `near bench`
fn short_words(policy: &Policy, surface: Surface) -> String {
    match surface {
        Surface::Front { piece, .. }
        | Surface::Back { piece, .. }
        | Surface::Inside { piece, .. }
        | Surface::Grip { piece, .. } => policy.item(piece.item).name.clone(),
        Surface::Fixture(id) => policy.surface(id).name.clone(),
        Surface::Container(id) => policy.container(id).name.clone(),
        Surface::Skin { area, .. } => area.word().to_string(),
    }
}

/// In a kit with two layers of gloves the last stays on, or fresh ones go on; in a kit with one, clean hands take a clean
/// part (GUIDANCE.md U2, U2b), where there is one.
fn way_out(brief: &Brief, run: &Run, event: &Event, surface: Surface, unsaid: bool) -> String {
    let policy = brief.policy;
    let level = policy.level(run.level);
    let kit = level.kit(event.who).map(|kit| kit.items.as_slice()).unwrap_or_default();
    let gloves: u32 =
        kit.iter().filter(|worn| policy.item(worn.item).covers.has(Area::Hands)).map(|worn| worn.pairs.max(1)).sum();
    let thing = short_words(policy, surface);
    let clean = if level.assume == Some(Assumption::EveryOutside) { None } else { clean_part(policy, surface) };
    match clean {
        _ if matches!(surface, Surface::Fixture(_) | Surface::Container(_)) => {
            format!("Wipe the {thing} first with gloves on, or let gloved hands do this step.")
        }
        _ if gloves > 1 => format!("Keep the last gloves on for the {thing}, or put on fresh gloves before this step."),
        Some(part) if unsaid => format!("Say which part clean hands take hold of, such as `by {part}`."),
        Some(part) => format!("With clean hands, take the {thing} by the {part}."),
        None => format!("Put on fresh gloves for the {thing}."),
    }
}

/// A part that the policy lists and on which the hazard does not land.
fn clean_part(policy: &Policy, surface: Surface) -> Option<&str> {
    let Surface::Front { piece, .. } = surface else { return None };
    let item = policy.item(piece.item);
    let parts = item.grips.iter().map(|grip| grip.part.as_str());
    parts.into_iter().find(|part| !matches!(lies(part, item), Lie::Front | Lie::Back))
}
