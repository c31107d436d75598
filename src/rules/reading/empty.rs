//! A file with nothing in it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Empty;

impl Rule for Empty {
    fn name(&self) -> Name {
        Name { family: "reading", word: "empty" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("empty.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Empty = &problem.kind else { continue };
            let said = Said {
                title: "There is nothing in this file".to_owned(),
                message: "A procedure that is not written down protects nobody. There is nothing to check.".to_owned(),
                way_out: "Write the policy into it; `anteroom start` writes one to begin with.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
