//! Letter sizes and margins for each layout and paper.
//!
//! In: an aid. Out: frames to try, from the smallest letters to the largest, and the one to begin with.

use super::legibility;
use super::sheet::{Frame, MM, Sizes};
use super::ways;
use crate::aids::plan::{Aid, Body, Layout};
use crate::press::{self, finish::slot};

/// Frames that differ in their letters only.
pub(super) struct Ladder {
    pub frames: Vec<Frame>,
    /// Letters at which the aid is divided into faces first; smaller ones serve only where a row fits no face.
    pub start: usize,
}

/// Nothing that must be read is set smaller.
const SMALLEST: f64 = 9.0;

/// From where a poster is read if the policy does not say.
const POSTER_DISTANCE_MM: u32 = 1000;

/// The same of a plan: people step up to it.
const PLAN_DISTANCE_MM: u32 = 700;

/// `narrow`: a poster whose pictograms stand beneath the numbers.
pub(super) fn ladder(aid: &Aid, narrow: bool) -> Ladder {
    match aid.layout {
        Layout::Poster => {
            let distance = f64::from(distance_mm(aid));
            let act = legibility::points(distance, legibility::PREFERRED).max(SMALLEST / 0.8);
            let detail = legibility::points(distance, legibility::LEAST).max(SMALLEST);
            let steps = (0..16).map(|step| 1.06f64.powi(step));
            Ladder {
                frames: steps.map(|larger| poster(aid, act * larger, detail * larger, narrow)).collect(),
                start: 0,
            }
        }
        Layout::Card => hand_held(aid, &[10.0, 10.5, 11.0, 11.5, 12.0, 12.5, 13.0, 13.5, 14.0, 15.0], 2),
        Layout::WalkChart => charts(aid),
        Layout::KitList => hand_held(aid, &[10.0, 10.5, 11.0, 11.5, 12.0, 12.5, 13.0, 14.0, 15.0], 3),
        Layout::Form => {
            Ladder { frames: [9.5, 10.0, 10.5, 11.0, 11.5, 12.0].map(|act| form(aid, act)).into(), start: 1 }
        }
        Layout::DoorSign | Layout::ChoicePoster => hung(aid, poster_of_no_lines),
        Layout::AreaPlan => hung(aid, area),
        Layout::Review => Ladder { frames: [9.0, 9.5].map(|act| review(aid, act)).into(), start: 1 },
    }
}

/// From how far away what hangs is read, in millimetres.
pub(super) fn distance_mm(aid: &Aid) -> u32 {
    let usual = if aid.layout == Layout::AreaPlan { PLAN_DISTANCE_MM } else { POSTER_DISTANCE_MM };
    aid.read_from_mm.unwrap_or(usual)
}

/// What hangs and has no strip of its layers: the letters that the distance asks for, and larger ones.
fn hung(aid: &Aid, frame: fn(&Aid, f64, f64) -> Frame) -> Ladder {
    let distance = f64::from(distance_mm(aid));
    let act = legibility::points(distance, legibility::PREFERRED).max(SMALLEST / 0.8);
    let detail = legibility::points(distance, legibility::LEAST).max(SMALLEST);
    let steps = (0..20).map(|step| 1.06f64.powi(step));
    Ladder { frames: steps.map(|larger| frame(aid, act * larger, detail * larger)).collect(), start: 0 }
}

fn poster_of_no_lines(aid: &Aid, act: f64, detail: f64) -> Frame {
    poster(aid, act, detail, false)
}

/// Beside the places, a lane for each move that does not lead to the next of them.
fn area(aid: &Aid, act: f64, detail: f64) -> Frame {
    let Body::Area(plan) = &aid.body else { return poster(aid, act, detail, false) };
    let (ways, lanes) = ways::lanes(&plan.moves);
    let frame = poster(aid, act, detail, false);
    let pitch = 1.5 * detail;
    let strip = if lanes == 0 { 0.0 } else { (lanes as f64 + 0.3) * pitch };
    Frame { column: frame.column - strip, pitch, lines: lanes, ways, ..frame }
}

fn form(aid: &Aid, act: f64) -> Frame {
    let side = (0.055 * paper(aid).0).clamp(8.0 * MM, 14.0 * MM);
    let base = sheet_of(aid, act);
    Frame {
        side,
        column: base.width - 2.0 * side,
        top: 0.9 * side,
        bottom: 0.8 * side,
        sizes: Sizes { act, detail: (0.88 * act).max(SMALLEST), title: 1.75 * act, foot: SMALLEST },
        ..base
    }
}

/// Between both sides of a review sheet, a lane for each move.
fn review(aid: &Aid, act: f64) -> Frame {
    let base = form(aid, act);
    let Body::Review(review) = &aid.body else { return base };
    let (ways, lanes) = ways::lanes_of_rows(review);
    let pitch = (LANES_MOST * base.column / lanes.max(1) as f64).min(LANE_PITCH * act);
    Frame { ways, pitch, sizes: Sizes { title: 2.0 * act, ..base.sizes }, ..base }
}

/// The width of a lane in letter sizes, and of all lanes against the measure.
const LANE_PITCH: f64 = 0.75;
const LANES_MOST: f64 = 0.17;

