//! A hold without a way for the answer no.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Certain;

impl Rule for Certain {
    fn name(&self) -> Name {
        Name { family: "hold", word: "certain" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("certain.md")
    }

    /// A hold that nobody confirms is told by `hold empty`; a way that could not be read has been told of already.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for point in brief.policy.holds() {
            let silent = point.hold.if_not.is_none() && !point.hold.confirms.is_empty();
            if !silent || brief.has_problem_in(point.lines) {
                continue;
            }
            let said = Said {
                title: "The hold has no way for “no”".to_string(),
                message: "When a gap is found here, nobody has planned what follows. A hold that only knows yes stops nobody."
                    .to_string(),
                way_out: "Add what happens otherwise: if not, go back to the part that puts it right.".to_string(),
            };
            findings.push(plain(self, point.step().span, said));
        }
    }
}
