//! An aid to print.

use serde::Serialize;

use super::{LevelId, SequenceId};
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Print {
    pub kind: AidKind,
    pub subject: Subject,
    pub paper: PaperSize,
    /// `read from N metres`, in millimetres.
    pub read_from_mm: Option<u32>,
    /// How many, and for where.
    pub copies: Vec<(u32, Option<String>)>,
    pub laminated: bool,
    pub both_sides: bool,
    #[serde(skip)]
    pub span: Span,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AidKind {
    ObserverCard,
    WearerCard,
    HelperCard,
    Poster,
    KitList,
    WalkChart,
    /// A kind that the language knows and this edition of the program does not make yet, by its words.
    Later(&'static str),
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Subject {
    Sequence(SequenceId),
    /// By its index among the policy's contingencies.
    Contingency(usize),
    Level(LevelId),
    Policy,
}

/// ISO 216 sizes, upright.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum PaperSize {
    A0,
    A1,
    A2,
    A3,
    A4,
    A5,
    A6,
    A7,
}

impl PaperSize {
    pub const ALL: [PaperSize; 8] = [
        PaperSize::A0,
        PaperSize::A1,
        PaperSize::A2,
        PaperSize::A3,
        PaperSize::A4,
        PaperSize::A5,
        PaperSize::A6,
        PaperSize::A7,
    ];

    pub fn word(self) -> &'static str {
        ["A0", "A1", "A2", "A3", "A4", "A5", "A6", "A7"][self as usize]
    }

    pub fn from_word(word: &str) -> Option<PaperSize> {
        PaperSize::ALL.into_iter().find(|size| size.word().eq_ignore_ascii_case(word))
    }

    /// Width and height in millimetres (ISO 216).
    pub fn millimetres(self) -> (u32, u32) {
        [(841, 1189), (594, 841), (420, 594), (297, 420), (210, 297), (148, 210), (105, 148), (74, 105)][self as usize]
    }
}
