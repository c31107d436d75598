//! The words of a choice of level: its answers as cases, its lines as they are read.
//!
//! In: a policy's choice and places in it. Out: words. Must never decide whether the choice is right.

use super::Brief;
use crate::policy::{Answer, Choice, LevelId, Policy};
use crate::text::Span;
use crate::walk::Assessment;

impl<'a> Brief<'a> {
    /// The choice of level and what came of playing it; nothing where there is none, or a line of it could not be read.
    pub fn choice(&self) -> Option<(&'a Choice, &'a Assessment)> {
        Some((self.policy.choice.as_ref()?, self.walk.assessment.as_ref()?))
    }
}

/// `the answer to “splash is likely” is yes`, each
pub fn case_of(choice: &Choice, answers: &[Answer]) -> Vec<String> {
    let mut answers: Vec<Answer> = answers.to_vec();
    answers.sort();
    let words = |(asked, yes): Answer| {
        let question = &choice.questions[asked.index()].name;
        format!("the answer to “{question}” is {}", yes_no(yes))
    };
    answers.into_iter().map(words).collect()
}

/// A line of the choice as a place that belongs to a finding: `yes to splash is likely gives Splash`.
pub fn line_of(policy: &Policy, choice: &Choice, line: usize) -> (Span, String) {
    let verdict = &choice.verdicts[line];
    let answers: Vec<String> = verdict
        .answers
        .iter()
        .map(|&(asked, yes)| format!("{} to {}", yes_no(yes), choice.questions[asked.index()].name))
        .collect();
    let when = if answers.is_empty() { "otherwise".to_owned() } else { answers.join(" and ") };
    (verdict.span, format!("{when} gives {}", policy.level(verdict.level).name))
}

/// `“Splash”`
pub fn quoted_level(policy: &Policy, level: LevelId) -> String {
    format!("“{}”", policy.level(level).name)
}

fn yes_no(yes: bool) -> &'static str {
    if yes { "yes" } else { "no" }
}
