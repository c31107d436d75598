//! The walk chart, before any typesetting: its figures are the walk's, and its signs stand where the findings are.

use anteroom::aids::plan;
use anteroom::aids::plan::{Aid, Body, Chart, ChartCell, ChartRow, Mark};
use anteroom::faces::shelf::FolderShelf;
use anteroom::policy::Day;
use anteroom::session::{self, Checked, Reading};
use camino::Utf8Path;

fn today() -> Day {
    Day::new(2026, 12, 2).unwrap()
}

fn reading(file: &str, lines: &str) -> Reading {
    let (shelf, text) = FolderShelf::open(Utf8Path::new(file)).unwrap();
    session::read(file, format!("{text}\n{lines}"), &shelf)
}

/// A policy of the project with more lines at its end.
fn with(file: &str, lines: &str) -> Checked {
    session::check(reading(file, lines), Some(today()))
}

fn charts(checked: &Checked) -> Vec<(Aid, Chart)> {
    let chart = |aid: Aid| match &aid.body {
        Body::Chart(chart) => Some((aid.clone(), (**chart).clone())),
        _ => None,
    };
    plan(checked).aids.into_iter().filter_map(chart).collect()
}

fn rows(chart: &Chart) -> Vec<&ChartRow> {
    chart.bands.iter().flat_map(|band| &band.rows).collect()
}

/// The index of a lane of the first person.
fn lane(chart: &Chart, name: &str) -> usize {
    chart.people[0].lanes.iter().position(|lane| lane.name == name).unwrap_or_else(|| panic!("no {name}: {chart:#?}"))
}

fn figures(chart: &Chart, name: &str) -> Vec<String> {
    let lane = lane(chart, name);
    rows(chart).iter().map(|row| row.cells[lane].words.clone()).collect()
}

/// D1 (CDC poster CS250672, example 1; fronts contaminated), by hand from the contact table: the peeled glove brushes the
/// hand (2 touches); the hand touches the headband (3) and brushes the eyes beneath it (4); a rub of 30 seconds at the end is
/// worth 3, and sets the hands back to 5.
#[test]
fn the_figures_of_a_published_order_are_those_worked_out_by_hand() {
    let checked = with("tests/published/d1.ppe", "print walk chart of \"Taking off\"\n  on A4\n");
    let (aid, chart) = charts(&checked).remove(0);
    assert_eq!((aid.kind.as_str(), aid.title.as_str()), ("Walk chart", "Taking off"));
    assert_eq!(figures(&chart, "Hands"), ["·", "2", "2", "2", "2", "2", "5", "5"]);
    assert_eq!(figures(&chart, "Hands, outside"), ["0", "2", "2", "2", "2", "2", "5", "5"]);
    assert_eq!(figures(&chart, "Eyes"), ["·", "·", "4", "4", "4", "4", "4", "4"]);
    let marks: Vec<Mark> = rows(&chart).iter().map(|row| row.marks[0].mark).collect();
    let (none, off) = (Mark::None, Mark::Off);
    assert_eq!(marks, [none, off, off, off, none, off, Mark::Hands, none]);
    let ringed: Vec<&str> = ringed(&chart).iter().map(|row| row.act.as_str()).collect();
    assert_eq!(ringed, ["Take off gloves"]);
    assert!(
        chart.notes[0].starts_with("Wearer’s hands: 2 touches at step 2: wearer’s gloves, then"),
        "{:?}",
        chart.notes
    );
    assert!(chart.signals.is_empty(), "{:?}", chart.signals);
}

fn ringed(chart: &Chart) -> Vec<&ChartRow> {
    rows(chart).into_iter().filter(|row| row.cells.iter().any(|cell| cell.ringed)).collect()
}

const SUITES: [&str; 5] = [
    "tests/samples/isolation-suite.ppe",
    "tests/samples/side-room.ppe",
    "tests/samples/transfer-team.ppe",
    "policies/assessment-suite.ppe",
    "policies/side-rooms.ppe",
];

fn every_chart(file: &str) -> (Checked, Vec<(Aid, Chart)>) {
    let names: Vec<String> = reading(file, "").policy.levels.iter().map(|level| level.name.clone()).collect();
    let lines: String = names.iter().map(|name| format!("print walk chart of {name}\n  on A4\n")).collect();
    let checked = with(file, &lines);
    assert!(checked.reading.problems.is_empty(), "{file}: {:?}", checked.reading.problems);
    let charts = charts(&checked);
    assert!(charts.len() >= names.len(), "{file}");
    (checked, charts)
}

