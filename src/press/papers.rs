//! The papers of a job: job ticket, proof check, delivery sheet, recall sheet; each an aid to be filled in by hand.
//!
//! In: a job and what was made of it. Out: aids. Must never ask for a copy that the job has not numbered.

use std::collections::BTreeMap;

use super::copies::Copy;
use super::finish::{self, slot};
use super::imposition::Extent;
use super::register::Line;
use super::words::{WORDS, tell};
use super::{Job, Piece, flip_word};
use crate::aids::plan::{Aid, Form, FormCell, FormColumn, FormField, FormRow, FormSection};
use crate::aids::{forms, paper};
use crate::policy::Day;
use crate::session::{State, standing};

/// The sheets of one piece, as they were written.
#[derive(Clone, Debug)]
pub struct Made {
    /// Index of the piece.
    pub piece: usize,
    /// With its folder: `sheets/observer-card-taking-off.pdf`.
    pub file: String,
    pub pages: usize,
    pub sha256: String,
}

/// `Observer card, Taking off`
pub fn name(aid: &Aid) -> String {
    format!("{}, {}", aid.kind, aid.title)
}

/// What to print and how.
pub fn ticket(job: &Job, made: &[Made], issued: Option<Day>) -> Aid {
    let pieces = made.iter().filter_map(|made| job.pieces.get(made.piece).map(|piece| (piece, made)));
    let mut sections = vec![about(job, made, issued)];
    sections.extend(pieces.map(|(piece, made)| piece_of(piece, made)));
    let intro = if job.is_draft { tell("ticket_draft", &[]) } else { tell("ticket_intro", &[]) };
    let form = Form { intro, sections };
    paper(job.checked, "job-ticket", tell("ticket_kind", &[]), tell("ticket_title", &[]), form)
}

fn about(job: &Job, made: &[Made], issued: Option<Day>) -> FormSection {
    let paper = &job.checked.reading.policy.paper;
    let edition = paper.edition.map(|number| number.to_string()).unwrap_or_default();
    let pages: usize = made.iter().map(|made| made.pages).sum();
    let pieces = made.iter().filter_map(|made| job.pieces.get(made.piece));
    let copies = if job.is_draft { 0 } else { pieces.map(|piece| piece.copies.len()).sum() };
    let issued = issued.map(|day| day.to_string()).unwrap_or_default();
    let rows = vec![
        FormRow::Fields(vec![
            known("policy", paper.title.as_deref().unwrap_or_default(), 5),
            known("edition", &edition, 1),
            known("fingerprint", &job.checked.fingerprint, 2),
        ]),
        FormRow::Fields(vec![
            known("issued", &issued, 3),
            known("pages_in_all", &pages.to_string(), 2),
            known("copies_in_all", &copies.to_string(), 2),
            known("wanted_by", "", 2),
            known("asked_by", "", 3),
        ]),
    ];
    forms::section(tell("job", &[]), rows)
}

fn piece_of(piece: &Piece, made: &Made) -> FormSection {
    let (aid, grid) = (&piece.aid, &piece.grid);
    let count = grid.count().to_string();
    let up = if grid.turned { tell("up_turned", &[("count", &count)]) } else { count };
    let sides =
        if aid.both_sides { tell("both_sides", &[("flip", &flip_word(piece.flip))]) } else { tell("one_side", &[]) };
    let trim = if grid.is_cut() { size(grid.trim) } else { tell("uncut", &[]) };
    let mut rows = vec![
        FormRow::Fields(vec![
            known("file", &made.file, 6),
            known("pages", &made.pages.to_string(), 1),
            known("copies", &numbered(piece), 3),
        ]),
        FormRow::Fields(vec![
            known("paper", &sheet_name(piece), 1),
            known("sides", &sides, 4),
            known("trim", &trim, 3),
            known("up", &up, 3),
        ]),
    ];
    rows.push(FormRow::Fields(if aid.laminated {
        film(piece)
    } else {
        vec![known("film", &tell("no_film", &[]), 1), known("weight", "", 2)]
    }));
    rows.push(FormRow::Fields(vec![known("hash", &made.sha256, 1)]));
    FormSection { bound: true, ..forms::section(name(aid), rows) }
}

