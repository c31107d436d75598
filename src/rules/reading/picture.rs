//! A drawing that cannot be printed.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Picture;

impl Rule for Picture {
    fn name(&self) -> Name {
        Name { family: "reading", word: "picture" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("picture.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Picture { written, why } = &problem.kind else { continue };
            let said = Said {
                title: format!("“{}” cannot be printed", short(written)),
                message: format!("The aids show the program's own drawing, which may be of other kit. The reason is “{why}”."),
                way_out: "Put a drawing of plain shapes in the folder of the policy, or take the line out.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
