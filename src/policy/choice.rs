//! The risk assessment: questions and the level that their answers give.

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
    pub answers: Vec<(QuestionId, bool)>,
    pub level: LevelId,
    #[serde(skip)]
    pub span: Span,
}
