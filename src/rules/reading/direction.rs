//! Characters that turn the direction of reading.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Direction;

impl Rule for Direction {
    fn name(&self) -> Name {
        Name { family: "reading", word: "direction" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("direction.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Direction { characters } = &problem.kind else { continue };
            let said = Said {
                title: "A character that turns the direction of reading".to_owned(),
                message: format!("The eye can read the words in another order than they stand. Hidden here: “{characters}”."),
                way_out: "Delete it, or type these words again.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
