//! What a case can differ in, and the conditions built from it.

use serde::Serialize;

use super::{ItemId, QuestionId};

/// Something that is so or is not so for the whole of a case.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Fact {
    /// As it is told to people: `apron is soiled`, `splash is likely`.
    pub words: String,
    pub kind: FactKind,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum FactKind {
    /// Answered beforehand, by `ask`.
    Asked(QuestionId),
    /// Found by looking. `item` where the subject is a piece of kit; `state`: torn, soiled, clean to see …
    Found { item: Option<ItemId>, subject: String, state: String },
    /// `ITEM is supplied`
    Supplied(ItemId),
}

impl Fact {
    /// Whether the fact speaks of visible soil on the hands or on what covers them. `Some(true)`: it is soil when the
    /// fact holds (`hands are soiled`); `Some(false)`: it is soil when the fact does not hold (`hands are clean to see`).
    pub fn tells_of_soil(&self) -> Option<bool> {
        let FactKind::Found { state, .. } = &self.kind else { return None };
        match state.as_str() {
            "soiled" | "visibly soiled" | "dirty" | "visibly dirty" => Some(true),
            "clean" | "clean to see" | "visibly clean" => Some(false),
            _ => None,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Literal {
    pub fact: super::FactId,
    pub holds: bool,
}

/// Alternatives of conjunctions. Always: one alternative with nothing in it. Never: no alternative.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Guard {
    pub any: Vec<Vec<Literal>>,
}

impl Guard {
    pub fn always() -> Guard {
        Guard { any: vec![Vec::new()] }
    }

    pub fn is_always(&self) -> bool {
        self.any.iter().any(Vec::is_empty)
    }

    pub fn and(&self, other: &Guard) -> Guard {
        let mut any = Vec::new();
        for left in &self.any {
            for right in &other.any {
                let mut all: Vec<Literal> = left.iter().chain(right).copied().collect();
                all.sort();
                all.dedup();
                let contradicts = all.windows(2).any(|pair| pair[0].fact == pair[1].fact);
                if !contradicts && !any.contains(&all) {
                    any.push(all);
                }
            }
        }
        Guard { any }
    }

    pub fn not(&self) -> Guard {
        self.any.iter().fold(Guard::always(), |so_far, all| {
            let denied = all.iter().map(|l| vec![Literal { fact: l.fact, holds: !l.holds }]).collect();
            so_far.and(&Guard { any: denied })
        })
    }
}
