//! A file that cannot be used.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct File;

impl Rule for File {
    fn name(&self) -> Name {
        Name { family: "reading", word: "file" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("file.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::File { written, why } = &problem.kind else { continue };
            let said = if written.is_empty() {
                Said {
                    title: "This file cannot be read".to_owned(),
                    message: format!("Nothing in it is checked. The reason is “{why}”."),
                    way_out: "Keep one policy to a file, and leave out what is no policy.".to_owned(),
                }
            } else {
                Said {
                    title: format!("“{}” cannot be used", short(written)),
                    message: format!("Steps that need what it declares are not checked. The reason is “{why}”."),
                    way_out: "Put the file where the policy looks for it, or mend this line.".to_owned(),
                }
            };
            findings.push(unread(self, problem, said));
        }
    }
}
