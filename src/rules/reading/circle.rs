//! Files that use one another in a circle.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Circle;

impl Rule for Circle {
    fn name(&self) -> Name {
        Name { family: "reading", word: "circle" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("circle.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Circle { files } = &problem.kind else { continue };
            let files: Vec<String> = files.iter().map(|file| format!("“{file}”")).collect();
            let said = Said {
                title: "Files use each other in a circle".to_owned(),
                message: format!("Nobody can tell which of them decides. The circle is {}.", files.join(", ")),
                way_out: "Leave out the `use` line in one of them.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
