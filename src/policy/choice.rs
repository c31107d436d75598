//! The risk assessment: questions and the level that their answers give.

use std::collections::BTreeSet;

use serde::Serialize;

use super::{LevelId, QuestionId};
use crate::text::Span;

#[derive(Clone, Debug, Default, Serialize)]
pub struct Choice {
    pub questions: Vec<Question>,
    /// In the order written; the first that fits gives the level.
    pub verdicts: Vec<Verdict>,
    /// Higher, lower.
    pub outranks: Vec<(LevelId, LevelId)>,
    #[serde(skip)]
    pub span: Option<Span>,
    /// The lines of `outranks`, in the same order.
    #[serde(skip)]
    pub outrank_spans: Vec<Span>,
}

#[derive(Clone, Debug, Serialize)]
pub struct Question {
    pub name: String,
    pub words: String,
    #[serde(skip)]
    pub span: Span,
}

/// `yes to A and no to B gives LEVEL`; no answers for `otherwise gives LEVEL`.
#[derive(Clone, Debug, Serialize)]
pub struct Verdict {
    pub answers: Vec<Answer>,
    pub level: LevelId,
    #[serde(skip)]
    pub span: Span,
}

/// A question, and whether the answer is yes.
pub type Answer = (QuestionId, bool);

impl Choice {
    /// The line that these answers come to: the first that fits.
    pub fn line_for(&self, is_yes: impl Fn(QuestionId) -> bool) -> Option<usize> {
        self.verdicts.iter().position(|verdict| verdict.answers.iter().all(|&(asked, yes)| is_yes(asked) == yes))
    }

    /// Every level that this one outranks, itself or by way of others.
    pub fn outranked_by(&self, level: LevelId) -> BTreeSet<LevelId> {
        let lines: BTreeSet<(LevelId, LevelId)> = self.outranks.iter().copied().collect();
        let mut below = BTreeSet::new();
        let mut open = vec![level];
        while let Some(higher) = open.pop() {
            let from = (higher, LevelId(u16::MIN))..=(higher, LevelId(u16::MAX));
            open.extend(lines.range(from).map(|&(_, lower)| lower).filter(|&lower| below.insert(lower)));
        }
        below
    }
}
