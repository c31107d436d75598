//! A contingency whose event can happen after no step.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Never;

impl Rule for Never {
    fn name(&self) -> Name {
        Name { family: "drill", word: "never" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("never.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        // Where a play was not finished, nobody knows.
        let unfinished = brief.walk.runs.iter().any(|run| run.gave_up);
        if unfinished || brief.walk.runs.iter().all(|run| run.taking_off.is_empty()) {
            return;
        }
        for (at, drill) in policy.contingencies.iter().enumerate() {
            let happens = |run: &crate::walk::Run| run.strikes.iter().any(|strike| strike.contingency == at);
            if brief.walk.runs.iter().any(happens) || brief.has_problem_in(drill.extent) {
                continue;
            }
            let belongs = |run: &crate::walk::Run| run.drills.iter().any(|&(contingency, _)| contingency == at);
            let (message, way_out) = if brief.walk.runs.iter().any(belongs) {
                (
                    "Nobody who has met the hazard wears or is what it speaks of.",
                    "Name an item, a role or an area that the level has, or take the contingency out.",
                )
            } else {
                (
                    "It starts sequences of more than one level, or needs somebody whom no level has.",
                    "Write one contingency for each level, with that level's own sequences.",
                )
            };
            let said = Said {
                title: "This drill can never be entered".to_string(),
                message: format!("People trust a drill that does not fit them. {message}"),
                way_out: way_out.to_string(),
            };
            findings.push(plain(self, drill.span, said));
        }
    }
}
