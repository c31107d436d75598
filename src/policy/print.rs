//! An aid to print.

use serde::Serialize;

use super::{LevelId, PlaceId, RoleId, SequenceId};
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

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AidKind {
    ObserverCard,
    WearerCard,
    HelperCard,
    Poster,
    EventCard,
    ChoicePoster,
    KitList,
    TrolleyCheck,
    DoorSign,
    AreaPlan,
    EntryLog,
    CompetenceRecord,
    ObservationForm,
    IncidentForm,
    WalkChart,
    /// What people do otherwise than in the edition before; made of two editions.
    ChangeSlip,
    /// Two editions for those who sign.
    ReviewSheet,
    /// All aids of a level, a place or a role.
    Pack,
}

/// What one kind of aid is called and what it can be of.
pub struct KindOfAid {
    pub kind: AidKind,
    /// After `print`; the first is the one that is written tidily.
    pub words: &'static [&'static str],
    pub of: &'static [Of],
    pub paper: PaperSize,
    /// A line that asks for one.
    pub example: &'static str,
}

/// What can stand after `of`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// A sequence or a contingency, by its title.
    Title,
    /// A contingency, by its title.
    Event,
    Level,
    /// A place or a role.
    PlaceOrRole,
    /// Nothing: the aid is of the whole policy.
    Policy,
}

/// Every kind, in the order in which a pack holds them.
#[rustfmt::skip]
pub const KINDS: [KindOfAid; 18] = [
    KindOfAid { kind: AidKind::ChoicePoster, words: &["choice poster"], of: &[Of::Policy], paper: PaperSize::A3, example: "print choice poster" },
    KindOfAid { kind: AidKind::AreaPlan, words: &["area plan"], of: &[Of::Policy, Of::Level], paper: PaperSize::A3, example: "print area plan" },
    KindOfAid { kind: AidKind::DoorSign, words: &["door sign"], of: &[Of::Level, Of::Policy], paper: PaperSize::A3, example: "print door sign of LEVEL" },
    KindOfAid { kind: AidKind::Poster, words: &["poster"], of: &[Of::Title], paper: PaperSize::A4, example: "print poster of \"Taking off\"" },
    KindOfAid { kind: AidKind::ObserverCard, words: &["observer card"], of: &[Of::Title], paper: PaperSize::A6, example: "print observer card of \"Taking off\"" },
    KindOfAid { kind: AidKind::WearerCard, words: &["wearer card"], of: &[Of::Title], paper: PaperSize::A6, example: "print wearer card of \"Taking off\"" },
    KindOfAid { kind: AidKind::HelperCard, words: &["helper card"], of: &[Of::Title], paper: PaperSize::A6, example: "print helper card of \"Taking off\"" },
    KindOfAid { kind: AidKind::EventCard, words: &["event card"], of: &[Of::Event, Of::Policy], paper: PaperSize::A6, example: "print event card of \"Splash to the face\"" },
    KindOfAid { kind: AidKind::KitList, words: &["kit list"], of: &[Of::Level, Of::Policy], paper: PaperSize::A4, example: "print kit list of LEVEL" },
    KindOfAid { kind: AidKind::TrolleyCheck, words: &["trolley check"], of: &[Of::Level, Of::Policy], paper: PaperSize::A4, example: "print trolley check of LEVEL" },
    KindOfAid { kind: AidKind::EntryLog, words: &["entry and exit log", "entry log", "exit log"], of: &[Of::Level, Of::Policy], paper: PaperSize::A4, example: "print entry and exit log of LEVEL" },
    KindOfAid { kind: AidKind::CompetenceRecord, words: &["competence record"], of: &[Of::Title, Of::Level, Of::Policy], paper: PaperSize::A4, example: "print competence record of LEVEL" },
    KindOfAid { kind: AidKind::ObservationForm, words: &["observation form"], of: &[Of::Title, Of::Level, Of::Policy], paper: PaperSize::A4, example: "print observation form of LEVEL" },
    KindOfAid { kind: AidKind::IncidentForm, words: &["incident form"], of: &[Of::Policy, Of::Level], paper: PaperSize::A4, example: "print incident form" },
    KindOfAid { kind: AidKind::WalkChart, words: &["walk chart"], of: &[Of::Title, Of::Level], paper: PaperSize::A4, example: "print walk chart of \"Taking off\"" },
    KindOfAid { kind: AidKind::Pack, words: &["pack"], of: &[Of::Level, Of::PlaceOrRole, Of::Policy], paper: PaperSize::A3, example: "print pack of LEVEL" },
    KindOfAid { kind: AidKind::ChangeSlip, words: &["change slip"], of: &[Of::Policy], paper: PaperSize::A5, example: "print change slip" },
    KindOfAid { kind: AidKind::ReviewSheet, words: &["review sheet"], of: &[Of::Policy], paper: PaperSize::A4, example: "print review sheet" },
];

impl AidKind {
    /// Whether it is made of two editions, by a comparison.
    pub fn is_of_two_editions(self) -> bool {
        matches!(self, AidKind::ChangeSlip | AidKind::ReviewSheet)
    }

    /// Its row of the table; every kind has one.
    pub fn about(self) -> &'static KindOfAid {
        let found = KINDS.iter().find(|row| row.kind == self);
        found.unwrap_or(&KINDS[0])
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Subject {
    Sequence(SequenceId),
    /// By its index among the policy's contingencies.
    Contingency(usize),
    Level(LevelId),
    Place(PlaceId),
    Role(RoleId),
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
