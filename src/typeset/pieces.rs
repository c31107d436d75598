//! An aid in pieces: what is never divided, in the order in which it is read.
//!
//! In: an aid's body. Out: pieces that name a place in the body, never its words.

use serde::Serialize;

use crate::aids::plan::{Aid, Body, FormRow, Review, ReviewRow, Row, Steps};

/// One piece. The templates draw it from the aid's own words.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub(super) enum Piece {
    /// The band at the top of what is not in force. `first`: on the first face, where it is read aloud and gives the reasons.
    Marking {
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
    /// What a walk chart says beneath its rows: the least of each lane.
    Sums,
    /// What stands beneath everything else: the notes of a chart, of a plan or of a choice; whom to ask; where to sign.
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
    /// A station on a way: room for an arrow above it.
    Station,
    /// The title of a part that begins a face.
    Opening,
    /// A row that stands close to its like and is not spread.
    Close,
    /// A row that is not parted from what stands above it.
    Bound,
    /// Stands beneath all rows and is not spread.
    Last,
}

impl Weight {
    pub fn is_title(self) -> bool {
        matches!(self, Weight::Title | Weight::Opening)
    }
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
    match &aid.body {
        Body::Steps(steps) => of_steps(steps),
        Body::Kit(kit) => {
            let supplies = (!kit.supplies.is_empty()).then_some(kit.supplies.len());
            let groups = kit.roles.iter().map(|role| role.rows.len()).chain(supplies);
            grouped(!kit.intro.is_empty(), Weight::Plain, groups.map(|rows| (true, rows)))
        }
        Body::Chart(chart) => {
            let groups = chart.bands.iter().map(|band| (!band.title.is_empty(), band.rows.len()));
            let mut parts = grouped(false, Weight::Plain, groups);
            let sums = (!chart.people.is_empty()).then_some(Piece::Sums);
            parts.extend(sums.into_iter().chain([Piece::Notes]).map(|piece| last(piece, chart.bands.len())));
            parts
        }
        Body::Form(form) => {
            let groups = form.sections.iter().map(|section| (section.has_head(), section.rows.len()));
            let mut parts = grouped(!form.intro.is_empty(), Weight::Plain, groups);
            for part in &mut parts {
                if part.weight == Weight::Plain && form.sections.get(part.band).is_some_and(|section| section.bound) {
                    part.weight = Weight::Bound;
                }
            }
            parts
        }
        Body::Sign(sign) => {
            let mut parts = grouped(true, Weight::Plain, std::iter::once((false, sign.wear.len())));
            parts.push(last(Piece::Notes, 1));
            parts
        }
        Body::Area(area) => stations(area.places.len(), &area.notes),
        Body::Choice(choice) => stations(choice.rows.len(), &choice.notes),
        Body::Review(review) => of_review(review),
    }
}

fn of_review(review: &Review) -> Vec<Part> {
    let groups = review.sections.iter().map(|section| (true, section.rows.len()));
    let mut parts = grouped(false, Weight::Close, groups);
    for part in &mut parts {
        let begins = review.sections.get(part.band).is_some_and(|section| section.begins);
        if part.weight == Weight::Title && begins {
            part.weight = Weight::Opening;
        }
    }
    parts.push(last(Piece::Notes, review.sections.len() + 1));
    parts
}

/// Groups of rows, each with or without a title.
fn grouped(intro: bool, weight: Weight, groups: impl Iterator<Item = (bool, usize)>) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut add = |piece, weight, band| parts.push(Part { piece, weight, band, number: None });
    if intro {
        add(Piece::Intro, Weight::Intro, 0);
    }
    for (band, (titled, rows)) in groups.enumerate() {
        if titled {
            add(Piece::Band { band, continued: false }, Weight::Title, band);
        }
        for row in 0..rows {
            add(Piece::Row { band, row, ruled: row > 0, counted: false }, weight, band);
        }
    }
    parts
}

/// Stations one beneath the other, and what is said at the end.
fn stations(count: usize, notes: &[String]) -> Vec<Part> {
    let mut parts = grouped(true, Weight::Station, std::iter::once((false, count)));
    parts.extend((!notes.is_empty()).then(|| last(Piece::Notes, 1)));
    parts
}

