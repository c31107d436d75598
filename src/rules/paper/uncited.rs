//! A source that no reason in the policy cites.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Uncited;

impl Rule for Uncited {
    fn name(&self) -> Name {
        Name { family: "paper", word: "uncited" }
    }
    fn signal(&self) -> Signal {
        Signal::Notice
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("uncited.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let steps = policy.sequences.iter().flat_map(|sequence| &sequence.steps);
        let steps = steps.chain(policy.contingencies.iter().flat_map(|contingency| &contingency.steps));
        let cited: std::collections::BTreeSet<usize> = steps
            .flat_map(|step| &step.prompts.because)
            .filter_map(|because| because.citation)
            .map(|citation| citation.index())
            .collect();
        // A reason with a mistyped source may mean this one; it is told already.
        let mistyped = brief.problems.iter().any(|problem| {
            matches!(
                &problem.kind,
                ProblemKind::Name { what: "a source", .. } | ProblemKind::Kind { wanted: "a source", .. }
            )
        });
        if !policy.paper.is_policy || mistyped || !policy.gaps.is_empty() {
            return;
        }
        for (at, citation) in policy.citations.iter().enumerate() {
            if cited.contains(&at) {
                continue;
            }
            findings.push(plain(
                self,
                citation.span,
                Said {
                    title: "No step cites this source".to_owned(),
                    message: "When the source changes, nobody can tell which steps must change with it.".to_owned(),
                    way_out: format!("Beneath a step that rests on it, write `because \"…\" {}`.", citation.name),
                },
            ));
        }
    }
}
