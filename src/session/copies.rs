//! Whether a printed copy is still to be followed.
//!
//! In: what the copy's code says, and the policies that the hospital keeps. Out: an [`Answer`]. What a code says besides its
//! fingerprint is believed only where it speaks against the copy.

pub mod json;

use serde::Serialize;

use super::{Checked, Reason, Standing, standing};
use crate::policy::{Code, Day, Paper};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    InForce,
    Superseded,
    Withdrawn,
    NotYetInForce,
    Draft,
    Unknown,
}

impl State {
    /// Of an edition that no other has replaced.
    pub fn of(standing: &Standing) -> State {
        match standing {
            Standing::InForce => State::InForce,
            Standing::NotYet(_) => State::NotYetInForce,
            Standing::Withdrawn(_) => State::Withdrawn,
            Standing::Draft(_) => State::Draft,
        }
    }

    pub fn word(self) -> &'static str {
        match self {
            State::InForce => "IN FORCE",
            State::Superseded => "SUPERSEDED",
            State::Withdrawn => "WITHDRAWN",
            State::NotYetInForce => "NOT YET IN FORCE",
            State::Draft => "DRAFT",
            State::Unknown => "UNKNOWN",
        }
    }
}

/// One policy that the hospital keeps.
pub struct Kept<'a> {
    pub file: &'a str,
    pub checked: &'a Checked,
}

/// What is told of one copy. All is plain words but for the state.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Answer {
    pub state: State,
    pub fingerprint: String,
    /// The policy file that the copy was printed from, where one has its fingerprint.
    pub file: Option<String>,
    pub title: Option<String>,
    pub edition: Option<u32>,
    /// The policy file of the edition that is in force in its place.
    pub in_force_instead: Option<String>,
    /// Why, each a sentence.
    pub why: Vec<String>,
    /// What to do with the paper, one or two sentences.
    pub what_to_do: String,
}

/// `kept` is to hold the policy with the fingerprint of the copy and every one that [`may_be_of`] the same.
pub fn answer(code: &Code, kept: &[Kept]) -> Answer {
    let found = kept.iter().find(|kept| kept.checked.fingerprint == code.fingerprint);
    match found {
        Some(found) => known(found, kept),
        None => unknown(code, kept),
    }
}

/// Whether a policy may be another edition of what `code` was printed from; `found`: the paper that has its fingerprint.
pub fn may_be_of(code: &Code, found: Option<&Paper>, paper: &Paper) -> bool {
    match found {
        Some(found) => is_same(found, paper),
        None => !code.title.is_empty() && Code::of(paper, "").title.eq_ignore_ascii_case(&code.title),
    }
}

fn is_same(one: &Paper, other: &Paper) -> bool {
    one.identity().is_some_and(|identity| other.identity() == Some(identity))
}

fn paper<'a>(kept: &Kept<'a>) -> &'a Paper {
    &kept.checked.reading.policy.paper
}

/// The edition of these that is in force, with the highest number.
fn current<'a, 'b>(kept: impl Iterator<Item = &'b Kept<'a>>) -> Option<&'b Kept<'a>>
where
    'a: 'b,
{
    kept.filter(|kept| standing(kept.checked) == Standing::InForce).max_by_key(|kept| paper(kept).edition)
}

fn known(found: &Kept, kept: &[Kept]) -> Answer {
    let of = paper(found);
    let others = || {
        let is_other = |kept: &&Kept| kept.checked.fingerprint != found.checked.fingerprint && is_same(of, paper(kept));
        kept.iter().filter(is_other)
    };
    let mut answer = Answer {
        state: State::InForce,
        fingerprint: found.checked.fingerprint.clone(),
        file: Some(found.file.to_owned()),
        title: of.title.clone(),
        edition: of.edition,
        in_force_instead: None,
        why: Vec::new(),
        what_to_do: "Keep using this copy.".to_owned(),
    };
    let replaces = |kept: &&Kept| {
        paper(kept).edition > of.edition || of.edition.is_some_and(|number| paper(kept).replaces == Some(number))
    };
    if let Some(later) = current(others().filter(replaces)) {
        superseded(&mut answer, later);
        return answer;
    }
    let twin = others().find(|kept| paper(kept).edition == of.edition && standing(kept.checked) == Standing::InForce);
    let standing = standing(found.checked);
    answer.state = State::of(&standing);
    match standing {
        Standing::InForce => {
            if let Some(twin) = twin {
                answer.state = State::Unknown;
                answer.why.push(format!("{} bears the same edition number and says something else.", twin.file));
                answer.what_to_do = ask("Do not work from this copy until it is known which of the two holds.", of);
            }
        }
        Standing::NotYet(day) => {
            answer.why.push(format!("It holds from {day}."));
            answer.what_to_do = "Keep this copy back until that day.".to_owned();
            answer.in_force_instead = current(others()).map(|kept| kept.file.to_owned());
        }
        Standing::Withdrawn(day) => withdrawn(&mut answer, day, of),
        Standing::Draft(reasons) => {
            answer.why = reasons.into_iter().map(Reason::sentence).collect();
            answer.in_force_instead = current(others()).map(|kept| kept.file.to_owned());
            answer.what_to_do = ask("Do not work from this copy: take it down.", of);
        }
    }
    answer
}

fn withdrawn(answer: &mut Answer, day: Day, of: &Paper) {
    answer.why.push(format!("It no longer holds since {day}, and nothing has replaced it."));
    answer.what_to_do = ask("Take this copy down.", of);
}

fn superseded(answer: &mut Answer, later: &Kept) {
    answer.state = State::Superseded;
    answer.why.push(match paper(later).edition {
        Some(number) => format!("Edition {number} has replaced it."),
        None => format!("{} has replaced it.", later.file),
    });
    answer.in_force_instead = Some(later.file.to_owned());
    answer.what_to_do = format!("Take this copy down and hang one of {}.", later.file);
}

/// No policy has the fingerprint: what the code says of itself can only speak against the copy.
fn unknown(code: &Code, kept: &[Kept]) -> Answer {
    let mut answer = Answer {
        state: State::Unknown,
        fingerprint: code.fingerprint.clone(),
        file: None,
        title: Some(code.title.clone()).filter(|title| !title.is_empty()),
        edition: code.edition,
        in_force_instead: None,
        why: vec!["No policy of this folder has the fingerprint.".to_owned()],
        what_to_do: "Do not work from this copy: take it down, and ask whoever keeps the policies.".to_owned(),
    };
    let Some(now) = current(kept.iter().filter(|kept| may_be_of(code, None, paper(kept)))) else { return answer };
    match (code.edition, paper(now).edition) {
        (Some(printed), Some(holds)) if printed < holds => superseded(&mut answer, now),
        (Some(printed), Some(holds)) if printed == holds => {
            answer.why.push(format!("{} bears the same edition number and says something else.", now.file));
            answer.in_force_instead = Some(now.file.to_owned());
        }
        _ => answer.in_force_instead = Some(now.file.to_owned()),
    }
    answer
}

/// The sentence, and whom to ask.
fn ask(sentence: &str, paper: &Paper) -> String {
    match &paper.owner {
        Some(owner) => format!("{sentence} Ask {owner} what holds."),
        None => format!("{sentence} Ask whoever keeps the policies what holds."),
    }
}
