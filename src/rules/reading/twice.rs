//! A name or a title that is given twice.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Twice;

impl Rule for Twice {
    fn name(&self) -> Name {
        Name { family: "reading", word: "twice" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("twice.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Twice { written, what } = &problem.kind else { continue };
            let said = Said {
                title: format!("“{}” is there twice", short(written)),
                message: format!("Nobody can tell which of the two a step means. It is {what} already."),
                way_out: "Give the second one a name of its own, or leave it out.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
