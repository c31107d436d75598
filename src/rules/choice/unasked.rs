//! A question whose answer changes nothing.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Choice, FactKind, Policy, QuestionId};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::Assessment;

pub struct Unasked;

impl Rule for Unasked {
    fn name(&self) -> Name {
        Name { family: "choice", word: "unasked" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unasked.md")
    }

    /// Silent while a line is unread, which may be the one that asks; and where only an unreachable line asks, which is told.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let (policy, Some((choice, assessment))) = (brief.policy, brief.choice()) else { return };
        if !policy.gaps.is_empty() {
            return;
        }
        for &idle in assessment.idle.iter().filter(|&&idle| !is_condition(policy, idle)) {
            if is_in_unreached(choice, assessment, idle) {
                continue;
            }
            let said = Said {
                title: "A question that decides nothing".to_string(),
                message: "People weigh a risk, and nothing follows from it. Yes and no lead to the same level.".to_string(),
                way_out: "Add the line in which the answer counts, or take the question out.".to_string(),
            };
            findings.push(plain(self, choice.questions[idle.index()].span, said));
        }
    }
}

/// A step or a drill asks for it.
fn is_condition(policy: &Policy, question: QuestionId) -> bool {
    policy.facts.iter().any(|fact| fact.kind == FactKind::Asked(question))
}

fn is_in_unreached(choice: &Choice, assessment: &Assessment, question: QuestionId) -> bool {
    let mut lines = assessment.unreached.iter().map(|&line| &choice.verdicts[line]);
    lines.any(|line| line.answers.iter().any(|&(asked, _)| asked == question))
}
