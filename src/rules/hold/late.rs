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

    /// Where kit goes on inside, or is written to, the rules of places tell of it, and the hold is no fault of its own.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |run: &Run, event: &Event| match (&event.what, event.step) {
            (What::HoldAfterEntry { place }, Some(at)) => {
                let is_written_so = policy.place_of(at.sequence) == Some(*place);
                (!is_written_so && !puts_on_inside(run, event)).then_some(at)
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

fn puts_on_inside(run: &Run, hold: &Event) -> bool {
    let sequence = |event: &Event| event.step.map(|at| at.sequence);
    run.events.iter().any(|other| {
        matches!(other.what, What::PutOnInContaminated { .. })
            && other.who == hold.who
            && sequence(other) == sequence(hold)
    })
}

/// The step of the same sequence that goes in.
fn entry(brief: &Brief, hold: StepRef, who: RoleId, place: PlaceId) -> Option<(Span, String)> {
    let steps = brief.policy.steps(hold.sequence);
    let goes_in = steps[..hold.step].iter().rev().find(|step| step.actor == who && step.act == Act::Go(place))?;
    Some((goes_in.span, format!("Here it goes in: {}", goes_in.words)))
}
