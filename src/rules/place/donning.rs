//! Kit goes on where the hazard is.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Policy, Step};
use crate::rules::telling::{Said, capital, is_many, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, StepRef, What};

pub struct Donning;

impl Rule for Donning {
    fn name(&self) -> Name {
        Name { family: "place", word: "donning" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("donning.md")
    }

    /// Told once for each person and sequence. A sequence that is written for the contaminated place is told by
    /// `place sequence`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match (&event.what, event.step) {
            (What::PutOnInContaminated { place, .. }, Some(at)) => {
                let told = policy.place_of(at.sequence) == Some(*place);
                (!told && !is_change_of_gloves(policy, at, brief.step(at))).then_some((at.sequence, event.who))
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let What::PutOnInContaminated { item, place } = events[0].what else { continue };
            let goes = if is_many(policy, item) { "go" } else { "goes" };
            let said = Said {
                title: "Kit goes on where the hazard is".to_string(),
                message: format!(
                    "What is not covered yet meets the hazard, and so does the inside of the kit. {} {goes} on in the {}.",
                    capital(&the_item(policy, item)),
                    policy.place(place).name
                ),
                way_out: "Put it on before going in, in a clean place or one for putting on.".to_string(),
            };
            let mut finding = brief.finding(self, run, events[0], said);
            finding.related.extend(brief.further(&events[1..]));
            findings.push(finding);
        }
    }
}

/// Fresh gloves over clean hands are changed beside the patient every day.
fn is_change_of_gloves(policy: &Policy, at: StepRef, step: &Step) -> bool {
    let in_drill = policy.contingency_of(at.sequence).is_some();
    match &step.act {
        Act::Change { item, .. } => policy.item(*item).covers.has(Area::Hands),
        Act::PutOn { item, fresh, .. } => (*fresh || in_drill) && policy.item(*item).covers.iter().all(|area| area == Area::Hands),
        _ => false,
    }
}
