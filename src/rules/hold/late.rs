//! A hold of the putting-on comes when the person it guards is with the hazard already.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, PlaceId, RoleId};
use crate::rules::telling::{Said, the_role};
use crate::rules::{Brief, Rule};
use crate::text::Span;
use crate::walk::{Event, Run, StepRef, What};

pub struct Late;

impl Rule for Late {
    fn name(&self) -> Name {
        Name { family: "hold", word: "late" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("late.md")
    }

    /// A sequence that is written for the contaminated place is told by `place sequence`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |_: &Run, event: &Event| match (&event.what, event.step) {
            (What::HoldAfterEntry { place }, Some(at)) => {
                (policy.sequence(at.sequence).place != Some(*place)).then_some(at)
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let event = events[0];
            let (What::HoldAfterEntry { place }, Some(at)) = (&event.what, event.step) else { continue };
            let who = the_role(policy, event.who);
            let said = Said {
                title: "The hold comes after going in".to_string(),
                message: format!(
                    "A gap found here has met the hazard already. Before this hold, {who} is in the {}.",
                    policy.place(*place).name
                ),
                way_out: "The hold must come before the step that goes in.".to_string(),
            };
            let mut finding = brief.finding(self, run, event, said);
            finding.related.extend(entry(brief, at, event.who, *place));
            findings.push(finding);
        }
    }
}

/// The step of the same sequence that goes in.
fn entry(brief: &Brief, hold: StepRef, who: RoleId, place: PlaceId) -> Option<(Span, String)> {
    let steps = &brief.policy.sequence(hold.sequence).steps;
    let goes_in = steps[..hold.step].iter().rev().find(|step| step.actor == who && step.act == Act::Go(place))?;
    Some((goes_in.span, format!("Here it goes in: {}", goes_in.words)))
}
