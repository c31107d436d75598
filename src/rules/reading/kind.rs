//! A name that is declared, but as another kind of thing.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct OtherKind;

impl Rule for OtherKind {
    fn name(&self) -> Name {
        Name { family: "reading", word: "kind" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("kind.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Kind { written, is, wanted } = &problem.kind else { continue };
            let said = Said {
                title: format!("“{}” is {is} and does not fit here", short(written)),
                message: format!("A step that makes no sense is not checked. The sentence calls for {wanted} here."),
                way_out: format!("Name {wanted} here, or change what “{}” is declared as.", short(written)),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
