//! Rules that a policy names: the findings that it accepts, and the house rules that a level asks for.
//!
//! In: a resolved policy. Out: a problem for each name that no rule bears, so that nobody counts on a check that is not
//! made.

use crate::findings::Kind;
use crate::policy::Policy;
use crate::policy::resolve::near;
use crate::rules::{self, Rule};
use crate::syntax::problem::{Problem, ProblemKind};
use crate::text::Span;

pub(super) fn unknown(policy: &Policy) -> Vec<Problem> {
    let mut problems = Vec::new();
    for exception in &policy.exceptions {
        if rules::named(&exception.finding).is_none() {
            problems.push(told(&exception.finding, exception.finding_span, "the name of a finding", |_| true));
        }
    }
    let is_house = |rule: &dyn Rule| rule.kind() == Kind::House;
    for level in &policy.levels {
        let wishes = level.needs.iter().chain(&level.forbids).zip(&level.wish_spans);
        for (wish, span) in wishes.filter(|(wish, _)| !rules::named(wish).is_some_and(is_house)) {
            problems.push(told(wish, *span, "the name of a house rule", is_house));
        }
    }
    problems
}

fn told(written: &str, span: Span, what: &'static str, fits: impl Fn(&dyn Rule) -> bool) -> Problem {
    let known: Vec<String> =
        rules::ALL.iter().filter(|rule| fits(**rule)).map(|rule| rule.name().to_string()).collect();
    let near = near(written, known.iter().map(String::as_str)).map(|near| near.name.to_owned());
    let kind = ProblemKind::Word { written: written.to_owned(), what, known, near };
    Problem { kind, span, related: Vec::new() }
}
