//! Rules that a policy names: the findings that it accepts.
//!
//! In: a resolved policy. Out: a problem for each name that no rule bears, so that nobody counts on a check that is not
//! made.

use crate::policy::Policy;
use crate::policy::resolve::near;
use crate::rules;
use crate::syntax::problem::{Problem, ProblemKind};
use crate::text::Span;

pub(super) fn unknown(policy: &Policy) -> Vec<Problem> {
    let mut problems = Vec::new();
    for exception in &policy.exceptions {
        if rules::named(&exception.finding).is_none() {
            problems.push(told(&exception.finding, exception.finding_span));
        }
    }
    problems
}

fn told(written: &str, span: Span) -> Problem {
    let known: Vec<String> = rules::ALL.iter().map(|rule| rule.name().to_string()).collect();
    let near = near(written, known.iter().map(String::as_str)).map(|near| near.name.to_owned());
    let kind = ProblemKind::Word { written: written.to_owned(), what: "the name of a finding", known, near };
    Problem { kind, span, related: Vec::new() }
}
