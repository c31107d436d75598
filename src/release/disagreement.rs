//! Where the log of releases and the policy's own lines do not say the same.
//!
//! In: the lines of document control, an edition as its log tells it, a day. Out: a sentence for each disagreement. Must never
//! decide which of the two is right: people do.

use super::history::{Edition, History};
use super::stage::Stage;
use crate::policy::{Day, Paper};
use crate::session::{Answer, State};

pub fn disagreements(paper: &Paper, edition: &Edition, today: Day) -> Vec<String> {
    let mut told = Vec::new();
    let stage = edition.stage;
    if let (Some(approval), Stage::Draft | Stage::UnderReview) = (&paper.approval, stage) {
        let by = &approval.by;
        told.push(format!(
            "The policy says that {by} approved it on {}; by the log it is {}.",
            approval.on,
            stage.words()
        ));
    }
    if paper.approval.is_none() && matches!(stage, Stage::Approved | Stage::InForce) {
        told.push("By the log it is approved; the policy has no line that says so.".to_owned());
    }
    let holds = paper.in_force.is_some_and(|day| day <= today) && paper.withdrawn.is_none_or(|day| day > today);
    let since = edition.since;
    match (stage, paper.in_force) {
        (Stage::InForce, Some(day)) if day > since => {
            told.push(format!("By the log it is in force since {since}; the policy says from {day}."));
        }
        (Stage::InForce, None) => {
            told.push(format!("By the log it is in force since {since}; the policy has no line that says so."));
        }
        (Stage::Draft | Stage::UnderReview | Stage::Approved, Some(day)) if holds => {
            told.push(format!("The policy says in force from {day}; by the log it is {}.", stage.words()));
        }
        (Stage::Withdrawn, _) if paper.withdrawn.is_none() => {
            told.push(format!("By the log it is withdrawn since {since}; the policy has no line that says so."));
        }
        (Stage::Withdrawn, _) => told.extend(
            paper
                .withdrawn
                .filter(|&day| day > today)
                .map(|day| format!("By the log it is withdrawn since {since}; the policy says from {day}.")),
        ),
        (Stage::Superseded, _) if holds => {
            told.push(format!("By the log another edition has replaced it since {since}."));
        }
        _ => {}
    }
    if let Some(day) =
        paper.withdrawn.filter(|&day| day <= today && !matches!(stage, Stage::Withdrawn | Stage::Superseded))
    {
        told.push(format!("The policy says withdrawn on {day}; by the log it is {}.", stage.words()));
    }
    told
}

/// The same for a text of which no edition is frozen, where another edition of the policy is in force by its log.
pub fn unfrozen(history: &History) -> Option<String> {
    let other = history.in_force()?;
    let number = other.number.map_or_else(String::new, |number| format!(" {number}"));
    Some(format!(
        "No edition of this text is frozen; by the log edition{number} is in force, fingerprint {}.",
        other.fingerprint
    ))
}

/// A copy that its policy calls in force, and the log does not, is not to be worked from until somebody has said which is right.
pub fn weigh(answer: &mut Answer, edition: Option<&Edition>) {
    match edition {
        Some(edition) if edition.stage == Stage::InForce => {}
        Some(edition) => {
            answer.why.push(format!("By the log of releases it is {} since {}.", edition.stage.words(), edition.since));
            if answer.state == State::InForce {
                answer.state = State::Unknown;
                answer.what_to_do =
                    "Do not work from this copy until whoever keeps the policies has said which of the two holds."
                        .to_owned();
            }
        }
        None => answer.why.push("No edition with this fingerprint is in the log of releases.".to_owned()),
    }
}