fn film(piece: &Piece) -> Vec<FormField> {
    let total = finish::thickness(finish::FILM, finish::PAPER).to_string();
    let (film, paper) = (finish::FILM.to_string(), finish::PAPER.to_string());
    let pouch = size(finish::pouch(piece.grid.trim));
    let lanyard = if piece.has_slot() {
        let (width, height, edge) = (slot::WIDTH.to_string(), slot::HEIGHT.to_string(), slot::FROM_EDGE.to_string());
        tell("slot_of", &[("width", &width), ("height", &height), ("edge", &edge)])
    } else {
        tell("no_slot", &[])
    };
    vec![
        known("film", &tell("film_of", &[("film", &film)]), 3),
        known("in_all", &tell("in_all_of", &[("total", &total), ("paper", &paper)]), 5),
        known("pouch", &tell("pouch_of", &[("size", &pouch)]), 5),
        known("slot", &lanyard, if piece.has_slot() { 4 } else { 2 }),
    ]
}

fn sheet_name(piece: &Piece) -> String {
    let sheets = crate::policy::PaperSize::ALL.into_iter();
    let is_it = |paper: &crate::policy::PaperSize| {
        let sheet = Extent::of(*paper, false);
        sheet == piece.grid.sheet || sheet.turned() == piece.grid.sheet
    };
    sheets.filter(is_it).map(|paper| paper.word().to_string()).next().unwrap_or_default()
}

fn numbered(piece: &Piece) -> String {
    if piece.is_draft {
        return tell("one_proof", &[]);
    }
    let count = piece.copies.len().to_string();
    tell("numbered", &[("count", &count), ("last", if piece.copies.len() > 1 { &count } else { "" })])
}

/// What to look at before the run, and before delivery.
pub fn proof(job: &Job, made: &[Made]) -> Aid {
    let pieces: Vec<&Piece> = made.iter().filter_map(|made| job.pieces.get(made.piece)).collect();
    let any = |is: fn(&Piece) -> bool| pieces.iter().any(|piece| is(piece));
    let edition = pieces.first().map(|piece| piece.aid.control.edition.as_str()).unwrap_or_default();
    let sheet = Extent::of(job.sheet, false);
    let tolerance = finish::tolerance(sheet.width).to_string();
    let (paper, width, height) = (job.sheet.word(), millimetres(sheet.width), millimetres(sheet.height));
    let mut run = vec![
        check("p_scale", &[]),
        check("p_bar", &[]),
        check("p_paper", &[("paper", paper), ("width", &width), ("height", &height), ("tolerance", &tolerance)]),
    ];
    if any(|piece| piece.aid.both_sides) {
        run.extend([check("p_meet", &[]), check("p_turn", &[])]);
    }
    run.push(check("p_print", &[("edition", edition), ("fingerprint", &job.checked.fingerprint)]));
    run.push(if job.is_draft { check("p_draft", &[]) } else { check("p_numbers", &[]) });
    let answered = State::of(&standing(job.checked)).word();
    run.push(check("p_code", &[("state", answered), ("fingerprint", &job.checked.fingerprint)]));
    run.push(check("p_clear", &[]));
    let mut after = vec![check("p_cut", &[])];
    if any(|piece| piece.aid.laminated) {
        after.extend([check("p_matt", &[]), check("p_seal", &[])]);
    }
    if any(Piece::has_slot) {
        after.push(check("p_slot", &[]));
    }
    let columns = || {
        vec![
            column("look", FormCell::Words, 10),
            column("right", FormCell::Tick, 1),
            column("measured", FormCell::Blank, 3),
        ]
    };
    let sections = vec![
        forms::table(tell("proof_run", &[]), columns(), run),
        signing(),
        forms::table(tell("proof_after", &[]), columns(), after),
        signing(),
    ];
    let form = Form { intro: tell("proof_intro", &[]), sections };
    paper_of(job, "proof-check", "proof", form)
}

