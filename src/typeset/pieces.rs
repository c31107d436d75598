//! An aid in pieces: what is never divided, in the order in which it is read.
//!
//! In: an aid's body. Out: pieces that name a place in the body, never its words.

use serde::Serialize;

use crate::aids::plan::{Aid, Body, Row, Steps};

/// One piece. The templates draw it from the aid's own words.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub(super) enum Piece {
    /// The band at the top of a draft. `first`: on the first face, where it is read aloud and gives the reasons.
    Draft {
        first: bool,
    },
    Head {
        first: bool,
        page: String,
    },
    Foot {
        first: bool,
        page: String,
    },
    /// The name of an item at the head of its line.
    Name {
        layer: usize,
    },
    Intro,
    /// The title of a part.
    Band {
        band: usize,
        continued: bool,
    },
    /// `ruled`: a hair above it. `counted`: it says how many items are still on, since that has changed.
    Row {
        band: usize,
        row: usize,
        ruled: bool,
        counted: bool,
    },
    /// How a drill goes on after its last step.
    Ending {
        ending: usize,
    },
    /// What a walk chart says beneath its rows: the least of each lane, and by which touches it comes about.
    Sums,
    Notes,
}

/// What a row is, as far as space is concerned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Weight {
    Intro,
    Title,
    Plain,
    Quiet,
    Hold,
    /// Stands beneath all rows and is not spread.
    Last,
}

/// A piece of the body, and what it is.
#[derive(Clone, Debug)]
pub(super) struct Part {
    pub piece: Piece,
    pub weight: Weight,
    /// Index of the band it belongs to.
    pub band: usize,
    /// The step's number, where it is a step.
    pub number: Option<u32>,
}

pub(super) fn body(aid: &Aid) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut add = |piece, weight, band, number| parts.push(Part { piece, weight, band, number });
    match &aid.body {
        Body::Steps(steps) => {
            if !steps.intro.is_empty() {
                add(Piece::Intro, Weight::Intro, 0, None);
            }
            let mut still_on = None;
            for (band, content) in steps.bands.iter().enumerate() {
                if !content.title.is_empty() {
                    add(Piece::Band { band, continued: false }, Weight::Title, band, None);
                }
                // A hair stands between two steps, and above the first after the introduction.
                let mut above = if band == 0 && !steps.intro.is_empty() && content.title.is_empty() {
                    Weight::Plain
                } else {
                    Weight::Title
                };
                for (row, content) in content.rows.iter().enumerate() {
                    let (weight, number) = weigh(content);
                    let ruled = above == Weight::Plain && weight == Weight::Plain;
                    let now = match content {
                        Row::Step(step) if !step.quiet => step.still_on.as_ref().map(|still_on| still_on.on),
                        _ => None,
                    };
                    let counted = now.is_some() && now != still_on;
                    still_on = now.or(still_on);
                    add(Piece::Row { band, row, ruled, counted }, weight, band, number);
                    above = weight;
                }
            }
            for ending in 0..steps.endings.len() {
                add(Piece::Ending { ending }, Weight::Plain, steps.bands.len().saturating_sub(1), None);
            }
        }
        Body::Kit(kit) => {
            if !kit.intro.is_empty() {
                add(Piece::Intro, Weight::Intro, 0, None);
            }
            let supplies = (!kit.supplies.is_empty()).then_some(kit.supplies.len());
            let groups = kit.roles.iter().map(|role| role.rows.len()).chain(supplies);
            for (band, rows) in groups.enumerate() {
                add(Piece::Band { band, continued: false }, Weight::Title, band, None);
                for row in 0..rows {
                    add(Piece::Row { band, row, ruled: row > 0, counted: false }, Weight::Plain, band, None);
                }
            }
        }
        Body::Chart(chart) => {
            for (band, content) in chart.bands.iter().enumerate() {
                if !content.title.is_empty() {
                    add(Piece::Band { band, continued: false }, Weight::Title, band, None);
                }
                for row in 0..content.rows.len() {
                    add(Piece::Row { band, row, ruled: false, counted: false }, Weight::Plain, band, None);
                }
            }
            let last = chart.bands.len().saturating_sub(1);
            if !chart.people.is_empty() {
                add(Piece::Sums, Weight::Last, last, None);
            }
            add(Piece::Notes, Weight::Last, last, None);
        }
    }
    parts
}

fn weigh(row: &Row) -> (Weight, Option<u32>) {
    match row {
        Row::Step(step) if step.quiet => (Weight::Quiet, Some(step.number)),
        Row::Step(step) => (Weight::Plain, Some(step.number)),
        Row::Hold(_) => (Weight::Hold, None),
    }
}

/// The words of a piece that are told when it does not fit.
pub(super) fn words(aid: &Aid, piece: &Piece) -> String {
    let steps = |take: fn(&Steps) -> Option<&str>| match &aid.body {
        Body::Steps(steps) => take(steps).unwrap_or_default().to_string(),
        Body::Kit(kit) => kit.intro.clone(),
        Body::Chart(chart) => chart.intro.clone(),
    };
    match (piece, &aid.body) {
        (Piece::Row { band, row, .. }, Body::Steps(steps)) => {
            match steps.bands.get(*band).and_then(|band| band.rows.get(*row)) {
                Some(Row::Step(step)) => step.act.clone(),
                Some(Row::Hold(hold)) => hold.title.clone(),
                None => String::new(),
            }
        }
        (Piece::Row { band, row, .. }, Body::Kit(kit)) => {
            let rows = kit.roles.get(*band).map_or(&kit.supplies, |role| &role.rows);
            rows.get(*row).map(|row| row.name.clone()).unwrap_or_default()
        }
        (Piece::Row { band, row, .. }, Body::Chart(chart)) => {
            let row = chart.bands.get(*band).and_then(|band| band.rows.get(*row));
            row.map(|row| row.act.clone()).unwrap_or_default()
        }
        (Piece::Band { band, .. }, Body::Chart(chart)) => {
            chart.bands.get(*band).map(|band| band.title.clone()).unwrap_or_default()
        }
        (Piece::Notes, Body::Chart(chart)) => chart.notes.join(" "),
        (Piece::Band { band, .. }, Body::Steps(steps)) => {
            steps.bands.get(*band).map(|band| band.title.clone()).unwrap_or_default()
        }
        (Piece::Band { band, .. }, Body::Kit(kit)) => {
            kit.roles.get(*band).map_or(&kit.supplies_title, |role| &role.role).clone()
        }
        (Piece::Intro, _) => steps(|steps| Some(&steps.intro)),
        (Piece::Ending { .. }, _) => steps(|steps| steps.endings.first().map(String::as_str)),
        (Piece::Draft { .. }, _) => aid.draft.join(" "),
        (Piece::Foot { .. }, _) => aid.control.caution.clone(),
        (Piece::Head { .. } | Piece::Name { .. } | Piece::Sums | Piece::Notes, _) => aid.title.clone(),
    }
}
