//! A name that nothing declares.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Unknown;

impl Rule for Unknown {
    fn name(&self) -> Name {
        Name { family: "reading", word: "name" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("name.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Name { written, what, near } = &problem.kind else { continue };
            let shown = short(written);
            let one = what.split([',']).next().unwrap_or(what);
            let way_out = match near {
                Some(near) => format!("Write “{near}”, if that is what is meant."),
                None => format!("Declare it with a line such as `{} {shown}`, or mend the name.", declaring(one)),
            };
            let said = Said {
                title: format!("Nothing is called “{shown}”"),
                message: format!(
                    "A step about something unknown is not checked. This name stands for nothing; {one} is called for."
                ),
                way_out,
            };
            findings.push(unread(self, problem, said));
        }
    }
}

/// The word that declares such a thing.
fn declaring(what: &str) -> &str {
    match what {
        "a question" => "ask",
        _ => what.split_once(' ').map_or(what, |(_, word)| word),
    }
}
