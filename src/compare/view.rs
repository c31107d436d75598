//! A policy laid out for comparison: entries with fields, and sequences with lines, all in words.
//!
//! In: a policy. Out: its [`View`]. Two policies have the same view where they say the same, however they are laid out. Must
//! never hold a place in the text, nor an identifier's number.

use serde::{Serialize, Serializer};

use super::field::Field;
use crate::policy::meaning::folded;

/// What an entry is of, in the order in which changes are told.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    Sequence,
    Contingency,
    Level,
    Kit,
    Choice,
    Question,
    Item,
    Cleaner,
    Container,
    Surface,
    Role,
    Place,
    Way,
    Hazard,
    Exception,
    Deviation,
    Print,
    Source,
    Paper,
}

impl Kind {
    pub fn word(self) -> &'static str {
        match self {
            Kind::Sequence => "sequence",
            Kind::Contingency => "contingency",
            Kind::Level => "level",
            Kind::Kit => "kit list",
            Kind::Choice => "choice of level",
            Kind::Question => "question",
            Kind::Item => "item",
            Kind::Cleaner => "cleaner",
            Kind::Container => "container",
            Kind::Surface => "surface",
            Kind::Role => "role",
            Kind::Place => "place",
            Kind::Way => "way",
            Kind::Hazard => "hazard",
            Kind::Exception => "accepted finding",
            Kind::Deviation => "reason for departing",
            Kind::Print => "aid to print",
            Kind::Source => "source",
            Kind::Paper => "document control",
        }
    }

    /// Whether the order of its entries is printed or played.
    pub fn is_ordered(self) -> bool {
        matches!(self, Kind::Sequence | Kind::Question)
    }
}

/// A word or text: what it is known by, and how it is shown.
#[derive(Clone, Debug)]
pub struct Word {
    pub key: String,
    pub shown: String,
}

impl Word {
    /// A name outside quotes: case and spacing mean nothing.
    pub fn name(name: &str) -> Word {
        Word { key: folded(name), shown: name.to_owned() }
    }

    /// Quoted words: every letter counts.
    pub fn text(text: impl Into<String>) -> Word {
        let shown = text.into();
        Word { key: shown.clone(), shown }
    }
}

impl PartialEq for Word {
    fn eq(&self, other: &Word) -> bool {
        self.key == other.key
    }
}

impl Eq for Word {}

impl Serialize for Word {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.shown)
    }
}

/// What a field says: nothing, one word, or several. Where order means nothing they are sorted.
pub type Value = Vec<Word>;

/// Fields in the order of [`Field`]; those that say nothing are left out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Fields(Vec<(Field, Value)>);

impl Fields {
    pub fn set(&mut self, field: Field, mut value: Value) {
        if field.is_set() {
            value.sort_by(|a, b| a.key.cmp(&b.key));
        }
        let at = self.0.partition_point(|(known, _)| *known < field);
        let is_there = self.0.get(at).is_some_and(|(known, _)| *known == field);
        match (is_there, value.is_empty()) {
            (true, true) => drop(self.0.remove(at)),
            (true, false) => self.0[at].1 = value,
            (false, true) => {}
            (false, false) => self.0.insert(at, (field, value)),
        }
    }

    pub fn get(&self, field: Field) -> &[Word] {
        self.0.iter().find(|(known, _)| *known == field).map_or(&[], |(_, value)| value)
    }

    /// The first word of a field.
    pub fn one(&self, field: Field) -> Option<&Word> {
        self.get(field).first()
    }

    pub fn iter(&self) -> impl Iterator<Item = &(Field, Value)> {
        self.0.iter()
    }

    /// Every field of which the two say different things, with what each says.
    pub fn differences<'a>(&'a self, other: &'a Fields) -> Vec<(Field, &'a [Word], &'a [Word])> {
        let mut fields: Vec<Field> = self.0.iter().chain(&other.0).map(|(field, _)| *field).collect();
        fields.sort();
        fields.dedup();
        let both = fields.into_iter().map(|field| (field, self.get(field), other.get(field)));
        both.filter(|(_, before, after)| before != after).collect()
    }
}

/// One thing that the policy says.
#[derive(Clone, Debug)]
pub struct Entry {
    pub kind: Kind,
    pub name: Word,
    pub fields: Fields,
    /// The steps, holds and headings of a sequence or contingency.
    pub lines: Vec<Line>,
}

/// Lines are compared by what they say; their words and numbers are only shown.
#[derive(Clone, Debug, Default)]
pub struct Line {
    pub fields: Fields,
    /// As written, without what stands beneath it.
    pub words: String,
    /// The number printed; holds and headings have none.
    pub number: Option<u32>,
}

impl Line {
    pub fn key(&self, field: Field) -> &str {
        self.fields.one(field).map_or("", |word| &word.key)
    }

    /// A heading; all else is a step or a hold.
    pub fn is_heading(&self) -> bool {
        self.key(Field::Act) == super::lines::HEADING
    }

    pub fn is_hold(&self) -> bool {
        self.key(Field::Act) == super::lines::HOLD
    }

    /// `step 4`, `the hold “Seal”`, `the part “Face”`
    pub fn name(&self) -> String {
        let title = self.fields.one(Field::Object).map_or("", |word| &word.shown);
        match self.number {
            _ if self.is_heading() => format!("the part “{title}”"),
            _ if self.is_hold() => format!("the hold “{title}”"),
            Some(number) => format!("step {number}"),
            None => "a step".to_owned(),
        }
    }
}

impl PartialEq for Line {
    fn eq(&self, other: &Line) -> bool {
        self.fields == other.fields
    }
}

impl PartialEq for Entry {
    fn eq(&self, other: &Entry) -> bool {
        (self.kind, &self.name, &self.fields, &self.lines) == (other.kind, &other.name, &other.fields, &other.lines)
    }
}

/// All that a policy says: by kind, then in the policy's order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct View {
    pub entries: Vec<Entry>,
}

impl View {
    pub fn of(&self, kind: Kind) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(move |entry| entry.kind == kind)
    }

    pub fn entry(&self, kind: Kind, key: &str) -> Option<&Entry> {
        self.of(kind).find(|entry| entry.name.key == key)
    }
}