fn poster(aid: &Aid, act: f64, detail: f64, narrow: bool) -> Frame {
    let (width, height) = paper(aid);
    let side = 0.05 * width;
    let measure = width - 2.0 * side;
    let lines = match &aid.body {
        Body::Steps(steps) => steps.layers.len(),
        _ => 0,
    };
    // The strip takes a sixth of the measure, or what the rows leave once a line holds about 60 letters; its names are
    // at best as large as all else that is read from a distance.
    let spare = (measure - 34.0 * act) / lines.max(1) as f64;
    let least = 0.17 * measure / lines.max(1) as f64;
    let name_size = (least.max(spare) / 1.45).clamp(SMALLEST, detail.max(SMALLEST));
    let pitch = spare.clamp(1.45 * name_size, 2.0 * name_size);
    let hang = (0.32 * act).min(0.6 * side);
    let strip = if lines == 0 { 0.0 } else { (lines as f64 + 0.5) * pitch + hang };
    Frame {
        width,
        height,
        side,
        top: 0.05 * width,
        bottom: 0.042 * width,
        column: measure - strip,
        lines,
        pitch,
        name_size,
        narrow,
        digits: digits(aid),
        hang,
        label: 0.0,
        lane: 0.0,
        mark: 0.0,
        apart: 0.0,
        ways: Vec::new(),
        slot: false,
        sizes: Sizes { act, detail, title: 2.1 * act, foot: (width / MM / 29.7).min(0.75 * detail).max(SMALLEST) },
    }
}

fn hand_held(aid: &Aid, acts: &[f64], start: usize) -> Ladder {
    // Larger paper is held no nearer.
    let larger = (paper(aid).0 / MM / 148.0).max(1.0).sqrt();
    Ladder { frames: acts.iter().map(|act| sheet_of(aid, act * larger)).collect(), start }
}

fn sheet_of(aid: &Aid, act: f64) -> Frame {
    let (width, height) = paper(aid);
    let has_slot = press::has_slot(aid);
    let side = (0.062 * width).clamp(5.0 * MM, 12.0 * MM);
    Frame {
        width,
        height,
        side,
        top: if has_slot { slot::KEEP_OUT * MM } else { side * 1.1 },
        bottom: side * 0.9,
        column: width - 2.0 * side,
        lines: 0,
        pitch: 0.0,
        name_size: 0.0,
        narrow: false,
        digits: digits(aid),
        hang: 0.32 * act,
        label: 0.0,
        lane: 0.0,
        mark: 0.0,
        apart: 0.0,
        ways: Vec::new(),
        slot: has_slot,
        sizes: Sizes { act, detail: (0.84 * act).max(SMALLEST), title: 1.5 * act, foot: SMALLEST },
    }
}

/// Only the letters that leave each lane room for its number; none where the paper is too small for all lanes.
fn charts(aid: &Aid) -> Ladder {
    let Body::Chart(chart) = &aid.body else { return Ladder { frames: Vec::new(), start: 0 } };
    let people = chart.people.len() as f64;
    let lanes = lanes(aid);
    let frame = |act: f64| {
        let (width, _) = paper(aid);
        let side = (0.055 * width).clamp(5.0 * MM, 14.0 * MM);
        let column = width - 2.0 * side;
        let (mark, apart) = (1.5 * act, 1.1 * act);
        let rest = column - people * (mark + apart);
        // What the words do not need goes to the lanes, as long as they stay lanes.
        let lane = ((rest - LABEL * act) / lanes.max(1) as f64).min(6.5 * act);
        let label = if lanes == 0 { column } else { rest - lane * lanes as f64 };
        let sizes = Sizes { act, detail: act.max(SMALLEST), title: 2.0 * act, foot: SMALLEST };
        Frame {
            side,
            column,
            label,
            lane,
            mark,
            apart,
            hang: 0.32 * act,
            sizes,
            top: side * 0.9,
            bottom: side * 0.8,
            ..sheet_of(aid, act)
        }
    };
    let acts = (0..8).map(|step| SMALLEST + 0.5 * f64::from(step));
    let frames = acts.map(frame).filter(|frame| lanes == 0 || frame.lane >= LEAST_LANE * frame.sizes.act);
    Ladder { frames: frames.collect(), start: 0 }
}

pub(super) fn lanes(aid: &Aid) -> usize {
    let Body::Chart(chart) = &aid.body else { return 0 };
    chart.people.iter().map(|person| person.lanes.len()).sum()
}

/// The width of a chart's words and of its narrowest lane, in letter sizes.
const LABEL: f64 = 15.5;
const LEAST_LANE: f64 = 1.9;

/// The digits of the highest step number.
fn digits(aid: &Aid) -> usize {
    let Body::Steps(steps) = &aid.body else { return 1 };
    let highest = super::sheet::step_rows(steps).map(|row| row.number).max().unwrap_or(1);
    highest.to_string().len()
}

fn paper(aid: &Aid) -> (f64, f64) {
    let (short, long) = aid.paper.millimetres();
    let (width, height) = if aid.sideways { (long, short) } else { (short, long) };
    (f64::from(width) * MM, f64::from(height) * MM)
}
