//! Characters that nobody sees.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Hidden;

impl Rule for Hidden {
    fn name(&self) -> Name {
        Name { family: "reading", word: "hidden" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("hidden.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Hidden { characters } = &problem.kind else { continue };
            let said = Said {
                title: "A character that nobody sees".to_owned(),
                message: format!("What is printed can differ from what was approved. Hidden here: “{characters}”."),
                way_out: "Delete it, or type these words again.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
