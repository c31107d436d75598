//! Letters of another script that look like Latin ones.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct LookAlike;

impl Rule for LookAlike {
    fn name(&self) -> Name {
        Name { family: "reading", word: "lookalike" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("lookalike.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::LookAlike { written, letters } = &problem.kind else { continue };
            let said = Said {
                title: format!("Letters in “{}” only look Latin", short(written)),
                message: format!("Two names that look alike can be two different names. This one holds “{letters}”."),
                way_out: "Type the word again, letter by letter.".to_owned(),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
