//! A contingency that does not say how it ends.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Open;

impl Rule for Open {
    fn name(&self) -> Name {
        Name { family: "drill", word: "open" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("open.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for drill in &brief.policy.contingencies {
            if !drill.endings.is_empty() || brief.has_problem_in(drill.extent) {
                continue;
            }
            let said = Said {
                title: "The drill does not say how it ends".to_string(),
                message: "People stand in contaminated kit and do not know whether to go on or to come out. Nothing follows \
                          the last line of this drill."
                    .to_string(),
                way_out: "End it with `then carry on`, or with `then start \"…\"`.".to_string(),
            };
            findings.push(plain(self, drill.span, said));
        }
    }
}
