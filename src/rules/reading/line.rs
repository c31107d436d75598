//! A line that matches no sentence.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, either, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Line;

impl Rule for Line {
    fn name(&self) -> Name {
        Name { family: "reading", word: "line" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("line.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Line { seems, wanted } = &problem.kind else { continue };
            let closing = wanted.contains(&"a closing quote");
            let title = if closing { "The closing quote is missing" } else { "This line cannot be read as it stands" };
            let fits = match wanted.as_slice() {
                [] => String::new(),
                some => format!(" What fits here: {}.", either(&some[..some.len().min(MOST)])),
            };
            let way_out = match seems {
                Some(example) => format!("Write it like this: `{example}`"),
                None => "Begin the line with who acts, or with a word such as `item`, `part` or `note`.".to_owned(),
            };
            let message = format!("What is not read is not checked.{fits}");
            findings.push(unread(self, problem, Said { title: title.to_owned(), message, way_out }));
        }
    }
}

/// A reader holds no more than these in mind.
const MOST: usize = 3;
