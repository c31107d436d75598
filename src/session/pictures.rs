//! The hospital's own drawings, fetched for the items that name them.
//!
//! In: a policy and a shelf. Out: the drawings in the policy, and a problem for each that cannot be had or printed.

use super::Shelf;
use crate::policy::{Policy, picture};
use crate::syntax::problem::{Problem, ProblemKind};
use crate::text::Sources;

/// Drawings that one policy may name.
const MOST: usize = 64;

pub(super) fn fetch(policy: &mut Policy, sources: &Sources, shelf: &dyn Shelf) -> Vec<Problem> {
    let mut problems = Vec::new();
    let pictures = policy.items.iter_mut().filter_map(|item| item.picture.as_mut());
    for (at, picture) in pictures.enumerate() {
        let from = &sources.get(picture.span.source).name;
        let fetched = if at < MOST {
            shelf.fetch(from, &picture.file).map(|(_, text)| text)
        } else {
            Err(format!("the policy names {MOST} drawings already, which is the limit"))
        };
        match fetched.and_then(|svg| picture::fault(&svg).map_or(Ok(svg), Err)) {
            Ok(svg) => picture.svg = Some(svg),
            Err(why) => {
                let kind = ProblemKind::Picture { written: picture.file.clone(), why };
                problems.push(Problem { kind, span: picture.span, related: Vec::new() });
            }
        }
    }
    problems
}
