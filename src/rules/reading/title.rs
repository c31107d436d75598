//! A title that nothing bears.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Title;

impl Rule for Title {
    fn name(&self) -> Name {
        Name { family: "reading", word: "title" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("title.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Title { written, what, near } = &problem.kind else { continue };
            let way_out = match near {
                Some(near) => format!("Write “{near}”, if that is what is meant."),
                None => format!("Write the title of {what} exactly as it stands there."),
            };
            let said = Said {
                title: format!("Nothing here is titled “{}”", short(written)),
                message: format!("Whoever follows this line is sent nowhere. It has to name {what}."),
                way_out,
            };
            findings.push(unread(self, problem, said));
        }
    }
}
