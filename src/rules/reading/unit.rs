//! A unit that does not fit what is measured.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Unit;

impl Rule for Unit {
    fn name(&self) -> Name {
        Name { family: "reading", word: "unit" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unit.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Unit { written, fits } = &problem.kind else { continue };
            let said = Said {
                title: format!("“{}” does not fit here", short(written)),
                message: format!("An amount that cannot be understood is not checked. Units that fit are {fits}."),
                way_out: "Write one of these units after the number.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
