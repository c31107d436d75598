//! Where an edition stands between its first draft and its end, and the only ways from one stage to the next.
//!
//! In: a stage and a step. Out: the next stage. Must never know why a step is taken.
//!
//! The life of a procedural document as public hospital trusts describe it: review, approval or not, publication, removal; and
//! review without a change. That what is replaced is known as such: ISO 9001, clause on the control of documents.

use serde::Serialize;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Stage {
    /// Frozen, and nobody has been asked yet.
    Draft,
    UnderReview,
    Approved,
    InForce,
    Superseded,
    Withdrawn,
}

/// What is done with an edition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Step {
    Submit,
    SendBack,
    /// Everybody has signed who has to.
    Approve,
    PutInForce,
    /// A later edition takes its place.
    Supersede,
    Withdraw,
    /// Reviewed, and left as it is.
    Review,
}

impl Stage {
    pub const ALL: [Stage; 6] =
        [Stage::Draft, Stage::UnderReview, Stage::Approved, Stage::InForce, Stage::Superseded, Stage::Withdrawn];

    /// After “it is”.
    pub fn words(self) -> &'static str {
        match self {
            Stage::Draft => "a draft",
            Stage::UnderReview => "under review",
            Stage::Approved => "approved",
            Stage::InForce => "in force",
            Stage::Superseded => "superseded",
            Stage::Withdrawn => "withdrawn",
        }
    }

    /// None where the step cannot be taken.
    pub fn after(self, step: Step) -> Option<Stage> {
        match (self, step) {
            (Stage::Draft, Step::Submit) => Some(Stage::UnderReview),
            (Stage::UnderReview, Step::SendBack) => Some(Stage::Draft),
            (Stage::UnderReview, Step::Approve) => Some(Stage::Approved),
            (Stage::Approved, Step::PutInForce) => Some(Stage::InForce),
            (Stage::InForce, Step::Supersede) => Some(Stage::Superseded),
            (Stage::InForce, Step::Review) => Some(Stage::InForce),
            (Stage::Draft | Stage::UnderReview | Stage::Approved | Stage::InForce, Step::Withdraw) => {
                Some(Stage::Withdrawn)
            }
            _ => None,
        }
    }
}

impl Step {
    pub const ALL: [Step; 7] =
        [Step::Submit, Step::SendBack, Step::Approve, Step::PutInForce, Step::Supersede, Step::Withdraw, Step::Review];
}
