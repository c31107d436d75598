//! Some combination of answers gives no level.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::choosing::case_of;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct NoLevel;

impl Rule for NoLevel {
    fn name(&self) -> Name {
        Name { family: "choice", word: "none" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("none.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let Some((choice, assessment)) = brief.choice() else { return };
        let (Some(case), Some(span)) = (&assessment.uncovered, choice.span) else { return };
        let said = Said {
            title: "Some answers give no level".to_string(),
            message: "Nobody can say what to wear, and people go in with what they guess. No line fits these answers."
                .to_string(),
            way_out: "Add a last line: otherwise gives the level that protects most.".to_string(),
        };
        findings.push(Finding { case: case_of(choice, case), ..plain(self, span, said) });
    }
}
