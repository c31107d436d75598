//! No committee has approved the policy.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Approval;

impl Rule for Approval {
    fn name(&self) -> Name {
        Name { family: "paper", word: "approval" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("approval.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let paper = &brief.policy.paper;
        if !paper.is_policy || paper.approval.is_some() || brief.wrote("approved by") {
            return;
        }
        findings.push(plain(
            self,
            paper.place("policy"),
            Said {
                title: "Nobody has approved this edition".to_owned(),
                message:
                    "Staff would trust their skin to steps that nobody has answered for. Every aid prints as a draft."
                        .to_owned(),
                way_out: "When it is approved, write `approved by \"…\" on` and the date.".to_owned(),
            },
        ));
    }
}
