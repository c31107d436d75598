//! Two lines fit the same answers and give different levels, and only their order decides.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::choosing::{case_of, line_of, quoted_level};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::assessment::Doubled;
use crate::walk::Assessment;

pub struct Several;

impl Rule for Several {
    fn name(&self) -> Name {
        Name { family: "choice", word: "several" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("several.md")
    }

    /// The first line that fits decides. That is plain where the first level outranks the other, where the first line is an
    /// exception to the other, and where the other is the rest (`otherwise`). Silent where a higher risk gets the lower level
    /// by it: `choice lower` tells that.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let (policy, Some((choice, assessment))) = (brief.policy, brief.choice()) else { return };
        for double in assessment.doubled.iter().filter(|double| !lowers(assessment, double)) {
            let [first, later] =
                [double.first, double.later].map(|line| quoted_level(policy, choice.verdicts[line].level));
            let said = Said {
                title: "Two lines fit and give different levels".to_string(),
                message: format!(
                    "Two readers come out with different kit. The first line that fits gives {first}, this one gives {later}."
                ),
                way_out: "Say which level outranks the other, and put its line first.".to_string(),
            };
            findings.push(Finding {
                case: case_of(choice, &double.case),
                related: vec![line_of(policy, choice, double.first)],
                ..plain(self, choice.verdicts[double.later].span, said)
            });
        }
    }
}

fn lowers(assessment: &Assessment, double: &Doubled) -> bool {
    assessment.lowered.iter().any(|lowered| (lowered.at_yes, lowered.at_no) == (double.first, double.later))
}
