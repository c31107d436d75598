//! A line that no answers lead to, or a level that no line gives.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Choice, LevelId};
use crate::rules::choosing::quoted_level;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::Assessment;

pub struct Unreachable;

impl Rule for Unreachable {
    fn name(&self) -> Name {
        Name { family: "choice", word: "unreachable" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unreachable.md")
    }

    /// An `otherwise` to which nothing is left does no harm, unless it alone gives its level.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let (policy, Some((choice, assessment))) = (brief.policy, brief.choice()) else { return };
        for (line, verdict) in choice.verdicts.iter().enumerate() {
            let is_rest = verdict.answers.is_empty() && is_given(choice, assessment, verdict.level);
            if assessment.unreached.contains(&line) && !is_rest {
                let said = Said {
                    title: "No answers lead to this line".to_string(),
                    message: "Whoever relies on this line does not get its level. Earlier lines fit first, whatever is answered."
                        .to_string(),
                    way_out: "Put it before the lines that take its answers, or take it out.".to_string(),
                };
                findings.push(plain(self, verdict.span, said));
            }
        }
        for (at, level) in policy.levels.iter().enumerate() {
            let id = LevelId::new(at);
            if choice.verdicts.iter().any(|verdict| verdict.level == id) {
                continue;
            }
            let said = Said {
                title: "No answers lead to this level".to_string(),
                message: format!(
                    "Nobody is ever sent to put on this kit. No line of the choice gives {}.",
                    quoted_level(policy, id)
                ),
                way_out: "Add the line that gives it, or take the level out.".to_string(),
            };
            findings.push(plain(self, level.span, said));
        }
    }
}

fn is_given(choice: &Choice, assessment: &Assessment, level: LevelId) -> bool {
    let mut lines = choice.verdicts.iter().enumerate();
    lines.any(|(line, verdict)| verdict.level == level && !assessment.unreached.contains(&line))
}
