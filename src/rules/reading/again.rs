//! A line that says again, or otherwise, what was said before.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Again;

impl Rule for Again {
    fn name(&self) -> Name {
        Name { family: "reading", word: "again" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("again.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Again { line: _ } = &problem.kind else { continue };
            let said = Said {
                title: "This was said before".to_owned(),
                message: "A reader cannot see which of the two lines counts. Only the first one does.".to_owned(),
                way_out: "Leave one of them out.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
