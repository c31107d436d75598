//! One change between two editions, and the edits of the view that it stands for.

use serde::Serialize;

use super::field::Field;
use super::view::{Entry, Kind, Line, Value, Word};
use super::weights::WeightRule;

/// What is done to something. One change bears one name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum What {
    Added,
    TakenOut,
    Moved,
    Renamed,
    Act,
    Role,
    Item,
    Grip,
    Place,
    Container,
    Cleaner,
    Strength,
    Time,
    Condition,
    Hold,
    Coverage,
    Margin,
    KitList,
    Level,
    Choice,
    Contingency,
    Reworded,
    Reason,
    Exception,
    Printing,
    DocumentControl,
}

impl What {
    pub fn words(self) -> &'static str {
        match self {
            What::Added => "added",
            What::TakenOut => "taken out",
            What::Moved => "moved",
            What::Renamed => "renamed",
            What::Act => "done otherwise",
            What::Role => "given to another role",
            What::Item => "another item",
            What::Grip => "another grip",
            What::Place => "another place",
            What::Container => "another container",
            What::Cleaner => "another cleaner",
            What::Strength => "another strength",
            What::Time => "another time",
            What::Condition => "another condition",
            What::Hold => "another hold point",
            What::Coverage => "another coverage",
            What::Margin => "another margin",
            What::KitList => "another kit list",
            What::Level => "another level",
            What::Choice => "another choice of level",
            What::Contingency => "another contingency",
            What::Reworded => "reworded",
            What::Reason => "another reason",
            What::Exception => "another accepted finding",
            What::Printing => "printed otherwise",
            What::DocumentControl => "document control",
        }
    }
}

/// What a change does to people's protection, gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Protection is weaker than before.
    Weakens,
    /// Protection is stronger than before.
    Strengthens,
    /// People do something otherwise and have to be briefed.
    ChangesPractice,
    /// Nobody does anything otherwise.
    Editorial,
}

impl Weight {
    pub const ALL: [Weight; 4] = [Weight::Weakens, Weight::Strengthens, Weight::ChangesPractice, Weight::Editorial];

    pub fn words(self) -> &'static str {
        match self {
            Weight::Weakens => "weakens protection",
            Weight::Strengthens => "strengthens protection",
            Weight::ChangesPractice => "changes practice",
            Weight::Editorial => "editorial",
        }
    }

    /// The same change seen from the other side.
    pub fn mirrored(self) -> Weight {
        match self {
            Weight::Weakens => Weight::Strengthens,
            Weight::Strengthens => Weight::Weakens,
            same => same,
        }
    }
}

/// Where a line stands in one of the editions.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct At {
    /// The sequence or contingency.
    pub sequence: String,
    /// `step 4`, `the hold “Seal”`
    pub name: String,
    /// The line's own words.
    pub words: String,
    /// Its place among the lines of the sequence, from 0.
    #[serde(skip)]
    pub line: usize,
}

#[derive(Clone, Debug, Serialize)]
pub struct Change {
    pub what: What,
    pub weight: Weight,
    /// The rule that gave the weight.
    pub rule: &'static WeightRule,
    pub kind: Kind,
    /// The name of what is changed, as the new edition has it (the old one, where it is taken out).
    pub of: String,
    /// Where a line is concerned: where it stood, and where it stands.
    pub before_at: Option<At>,
    pub after_at: Option<At>,
    /// What is changed about it; none where all of it is new, gone, moved or renamed.
    pub field: Option<Field>,
    pub before: Vec<String>,
    pub after: Vec<String>,
    /// One line for a committee's paper.
    pub sentence: String,
    /// The reason that the new edition gives beneath the line.
    pub reason: Option<String>,
    #[serde(skip)]
    pub edits: Vec<Edit>,
}

impl Change {
    /// Where the line stands in the new edition, or stood in the old one.
    pub fn at(&self) -> Option<&At> {
        self.after_at.as_ref().or(self.before_at.as_ref())
    }
}

/// The name by which an entry is known in a view.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key {
    pub kind: Kind,
    pub name: String,
}

impl Key {
    pub fn of(entry: &Entry) -> Key {
        Key { kind: entry.kind, name: entry.name.key.clone() }
    }
}

/// The smallest parts that changes are made of: done to the view of the old edition, in any order, they give the new one.
/// Places are those in the new edition unless they are called old.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Everywhere.
    Rename(Rename),
    AddEntry {
        at: usize,
        entry: Entry,
    },
    TakeOutEntry(Key),
    MoveEntry {
        key: Key,
        to: usize,
    },
    SetField {
        key: Key,
        field: Field,
        value: Value,
    },
    AddLine {
        key: Key,
        at: usize,
        line: Line,
    },
    TakeOutLine {
        key: Key,
        old: usize,
    },
    MoveLine {
        key: Key,
        old: usize,
        to_key: Key,
        to: usize,
    },
    SetLine {
        key: Key,
        at: usize,
        field: Field,
        value: Value,
    },
}

/// A name, and the name that takes its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rename {
    pub of: Named,
    pub from: Word,
    pub to: Word,
}

/// What bears a name that other lines speak of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Named {
    Entry(Kind),
    /// Within the sequence of this place in the old policy.
    Part(usize),
    Hold(usize),
}
