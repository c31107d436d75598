//! Yes in place of no to one question leads to a level that the other outranks.

use std::collections::BTreeMap;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::choosing::{case_of, line_of, quoted_level};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::assessment::Lowered;

pub struct Lower;

impl Rule for Lower {
    fn name(&self) -> Name {
        Name { family: "choice", word: "lower" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("lower.md")
    }

    /// One finding for each line that gives the lower level, with the case of the fewest answers.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let (policy, Some((choice, assessment))) = (brief.policy, brief.choice()) else { return };
        let mut lines: BTreeMap<usize, Vec<&Lowered>> = BTreeMap::new();
        for lowered in &assessment.lowered {
            lines.entry(lowered.at_yes).or_default().push(lowered);
        }
        for (line, all) in lines {
            let Some(lowered) = all.iter().min_by_key(|lowered| (lowered.case.len(), lowered.question)) else { continue };
            let [higher, lower] =
                [lowered.at_no, line].map(|line| quoted_level(policy, choice.verdicts[line].level));
            let question = &choice.questions[lowered.question.index()].name;
            let said = Said {
                title: "A yes leads to the lower level".to_string(),
                message: format!(
                    "People go in with too little on. Yes to “{question}” gives {lower}, and no gives {higher}, which outranks it."
                ),
                way_out: "Put the line of the higher level first, and ask so that yes means more risk.".to_string(),
            };
            let case = [&lowered.case[..], &[(lowered.question, true)]].concat();
            let mut higher: Vec<usize> = all.iter().map(|lowered| lowered.at_no).collect();
            higher.sort_unstable();
            higher.dedup();
            findings.push(Finding {
                case: case_of(choice, &case),
                related: higher.into_iter().map(|line| line_of(policy, choice, line)).collect(),
                ..plain(self, choice.verdicts[line].span, said)
            });
        }
    }
}
