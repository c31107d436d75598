//! A step in which somebody helps themselves.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Oneself;

impl Rule for Oneself {
    fn name(&self) -> Name {
        Name { family: "reading", word: "oneself" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("oneself.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Oneself { who } = &problem.kind else { continue };
            let who = short(who);
            let said = Said {
                title: "Somebody is to help themselves here".to_owned(),
                message: format!(
                    "Alone, a hand reaches where it should not: the face, the back, the outside. Here {who} helps {who}."
                ),
                way_out: format!("Name another role as the one who helps, or leave the help out: `{who} takes off …`."),
            };
            findings.push(unread(self, problem, said));
        }
    }
}
