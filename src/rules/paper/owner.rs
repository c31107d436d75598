//! Nobody is named who answers for the policy.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Owner;

impl Rule for Owner {
    fn name(&self) -> Name {
        Name { family: "paper", word: "owner" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("owner.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let paper = &brief.policy.paper;
        if !paper.is_policy || paper.owner.is_some() {
            return;
        }
        findings.push(plain(
            self,
            paper.place("policy"),
            Said {
                title: "Nobody is named as the policy's owner".to_owned(),
                message:
                    "A nurse who meets a mistake at the bedside has nobody to tell. The mistake then stays on the wall."
                        .to_owned(),
                way_out: "Write `owner \"…\"` with the team that keeps this policy.".to_owned(),
            },
        ));
    }
}