/// Who received which copies: a part for each place, in the order of the policy. None of a draft.
pub fn delivery(job: &Job, made: &[Made]) -> Option<Aid> {
    if job.is_draft {
        return None;
    }
    let mut places: Vec<(String, Vec<FormRow>)> = Vec::new();
    for piece in made.iter().filter_map(|made| job.pieces.get(made.piece)) {
        for run in piece.copies.chunk_by(|one, next| one.place == next.place) {
            let row = forms::entry(name(&piece.aid), numbers(run));
            match places.iter_mut().find(|(place, _)| *place == run[0].place) {
                Some((_, rows)) => rows.push(row),
                None => places.push((run[0].place.clone(), vec![row])),
            }
        }
    }
    let part = |(place, rows): (String, Vec<FormRow>)| {
        let title = if place.is_empty() { tell("no_place", &[]) } else { crate::aids::pattern::capital(&place) };
        let columns = vec![
            column("aid", FormCell::Words, 6),
            column("copy_numbers", FormCell::Words, 4),
            column("received", FormCell::Blank, 2),
        ];
        [forms::table(title, columns, rows), signing()]
    };
    let form = Form { intro: tell("delivery_intro", &[]), sections: places.into_iter().flat_map(part).collect() };
    Some(paper_of(job, "delivery-sheet", "delivery", form))
}

fn numbers(run: &[Copy]) -> String {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return String::new() };
    let (from, to, of) = (first.number.to_string(), last.number.to_string(), first.of.to_string());
    if run.len() == 1 {
        tell("number_one", &[("first", &from), ("of", &of)])
    } else {
        tell("number_many", &[("first", &from), ("last", &to), ("of", &of)])
    }
}

/// More lines than this are left to the register itself.
pub const MOST_RECALLED: usize = 2000;

/// The copies of older editions that are still out, a line for each, by place. None where there are none.
pub fn recall(job: &Job, lines: &[Line]) -> Option<Aid> {
    if lines.is_empty() {
        return None;
    }
    let mut places: BTreeMap<&str, Vec<FormRow>> = BTreeMap::new();
    for line in lines.iter().take(MOST_RECALLED) {
        let named = tell("copy_line", &[("aid", &line.aid), ("copy", &line.copy), ("of", &line.of)]);
        let slots = [("edition", line.edition.as_str()), ("fingerprint", &line.fingerprint), ("issued", &line.issued)];
        places.entry(line.place.trim()).or_default().push(forms::entry(named, tell("copy_of_edition", &slots)));
    }
    let part = |(place, rows): (&str, Vec<FormRow>)| {
        let title = if place.is_empty() { tell("no_place", &[]) } else { crate::aids::pattern::capital(place) };
        let columns = vec![
            column("copies", FormCell::Words, 5),
            column("which", FormCell::Words, 5),
            column("destroyed", FormCell::Blank, 2),
            column("by", FormCell::Blank, 3),
        ];
        forms::table(title, columns, rows)
    };
    let more = lines.len().saturating_sub(MOST_RECALLED);
    let told = if more > 0 { tell("recall_more", &[("count", &more.to_string())]) } else { String::new() };
    let intro = format!("{} {told}", tell("recall_intro", &[]));
    let form = Form { intro: intro.trim_end().to_string(), sections: places.into_iter().map(part).collect() };
    Some(paper_of(job, "recall-sheet", "recall", form))
}

fn paper_of(job: &Job, file: &str, key: &str, form: Form) -> Aid {
    paper(job.checked, file, tell(&format!("{key}_kind"), &[]), tell(&format!("{key}_title"), &[]), form)
}

/// Nobody signs on a page of its own.
fn signing() -> FormSection {
    let row = FormRow::Fields(vec![known("signed", "", 3), known("date", "", 1)]);
    FormSection { bound: true, ..forms::untitled(vec![row]) }
}

fn known(key: &str, value: &str, share: u8) -> FormField {
    forms::known(&WORDS, key, value, share)
}

fn column(key: &str, holds: FormCell, share: u8) -> FormColumn {
    forms::column(&WORDS, key, holds, share)
}

/// One thing to look at, and beneath it how.
fn check(key: &str, slots: &[(&str, &str)]) -> FormRow {
    forms::entry(tell(key, slots), tell(&format!("{key}_more"), slots))
}

fn size(extent: Extent) -> String {
    let (width, height) = (millimetres(extent.width), millimetres(extent.height));
    tell("size", &[("width", &width), ("height", &height)])
}

fn millimetres(length: f64) -> String {
    format!("{length}")
}
