//! A hold whose way for the answer no mends nothing, or leads round in a circle.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, HoldPoint, IfNot, Policy, SequenceId, Step};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Endless;

impl Rule for Endless {
    fn name(&self) -> Name {
        Name { family: "hold", word: "endless" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("endless.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for point in brief.policy.holds() {
            let Some(said) = fault(brief.policy, &point) else { continue };
            findings.push(plain(self, point.step().span, said));
        }
    }
}

fn fault(policy: &Policy, point: &HoldPoint) -> Option<Said> {
    match point.hold.if_not.as_ref()? {
        IfNot::GoBack { title, step } if *step > point.at => Some(Said {
            title: "The way back skips the hold".to_string(),
            message: format!("Whoever fails here goes on unchecked. “{title}” comes after the hold, not before it."),
            way_out: "Name a part that begins before the hold.".to_string(),
        }),
        IfNot::GoBack { title, step } if !mends(&point.steps[*step..point.at]) => Some(Said {
            title: "The way back mends nothing".to_string(),
            message: format!(
                "Whoever fails here comes to the same hold with the same fault. From “{title}” to the hold, nothing is done \
                 again."
            ),
            way_out: "Go back to a part whose steps put the fault right.".to_string(),
        }),
        IfNot::Start { title, sequence } if leads_round(policy, point.sequence?, *sequence) => Some(Said {
            title: "The way out leads round in a circle".to_string(),
            message: format!(
                "A fault that stays keeps people in their kit without end. “{title}” leads back to this sequence."
            ),
            way_out: "Let the last of the sequences end: say there what is done when the fault stays.".to_string(),
        }),
        _ => None,
    }
}

/// Whether doing these steps again can change what the hold asks. Looking again does not, nor does taking off what is off.
fn mends(steps: &[Step]) -> bool {
    let comes_on_again = |wanted: &_| {
        steps
            .iter()
            .any(|step| matches!(&step.act, Act::PutOn { item, .. } | Act::Change { item, .. } if item == wanted))
    };
    steps.iter().any(|step| match &step.act {
        Act::Hold(_) | Act::Go(_) => false,
        Act::Check(_) => !step.prompts.say.is_empty(),
        Act::TakeOff { item, .. } => comes_on_again(item),
        _ => true,
    })
}

/// Whether the holds of `first`, or of what they start, start `own` again. A circle is told once, at its earliest sequence.
fn leads_round(policy: &Policy, own: SequenceId, first: SequenceId) -> bool {
    let mut known: Vec<SequenceId> = Vec::from_iter((first >= own).then_some(first));
    let mut at = 0;
    while at < known.len() {
        let here = known[at];
        at += 1;
        if here == own {
            return true;
        }
        for step in &policy.sequence(here).steps {
            if let Act::Hold(hold) = &step.act
                && let Some(IfNot::Start { sequence, .. }) = hold.if_not
                && sequence >= own
                && !known.contains(&sequence)
            {
                known.push(sequence);
            }
        }
    }
    false
}
