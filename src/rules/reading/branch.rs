//! An `if`, `otherwise` or `end if` without its counterpart.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Branch;

impl Rule for Branch {
    fn name(&self) -> Name {
        Name { family: "reading", word: "branch" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("branch.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Branch { said } = &problem.kind else { continue };
            let (title, message, way_out) = words(said);
            let said = Said { title: title.into(), message: message.into(), way_out: way_out.into() };
            findings.push(unread(self, problem, said));
        }
    }
}

fn words(said: &str) -> (&'static str, &'static str, &'static str) {
    match said {
        "if without end if" => (
            "This `if` never ends",
            "Steps may be done, or left out, in the wrong case. Nobody can tell which of them depend on this condition.",
            "Write `end if` after the last step that depends on it.",
        ),
        "otherwise without if" => (
            "This `otherwise` has no `if`",
            "Steps may be done, or left out, in the wrong case. Nothing says otherwise than what.",
            "Write the `if` line above the steps of the first case.",
        ),
        "second otherwise" => (
            "A second `otherwise` for one `if`",
            "Steps may be done, or left out, in the wrong case. A condition has two outcomes, and both are used up.",
            "Leave one out, or put an `if` of its own within the first.",
        ),
        "end if without if" => (
            "This `end if` ends nothing",
            "Steps may be done, or left out, in the wrong case. No `if` is open here.",
            "Leave it out, or write the `if` line that it ends.",
        ),
        _ => (
            "These conditions cannot all be looked at",
            "What is not looked at is not checked. Here too many cases depend on one another.",
            "Split the sequence, or use fewer conditions on one step.",
        ),
    }
}