/// What stands beneath all rows, in the last of so many bands.
fn last(piece: Piece, bands: usize) -> Part {
    Part { piece, weight: Weight::Last, band: bands.saturating_sub(1), number: None }
}

fn of_steps(steps: &Steps) -> Vec<Part> {
    let mut parts = Vec::new();
    let mut add = |piece, weight, band, number| parts.push(Part { piece, weight, band, number });
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
    let told = match (piece, &aid.body) {
        (Piece::Row { band, row, .. }, body) => row_words(body, *band, *row),
        (Piece::Band { band, .. }, body) => band_words(body, *band),
        (Piece::Intro, body) => Some(intro(body)),
        (Piece::Ending { ending }, Body::Steps(steps)) => steps.endings.get(*ending).map(String::as_str),
        (Piece::Foot { .. }, _) => Some(aid.control.caution.as_str()),
        (Piece::Marking { .. }, _) => {
            return aid.marking.iter().map(|marking| marking.reasons.join(" ")).collect();
        }
        (Piece::Notes, Body::Chart(chart)) => return chart.notes.join(" "),
        _ => None,
    };
    told.unwrap_or(&aid.title).to_string()
}

fn intro(body: &Body) -> &str {
    match body {
        Body::Steps(steps) => &steps.intro,
        Body::Kit(kit) => &kit.intro,
        Body::Chart(chart) => &chart.intro,
        Body::Form(form) => &form.intro,
        Body::Sign(sign) => &sign.rule,
        Body::Area(area) => &area.intro,
        Body::Choice(choice) => &choice.intro,
        Body::Review(review) => &review.headline,
    }
}

fn band_words(body: &Body, band: usize) -> Option<&str> {
    match body {
        Body::Steps(steps) => steps.bands.get(band).map(|band| band.title.as_str()),
        Body::Kit(kit) => Some(kit.roles.get(band).map_or(&kit.supplies_title, |role| &role.role)),
        Body::Chart(chart) => chart.bands.get(band).map(|band| band.title.as_str()),
        Body::Form(form) => form.sections.get(band).map(|section| section.title.as_str()),
        Body::Review(review) => review.sections.get(band).map(|section| section.title.as_str()),
        Body::Sign(_) | Body::Area(_) | Body::Choice(_) => None,
    }
}

fn row_words(body: &Body, band: usize, row: usize) -> Option<&str> {
    match body {
        Body::Steps(steps) => match steps.bands.get(band)?.rows.get(row)? {
            Row::Step(step) => Some(&step.act),
            Row::Hold(hold) => Some(&hold.title),
        },
        Body::Kit(kit) => {
            let rows = kit.roles.get(band).map_or(&kit.supplies, |role| &role.rows);
            rows.get(row).map(|row| row.name.as_str())
        }
        Body::Chart(chart) => chart.bands.get(band)?.rows.get(row).map(|row| row.act.as_str()),
        Body::Form(form) => match form.sections.get(band)?.rows.get(row)? {
            FormRow::Fields(fields) => fields.first().map(|field| field.label.as_str()),
            FormRow::Ticks(words) => words.first().map(String::as_str),
            FormRow::Entry(entry) => Some(&entry.words),
        },
        Body::Sign(sign) => sign.wear.get(row).map(|kit| kit.role.as_str()),
        Body::Area(area) => area.places.get(row).map(|place| place.name.as_str()),
        Body::Review(review) => match review.sections.get(band)?.rows.get(row)? {
            ReviewRow::Point(point) => Some(&point.words),
            ReviewRow::Cells(cells) => cells.cells.first().map(String::as_str),
            ReviewRow::Pair(pair) => {
                let cell = pair.row.old.as_ref().or(pair.row.new.as_ref())?;
                cell.words.first().map(|piece| piece.text.as_str())
            }
        },
        Body::Choice(choice) => {
            let row = choice.rows.get(row)?;
            Some(row.asked.first().map_or(&row.level, |answer| &answer.words))
        }
    }
}
