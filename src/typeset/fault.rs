//! Why an aid cannot be set, in words for the person who asked for it.

use super::advice::Advice;
use super::sizes;
use crate::aids::plan::{Aid, Body};
use crate::policy::PaperSize;

/// One aid that is not made. The parts are separate data, as a finding's are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The aid's file name without ending.
    pub file: String,
    /// `side-room.ppe line 12`
    pub asked_at: String,
    /// At most 60 characters; stands alone in a list.
    pub title: String,
    pub message: String,
    pub way_out: String,
}

impl std::fmt::Display for Fault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}. {} {}", self.asked_at, self.title, self.message, self.way_out)
    }
}

impl std::error::Error for Fault {}

/// What went wrong, before the aid it concerns is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Cause {
    /// A character for which the fonts have no letter, and the words it stands in.
    NoLetter { character: char, words: String },
    /// A piece that is taller than one face: its words.
    TooTall { words: String },
    /// Words that are wider than their column.
    TooWide { words: String },
    /// What hangs and cannot be read from its distance on its paper.
    TooFar { advice: Advice },
    /// A chart with more lanes than the paper is wide.
    TooNarrow { lanes: usize },
    /// The program's own fault: what the typesetter said.
    Ours { said: String },
}

impl Cause {
    /// What lies beyond the typesetter's door broke.
    pub(super) fn stopped() -> Cause {
        Cause::Ours { said: "the typesetter stopped".into() }
    }

    pub(super) fn of(self, aid: &Aid) -> Fault {
        let paper = aid.paper.word();
        let (title, message, way_out) = match self {
            Cause::NoLetter { character, words } => (
                "A character cannot be printed".to_string(),
                format!(
                    "The reader would find a gap in “{}”. The fonts have no letter for {}.",
                    shortened(&words),
                    named(character)
                ),
                "Write it with other letters.".to_string(),
            ),
            Cause::TooTall { words } => (
                format!("One step is too long for a side of {paper}"),
                format!("“{}” would run over the edge and its end would be lost.", shortened(&words)),
                "Shorten it, or print on larger paper.".to_string(),
            ),
            Cause::TooWide { words } => (
                format!("One word is too wide for {paper}"),
                format!("“{}” would run over the edge and its end would be lost.", shortened(&words)),
                "Divide the word, or print on larger paper.".to_string(),
            ),
            Cause::TooFar { advice } => (
                format!("{} cannot be read from {} on {paper}", subject(aid), metres(sizes::distance_mm(aid))),
                format!("The letters of {} would have to be smaller than the eye makes out from there.", aid.file),
                advised(&advice),
            ),
            Cause::TooNarrow { lanes } => (
                format!("The chart is too wide for {paper}"),
                format!("Its figures would be too small to read: it has {lanes} lanes."),
                "Print on larger paper.".to_string(),
            ),
            Cause::Ours { said } => (
                "This aid cannot be set".to_string(),
                format!("This is a fault of the program, not of the policy. It says: {said}."),
                "Please report it together with the policy.".to_string(),
            ),
        };
        Fault { file: aid.file.clone(), asked_at: aid.asked_at.clone(), title, message, way_out }
    }
}

/// `24 steps`, `Door sign`, whatever language the aid is in.
fn subject(aid: &Aid) -> String {
    match &aid.body {
        Body::Steps(steps) => match super::sheet::step_rows(steps).count() {
            1 => "One step".to_string(),
            count => format!("{count} steps"),
        },
        Body::Sign(_) => "Door sign".to_string(),
        Body::Area(_) => "Area plan".to_string(),
        Body::Choice(_) => "Choice of level".to_string(),
        _ => aid.kind.clone(),
    }
}

/// `Print it on two sheets of A2 or one of A1, or let it be read from 1.5 metres.`
fn advised(advice: &Advice) -> String {
    let on = |(paper, sheets): &(PaperSize, usize)| match sheets {
        1 => format!("one sheet of {}", paper.word()),
        many => format!("{many} sheets of {}", paper.word()),
    };
    let papers: Vec<String> = advice.papers.iter().map(on).collect();
    match (papers.is_empty(), advice.nearer_mm) {
        (true, None) => "Say it in fewer words.".to_string(),
        (true, Some(near)) => format!("Let it be read from {}, or say it in fewer words.", metres(near)),
        (false, None) => format!("Print it on {}.", papers.join(" or ")),
        (false, Some(near)) => format!("Print it on {}, or let it be read from {}.", papers.join(" or "), metres(near)),
    }
}

/// `1.5 metres`
fn metres(millimetres: u32) -> String {
    let metres = format!("{:.3}", f64::from(millimetres) / 1000.0);
    match metres.trim_end_matches('0').trim_end_matches('.') {
        "1" => "1 metre".to_string(),
        metres => format!("{metres} metres"),
    }
}

/// `→ (U+2192)`; what is invisible is told by its number only.
fn named(character: char) -> String {
    let number = format!("U+{:04X}", u32::from(character));
    if character.is_control() || character.is_whitespace() || super::letters::is_invisible(character) {
        format!("the invisible character {number}")
    } else {
        format!("{character} ({number})")
    }
}

fn shortened(words: &str) -> String {
    let mut short: String = words.chars().filter(|c| !c.is_control()).take(60).collect();
    if words.chars().count() > 60 {
        short.push('…');
    }
    short
}
