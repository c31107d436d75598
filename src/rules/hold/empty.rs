//! A hold that nobody is to confirm.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Empty;

impl Rule for Empty {
    fn name(&self) -> Name {
        Name { family: "hold", word: "empty" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("empty.md")
    }

    /// A `confirms` line that could not be read has been told of already.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for point in brief.policy.holds() {
            if !point.hold.confirms.is_empty() || brief.has_problem_in(point.lines) {
                continue;
            }
            let said = Said {
                title: "Nobody confirms this hold".to_string(),
                message:
                    "Nobody is named who lets the others go on, so everybody goes on. A hold needs at least one who \
                          confirms."
                        .to_string(),
                way_out: "Write beneath it who confirms what: observer confirms \u{201c}No skin shows.\u{201d}"
                    .to_string(),
            };
            findings.push(plain(self, point.step().span, said));
        }
    }
}
