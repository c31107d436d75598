//! What makes two statements of two texts the same one: what kind they are and what they name.
//!
//! In: statements. Out: how alike they are. Must never look at where they stand.

use std::collections::BTreeSet;
use std::mem::discriminant;

use crate::syntax::tree::{Name, Sentence, Statement, Target, Verb, What};
use crate::syntax::{Standing, standing};

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Likeness {
    /// Kind and name: two statements with the same are the same one, unless it is said of many.
    pub key: String,
    /// The kind alone.
    pub kind: String,
    /// What a step is about: an item, a place.
    about: BTreeSet<String>,
    words: Vec<String>,
    pub order: Order,
    /// Where it stands among those that two people put in at the same place, if their order is no decision.
    pub rank: (u8, String),
    /// Said many times over, as hand cleaning is: the key alone tells nothing.
    pub is_common: bool,
}

#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Order {
    Free,
    /// It matters among those of the same group.
    Matters(String),
}

impl Likeness {
    pub fn of(what: &What, says: &str) -> Likeness {
        let What::Statement(statement) = what else {
            let kind = "unread".to_owned();
            return Likeness::new(kind.clone(), format!("{kind} {says}"), says, Order::Matters(STEPS.into()), 0);
        };
        let mut kind = format!("{:?}", discriminant(statement));
        let name = match statement {
            Statement::Step(sentence) => {
                kind = format!("{kind} {:?}", discriminant(&sentence.verb));
                format!("{} {}", sentence.role.text, about(sentence).join(", "))
            }
            _ => name(statement, says),
        };
        let rank = match standing(statement, false) {
            Standing::Margin(group) => group as u8,
            _ => 0,
        };
        let mut like = Likeness::new(kind.clone(), format!("{kind} {name}"), says, order(statement), rank);
        if let Statement::Step(sentence) = statement {
            like.about = about(sentence).iter().flat_map(|name| words(name)).collect();
            like.is_common = like.about.is_empty();
        }
        like.is_common |= matches!(statement, Statement::Otherwise | Statement::EndIf | Statement::If(_));
        like
    }

    /// What stands behind the last statement.
    pub fn of_end() -> Likeness {
        Likeness::new("end".into(), "end".into(), "", Order::Free, u8::MAX)
    }

    fn new(kind: String, key: String, says: &str, order: Order, rank: u8) -> Likeness {
        let words = words(says);
        Likeness { key, kind, about: BTreeSet::new(), words, order, rank: (rank, says.to_owned()), is_common: false }
    }

    /// Whether one may have been made from the other, where both stand at the same place and are nothing else.
    pub fn resembles(&self, other: &Likeness) -> bool {
        let is_hole = |like: &Likeness| like.kind == "unread";
        if self.kind != other.kind && !is_hole(self) && !is_hole(other) {
            // Of steps: another verb for the same thing.
            return !self.about.is_empty() && self.about == other.about && self.shares_half(other);
        }
        let of_same = self.about.is_empty() || other.about.is_empty() || !self.about.is_disjoint(&other.about);
        of_same && self.shares_half(other)
    }

    /// Half of their words, in common.
    fn shares_half(&self, other: &Likeness) -> bool {
        let mut left: Vec<&String> = other.words.iter().collect();
        let mut shared = 0;
        for word in &self.words {
            if let Some(at) = left.iter().position(|known| *known == word) {
                left.swap_remove(at);
                shared += 1;
            }
        }
        shared > 0 && 4 * shared >= self.words.len() + other.words.len()
    }
}

const STEPS: &str = "steps";
/// Of a long quoted text the beginning is enough to tell it.
const MOST_WORDS: usize = 60;

fn words(text: &str) -> Vec<String> {
    let words = text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.take(MOST_WORDS).map(str::to_lowercase).collect()
}

fn order(statement: &Statement) -> Order {
    use Statement as S;
    match statement {
        S::Step(_)
        | S::Part(_)
        | S::Hold(_)
        | S::If(_)
        | S::Otherwise
        | S::EndIf
        | S::ThenCarryOn
        | S::ThenStart(_) => Order::Matters(STEPS.into()),
        S::Gives { .. } | S::OtherwiseGives(_) => Order::Matters("levels given".into()),
        // The sequences of a level are played in their order.
        S::Sequence { level, .. } => Order::Matters(format!("sequences of {}", level.text)),
        _ => Order::Free,
    }
}

/// What tells a statement from others of its kind; nothing where there is one of a kind.
fn name(statement: &Statement, says: &str) -> String {
    use Statement as S;
    match statement {
        S::Source { name, .. }
        | S::Hazard(name)
        | S::Place { name, .. }
        | S::Role(name)
        | S::Item { name, .. }
        | S::Surface(name)
        | S::Cleaner { name, .. }
        | S::Container { name, .. }
        | S::Level { name, .. }
        | S::Ask { name, .. }
        | S::Needs(name)
        | S::Forbids(name)
        | S::Confirms { role: name, .. }
        | S::Wears { role: name, .. } => name.text.clone(),
        S::Sequence { title, .. } | S::Contingency { title, .. } => title.text.clone(),
        S::Use(quote) | S::Meets(quote) | S::Part(quote) | S::Hold(quote) | S::ThenStart(quote) => quote.text.clone(),
        S::KeepAway { what, slips, .. } => format!("{} {slips}", what.text),
        S::Gives { answers, .. } => {
            answers.iter().map(|answer| format!("{} {}, ", answer.yes, answer.question.text)).collect()
        }
        S::Outranks { higher, lower } => format!("{}, {}", higher.text, lower.text),
        S::Print { kind, of } => format!("{} {}", kind.text, target(of)),
        S::Copies { place, .. } => place.as_ref().map(|place| place.text.clone()).unwrap_or_default(),
        S::Accept { finding, at, .. } => format!("{} {}", finding.text, at.text),
        S::Way(_) | S::If(_) => says.to_owned(),
        _ => String::new(),
    }
}

fn target(of: &Target) -> &str {
    match of {
        Target::Title(title) => &title.text,
        Target::Name(name) => &name.text,
        Target::Nothing => "",
    }
}

fn about(sentence: &Sentence) -> Vec<&str> {
    let names: Vec<&Name> = match &sentence.verb {
        Verb::PutsOn { item, .. }
        | Verb::PullsUp { item, .. }
        | Verb::Changes { item, .. }
        | Verb::TakesOff { item, .. }
        | Verb::SwitchesOn(item)
        | Verb::SwitchesOff(item)
        | Verb::Checks(item)
        | Verb::GoesTo(item)
        | Verb::Unties(item)
        | Verb::StepsOnto(item)
        | Verb::StepsOff(item)
        | Verb::SitsOn(item)
        | Verb::Opens(item)
        | Verb::Closes(item)
        | Verb::Folds(item)
        | Verb::Puts { item, .. }
        | Verb::Disconnects { item, .. } => vec![item],
        Verb::Wipes { target, .. } | Verb::Sprays { target, .. } => vec![target],
        Verb::Connects { item, to } => vec![item, to],
        Verb::Cuts { item, part, .. } | Verb::Breaks { item, part } => part.iter().chain([item]).collect(),
        Verb::Does(quote) => return vec![&quote.text],
        Verb::CleansHands { .. } | Verb::StandsUp => Vec::new(),
    };
    sentence.verb.helped().into_iter().chain(names).map(|name| name.text.as_str()).collect()
}