/// The report's figures come from playing single cases again, the chart's from the play of all cases: where the report says
/// that the hazard comes nearest in a step of the chart, the chart says the same.
#[test]
fn charts_and_report_give_the_same_figures() {
    let mut compared = 0;
    for file in SUITES {
        let (checked, charts) = every_chart(file);
        for approach in &checked.examined.approaches {
            for (aid, chart) in charts.iter().filter(|(aid, _)| aid.control.level == approach.level) {
                let here = approach.step.as_ref().is_some_and(|step| step.starts_with(&format!("{}, ", aid.title)));
                if !here {
                    continue;
                }
                let mut all =
                    chart.people.iter().flat_map(|person| person.lanes.iter().map(move |lane| (person, lane)));
                let at = all.position(|(person, lane)| {
                    let names = lane.name.to_lowercase();
                    let whole_face = names == "face" && ["eyes", "nose", "mouth"].contains(&approach.reached.as_str());
                    person.name.to_lowercase() == approach.who
                        && !lane.is_outermost
                        && (names.split(", ").any(|name| name == approach.reached) || whole_face)
                });
                let at = at.unwrap_or_else(|| panic!("{file}, {}: no lane for {approach:?}", aid.title));
                assert_eq!(chart.sums[0].cells[at].touches, approach.touches[0], "{file}, {}: {approach:?}", aid.title);
                compared += 1;
            }
        }
    }
    assert!(compared > 30, "{compared}");
}

/// A row says what is so after it; a ring is the nearest of its person; nearer than the margin is marked, and told.
#[test]
fn signs_stand_where_the_figures_are() {
    for file in SUITES {
        for (aid, chart) in every_chart(file).1 {
            let lanes: Vec<_> = chart.people.iter().flat_map(|person| &person.lanes).collect();
            let mut near = false;
            let mut before: Vec<Option<u16>> = vec![None; lanes.len()];
            for row in rows(&chart) {
                assert_eq!(
                    (row.cells.len(), row.marks.len()),
                    (lanes.len(), chart.people.len()),
                    "{file} {}",
                    aid.title
                );
                for ((cell, lane), before) in row.cells.iter().zip(&lanes).zip(&mut before) {
                    assert_eq!(cell.changed, cell.touches != *before, "{file} {}: {row:?}", aid.title);
                    let crosses =
                        lane.margin.is_some_and(|margin| cell.touches.is_some_and(|touches| touches < margin));
                    assert_eq!(cell.near, crosses, "{file} {}: {row:?}", aid.title);
                    assert!(slipped(cell) <= cell.touches.unwrap_or(u16::MAX), "{file} {}: {row:?}", aid.title);
                    (*before, near) = (cell.touches, near || cell.near);
                }
            }
            assert_eq!(!chart.signals.is_empty(), near, "{file} {}", aid.title);
            let mut first = 0;
            for person in &chart.people {
                let last = first + person.lanes.len();
                let cells = rows(&chart).into_iter().flat_map(|row| &row.cells[first..last]);
                let rings: Vec<u16> = cells.filter(|cell| cell.ringed).filter_map(|cell| cell.touches).collect();
                assert!(
                    rings.iter().all(|&ring| ring == rings[0]) && rings.len() <= person.lanes.len(),
                    "{file} {rings:?}"
                );
                first = last;
            }
        }
    }
}

fn slipped(cell: &ChartCell) -> u16 {
    cell.slipped.unwrap_or(u16::MAX)
}

/// A gown taken by its front with a bare hand (F57): 1 touch, in the finding and on the chart.
#[test]
fn what_the_check_finds_too_near_is_marked() {
    let checked = with("policies/faulty/touch-front-of-the-gown.ppe", "print walk chart of \"Taking off\"\n  on A4\n");
    let (_, chart) = charts(&checked).remove(0);
    assert_eq!(chart.signals.len(), 1);
    assert_eq!(chart.signals[0].text, "The hazard comes nearer than this level allows: wearer’s hands, step 5.");
    let near: Vec<&str> = rows(&chart)
        .iter()
        .filter(|row| row.cells.iter().any(|cell| cell.near))
        .map(|row| row.number.as_str())
        .collect();
    assert_eq!(near, ["5"]);
    assert_eq!(chart.sums[0].cells[lane(&chart, "Hands")].touches, Some(1));
}

/// A bare hand meets the suit, is cleaned, and meets the boots (F55): both steps are told.
#[test]
fn each_step_that_comes_too_near_is_told() {
    let checked =
        with("policies/faulty/touch-bare-hand-on-the-suit.ppe", "print walk chart of \"Taking off\"\n  on A4\n");
    let (_, chart) = charts(&checked).remove(0);
    let told = "The hazard comes nearer than this level allows: wearer’s hands, step 14 and step 17.";
    assert_eq!(chart.signals[0].text, told);
}

/// No figure is shown that could be untrue, and what is not made says why.
#[test]
fn what_cannot_be_charted_is_told() {
    let lines = "print walk chart of \"An outer glove tears\"\n  on A4\n";
    let told = plan(&with("policies/assessment-suite.ppe", lines)).not_made;
    assert!(told.iter().any(|why| why.contains("An outer glove tears; name a sequence or a level")), "{told:?}");
    let lines = "sequence \"Again\" for High, in disrobing room\n  wearer frobs the hood\nprint walk chart of \"Taking off\"\n  on A4\n";
    let told = plan(&with("policies/assessment-suite.ppe", lines)).not_made;
    assert!(told.iter().any(|why| why.contains("not understood")), "{told:?}");
    let checked = with("policies/assessment-suite.ppe", "print walk chart\n  on A4\n");
    assert_eq!(checked.reading.problems.len(), 1, "{:?}", checked.reading.problems);
}
