//! A line that stands where it cannot belong.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Astray;

impl Rule for Astray {
    fn name(&self) -> Name {
        Name { family: "reading", word: "astray" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("astray.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Astray { line: _, belongs } = &problem.kind else { continue };
            let said = Said {
                title: "This line stands where it belongs to nothing".to_owned(),
                message: format!("What belongs to nothing is not checked. This line belongs {belongs}."),
                way_out: format!("Move it {belongs}, or leave it out."),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
