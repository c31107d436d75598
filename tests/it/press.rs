//! The print room: where pieces stand, what is cut, filmed and numbered, and the register.
//!
//! Sizes: ISO 216 and ISO/IEC 7810 as published; the counts were computed from them before this program was written.

use std::collections::BTreeSet;
use std::fs;

use anteroom::aids::plan::{FormRow, Quantity};
use anteroom::aids::{self, plan::Body};
use anteroom::faces::ledger;
use anteroom::policy::{Day, PaperSize};
use anteroom::press::copies;
use anteroom::press::finish::{pouch, seal, thickness, tolerance};
use anteroom::press::imposition::{BLEED, BORDER, Extent, Flip, Grid, Reading, STRIP, Slot, impose, whole};
use anteroom::press::register::{COLUMNS, Edition, Line, Register};
use anteroom::press::{self, papers};
use camino::Utf8Path;
use proptest::prelude::*;

use crate::commands::{run, ward};
use crate::oracle::{program, python};
use crate::policies::checked_text;

/// ISO/IEC 7810, the size of a bank card.
const ID_1: Extent = Extent { width: 85.60, height: 53.98 };

fn paper(size: PaperSize) -> Extent {
    Extent::of(size, false)
}

fn points(millimetres: f64) -> f64 {
    millimetres / 25.4 * 72.0
}

fn near(one: f64, other: f64, within: f64) -> bool {
    (one - other).abs() <= within
}

/// libpaper's table of paper sizes, in whole points and in millimetres.
#[test]
fn paper_sizes_are_those_of_libpaper() {
    for size in PaperSize::ALL {
        let told = program("paperconf", &["-p", &size.word().to_lowercase(), "-s", "-m"]);
        let numbers: Vec<f64> = told.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        let (width, height) = size.millimetres();
        assert!(
            near(f64::from(width), numbers[0], 0.5) && near(f64::from(height), numbers[1], 0.5),
            "{size:?}: {told}"
        );
    }
}

/// ISO 216 and ISO/IEC 7810 in points, and what bleed adds.
#[test]
fn sizes_in_points_are_the_published_ones() {
    for (extent, width, height) in [
        (paper(PaperSize::A4), 595.276, 841.890),
        (paper(PaperSize::A3), 841.890, 1190.551),
        (ID_1, 242.646, 153.014),
        (paper(PaperSize::A4).grown(BLEED), 612.283, 858.898),
    ] {
        assert!(near(points(extent.width), width, 0.0006) && near(points(extent.height), height, 0.0006), "{extent:?}");
    }
    assert!(near(points(BLEED), 8.504, 0.0005));
    assert!(near(paper(PaperSize::A4).width / paper(PaperSize::A3).width, std::f64::consts::FRAC_1_SQRT_2, 0.0001));
}

/// Computed by hand from the sizes: 91.60 by 59.98 mm with bleed in 200 by 287 mm.
#[test]
fn as_many_pieces_as_a_sheet_holds_in_either_turn() {
    let on = |sheet, trim, bleed| impose(paper(sheet), trim, bleed, BORDER).unwrap();
    let cards = on(PaperSize::A4, ID_1, BLEED);
    assert_eq!((cards.count(), cards.columns, cards.rows, cards.turned), (9, 3, 3, true));
    let (_, _, block) = cards.block();
    assert!(near(block.width, 179.94, 1e-9) && near(block.height, 274.80, 1e-9));
    assert_eq!(on(PaperSize::A4, ID_1, 0.0).count(), 10);
    assert_eq!(on(PaperSize::A3, ID_1, BLEED).count(), 18);
    assert_eq!(on(PaperSize::A3, paper(PaperSize::A6), BLEED).count(), 4);
    assert_eq!(impose(paper(PaperSize::A4), paper(PaperSize::A4), BLEED, BORDER), None);
}

/// The rule for a portrait sheet of two columns and four rows, derived by turning a sheet of paper.
#[test]
fn backs_stand_behind_their_fronts() {
    let grid =
        Grid { turned: false, columns: 2, rows: 4, ..impose(paper(PaperSize::A4), ID_1, BLEED, BORDER).unwrap() };
    let first = Slot { column: 0, row: 0 };
    assert_eq!(grid.back(first, Flip::Long), Slot { column: 1, row: 0 });
    assert_eq!(grid.back(first, Flip::Short), Slot { column: 0, row: 3 });
    assert_eq!(grid.back_turn(Flip::Long, Reading::Turned), 0);
    assert_eq!(grid.back_turn(Flip::Short, Reading::Turned), 180);
    assert_eq!(grid.back_turn(Flip::Long, Reading::Tumbled), 180);
    assert_eq!(grid.back_turn(Flip::Short, Reading::Tumbled), 0);
}

fn every_grid() -> Vec<Grid> {
    let mut grids = vec![impose(paper(PaperSize::A4), ID_1, BLEED, BORDER).unwrap()];
    for sheet in [PaperSize::A4, PaperSize::A3] {
        for trim in [PaperSize::A5, PaperSize::A6, PaperSize::A7] {
            for sideways in [false, true] {
                grids.extend(impose(paper(sheet), Extent::of(trim, sideways), BLEED, BORDER));
            }
        }
    }
    for sideways in [false, true] {
        grids.push(whole(Extent::of(PaperSize::A4, sideways)));
    }
    grids
}

/// Where "up" on a piece points on its page, for a turn in degrees clockwise; down the page is positive.
fn up(turn: u16) -> (i32, i32) {
    match turn % 360 {
        0 => (0, -1),
        90 => (1, 0),
        180 => (0, 1),
        _ => (-1, 0),
    }
}

/// A sheet of paper is turned in thought: what lies at (x, y) on one side is seen at the mirrored place on the other.
#[test]
fn a_sheet_held_to_the_light_shows_one_piece() {
    for grid in every_grid() {
        for flip in [Flip::Long, Flip::Short] {
            let sides = (flip == Flip::Long) == (grid.sheet.height >= grid.sheet.width);
            for slot in grid.slots() {
                let ((x, y), (bx, by)) = (grid.centre(slot), grid.centre(grid.back(slot, flip)));
                let (through_x, through_y) =
                    if sides { (grid.sheet.width - bx, by) } else { (bx, grid.sheet.height - by) };
                assert!(near(x, through_x, 1e-9) && near(y, through_y, 1e-9), "{grid:?} {flip:?} {slot:?}");
            }
            let (front, back) = (up(grid.turn()), up(grid.back_turn(flip, Reading::Turned)));
            let through = if sides { (-back.0, back.1) } else { (back.0, -back.1) };
            assert_eq!(front, through, "the top of the back lies behind the top of the front: {grid:?} {flip:?}");
            let tumbled = up(grid.back_turn(flip, Reading::Tumbled));
            assert_eq!((tumbled.0, tumbled.1), (-back.0, -back.1));
        }
    }
}

/// What is outside this project: paper does not overlap, and a printer leaves its border white.
#[test]
fn pieces_keep_apart_and_marks_keep_off_them() {
    for grid in every_grid().into_iter().filter(Grid::is_cut) {
        let (lying, centres): (_, Vec<_>) = (grid.lying(), grid.slots().map(|slot| grid.centre(slot)).collect());
        for (at, &(x, y)) in centres.iter().enumerate() {
            assert!(x - lying.width / 2.0 - BLEED >= BORDER - 1e-9 && y - lying.height / 2.0 - BLEED >= BORDER - 1e-9);
            assert!(x + lying.width / 2.0 + BLEED <= grid.sheet.width - BORDER + 1e-9);
            assert!(y + lying.height / 2.0 + BLEED <= grid.sheet.height - BORDER + 1e-9);
            for &(ox, oy) in &centres[at + 1..] {
                let apart = (x - ox).abs() >= lying.width + 2.0 * BLEED - 1e-9
                    || (y - oy).abs() >= lying.height + 2.0 * BLEED - 1e-9;
                assert!(apart, "{grid:?}");
            }
        }
        let marks = grid.marks();
        assert_eq!(marks.len(), 4 * (grid.columns + grid.rows));
        for [x1, y1, x2, y2] in marks {
            assert!((x1 - x2).abs() + (y1 - y2).abs() >= 2.0 - 1e-9, "too short to see: {grid:?}");
            for &(x, y) in &centres {
                let (dx, dy) = (lying.width / 2.0 + 1e-6, lying.height / 2.0 + 1e-6);
                let inside = |px: f64, py: f64| (px - x).abs() < dx && (py - y).abs() < dy;
                assert!(!inside(x1, y1) && !inside(x2, y2), "a mark stands in a piece: {grid:?}");
            }
            for (at, edge) in
                [(x1, grid.sheet.width), (x2, grid.sheet.width), (y1, grid.sheet.height), (y2, grid.sheet.height)]
            {
                assert!(at >= BORDER - 1e-9 && at <= edge - BORDER + 1e-9, "a mark in the printer's border: {grid:?}");
            }
        }
        let (left, top, _) = grid.block();
        let room = if grid.strip_is_at_the_side() { left } else { top };
        assert!(room - BORDER >= STRIP, "{grid:?}");
    }
}

/// ISO 216: 1.5 mm up to 150 mm, 2 mm up to 600 mm, 3 mm above.
#[test]
fn tolerances_are_those_of_the_standard() {
    let passes = |nominal: f64, measured: f64| (measured - nominal).abs() <= tolerance(nominal) + 1e-9;
    assert!(passes(210.0, 212.0) && !passes(210.0, 212.1));
    assert!(passes(148.0, 149.5) && !passes(148.0, 149.6));
    assert!(passes(841.0, 844.0) && !passes(841.0, 844.1));
}

/// Film is named by one side of it; suppliers ask for 2 to 3 mm beyond the paper (pouch sizes from memory).
#[test]
fn film_is_thick_and_wide_enough() {
    assert_eq!(thickness(125, 100), 350);
    let a4 = paper(PaperSize::A4);
    assert_eq!(pouch(a4), Extent::new(216.0, 303.0));
    let (edge, is_enough) = seal(a4, Extent::new(216.0, 303.0));
    assert!(near(edge, 3.0, 1e-9) && is_enough);
    let (edge, is_enough) = seal(a4, Extent::new(213.0, 300.0));
    assert!(near(edge, 1.5, 1e-9) && !is_enough);
}

#[test]
fn copies_are_numbered_through_all_places() {
    let quantity = |count, place: &str| Quantity { count, place: Some(place.into()) };
    let copies = copies::of(&[quantity(2, "exit lobby"), quantity(1, "ward 3")]).unwrap();
    let told: Vec<_> = copies.iter().map(|copy| (copy.number, copy.of, copy.place.as_str())).collect();
    assert_eq!(told, [(1, 3, "exit lobby"), (2, 3, "exit lobby"), (3, 3, "ward 3")]);
    assert_eq!(copies::of(&[]).unwrap().len(), 1);
    let asked = u64::from(u32::MAX) * 2;
    assert_eq!(copies::of(&[quantity(u32::MAX, "a"), quantity(u32::MAX, "b")]).unwrap_err(), asked);
}

fn line(copy: usize) -> Line {
    Line {
        policy: "Isolation suite".into(),
        edition: "3".into(),
        fingerprint: "0a1b2c3d".into(),
        aid: "Observer card, Taking off".into(),
        file: "observer-card-taking-off".into(),
        copy: copy.to_string(),
        of: "40".into(),
        place: "exit lobby".into(),
        issued: "2026-12-01".into(),
        ..Line::default()
    }
}

const NEXT: Edition = Edition { policy: "Isolation suite", site: "", number: Some(4), fingerprint: "ffffffff" };

/// Forty copies go out; thirty-eight come back; two lines are left.
#[test]
fn recalled_are_the_copies_that_are_still_out() {
    let mut register = Register::new();
    assert_eq!(register.add((1..=40).map(line).collect()), 40);
    assert_eq!(register.add((1..=40).map(line).collect()), 0, "no copy is entered twice");
    assert_eq!(register.recalled(&NEXT, &[]).len(), 40);
    let mut rows: Vec<String> = register.text().lines().map(str::to_string).collect();
    for row in &mut rows[1..=38] {
        row.push_str("2026-12-20");
    }
    let returned = Register::read(&rows.join("\n")).unwrap();
    let left = returned.recalled(&NEXT, &[]);
    assert_eq!(left.iter().map(|line| line.copy.as_str()).collect::<Vec<_>>(), ["39", "40"]);
    assert!(returned.recalled(&Edition { fingerprint: "0a1b2c3d", ..NEXT }, &[]).is_empty(), "the same edition stays");
    let earlier = Edition { number: Some(2), ..NEXT };
    assert!(returned.recalled(&earlier, &[]).is_empty() && returned.has_later(&earlier), "a later edition stays");
    let other = Edition { policy: "Another", ..NEXT };
    assert!(returned.recalled(&other, &[]).is_empty());
    assert_eq!(returned.recalled(&other, &["0A1B2C3D".into()]).len(), 2, "unless it is named");
    let elsewhere = |site| Edition { site, ..NEXT };
    let mut sited = Register::new();
    sited.add(vec![Line { site: "East".into(), ..line(1) }]);
    assert_eq!(sited.recalled(&elsewhere("East"), &[]).len(), 1);
    assert!(sited.recalled(&elsewhere("West"), &[]).is_empty(), "another site's copies stay");
}

#[test]
fn what_is_no_register_is_refused_with_the_reason() {
    let head = COLUMNS.join(",");
    for (text, why) in [
        ("a,b,c\n1,2,3\n".to_string(), "its first line has no column “policy”"),
        (head.replace(',', ";"), "its first line has no column “policy”"),
        (format!("{head},place\n"), "its first line has the column “place” twice"),
        (format!("{head}\n\na,b\n"), "its line 3 has 2 columns, and its first line has 11"),
        (format!("{head}\n\"a,b\n"), "the quotation mark on its line 2 is never closed"),
        (format!("{head}\n\""), "the quotation mark on its line 2 is never closed"),
        (format!("{head}\n\n \"\n"), "its line 3 has a quotation mark in the middle of a field"),
        (format!("{head}\n\"a\"b,c\n"), "its line 2 goes on after a closing quotation mark"),
        (format!("{head}\na\"b,c\n"), "its line 2 has a quotation mark in the middle of a field"),
    ] {
        assert_eq!(Register::read(&text).unwrap_err(), why, "{text}");
    }
    assert_eq!(Register::read("\u{feff}\r\n").unwrap().text(), Register::new().text());
}

/// A spreadsheet's own byte-order mark, columns in another order, one more column, and no line end at the end.
#[test]
fn a_register_that_went_through_a_spreadsheet_keeps_every_byte() {
    let mut columns: Vec<&str> = COLUMNS.into_iter().rev().collect();
    columns.insert(3, "remarks");
    let text =
        format!("\u{feff}{}\r\n,2026-12-01,ward,\"stained, \"\"torn\"\"\",1,1,f,Card,abcd1234,,,P", columns.join(","));
    let mut register = Register::read(&text).unwrap();
    assert_eq!((register.lines()[0].policy.as_str(), register.lines()[0].place.as_str()), ("P", "ward"));
    register.add(vec![line(7)]);
    assert!(register.text().starts_with(&format!("{text}\r\n")), "{}", register.text());
    let rows = rows(register.text());
    assert!(rows.iter().all(|row| row.len() == 12), "{rows:?}");
    assert_eq!(rows[2][columns.iter().position(|column| *column == "place").unwrap()], "exit lobby");
    assert_eq!(Register::read(register.text()).unwrap().lines()[1], line(7));
}

/// The rows as Python's csv module reads them.
fn rows(text: &str) -> Vec<Vec<String>> {
    serde_json::from_str(&python("register.py", &[], text)).unwrap()
}

/// OWASP, “CSV Injection”: a field must not begin with one of these.
const RECKONED: [char; 7] = ['=', '+', '-', '@', '\t', '\r', '\n'];

fn hostile() -> impl Strategy<Value = String> {
    let parts = prop::sample::select(vec![
        "=",
        "+",
        "-",
        "@",
        ",",
        ";",
        "\"",
        "\"\"",
        "'",
        "''=",
        "\n",
        "\r",
        "\r\n",
        "\t",
        " ",
        "HYPERLINK(1)",
        "cmd|' /C",
        "ward",
        "é",
        "＝",
        "العزل",
        "\u{feff}",
    ]);
    prop::collection::vec(parts, 0..6).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    /// RFC 4180 as Python reads it: as many rows and columns as there should be, nothing that a spreadsheet would reckon,
    /// and the names as they were.
    #[test]
    fn hostile_names_stay_names(names in prop::collection::vec((hostile(), hostile(), hostile()), 1..12)) {
        let of = |(at, (policy, aid, place)): (usize, &(String, String, String))| {
            Line { policy: policy.clone(), aid: aid.clone(), place: place.clone(), ..line(at) }
        };
        let lines: Vec<Line> = names.iter().enumerate().map(of).collect();
        let mut register = Register::new();
        register.add(lines.clone());
        let read = Register::read(register.text()).unwrap();
        prop_assert_eq!(read.lines(), &lines[..]);
        let rows = rows(register.text());
        prop_assert_eq!(rows.len(), lines.len() + 1);
        for row in &rows {
            prop_assert_eq!(row.len(), COLUMNS.len());
            for field in row {
                prop_assert!(!field.starts_with(RECKONED), "{:?}", field);
            }
        }
        let plain = |field: &str| field.strip_prefix('\'').unwrap_or(field).to_string();
        for (row, line) in rows[1..].iter().zip(&lines) {
            prop_assert!(row[0] == line.policy || plain(&row[0]) == line.policy);
        }
    }

    /// Whatever a file holds, it is read or refused, and what is read is kept.
    #[test]
    fn no_table_breaks_the_reader(text in "[a-c,;\"'\r\n=]{0,60}") {
        let text = format!("{}\n{text}", COLUMNS.join(","));
        if let Ok(mut register) = Register::read(&text) {
            register.add(vec![line(1)]);
            prop_assert!(register.text().starts_with(&text));
            prop_assert!(Register::read(register.text()).is_ok());
        }
    }
}

/// Eight runs at once, as on a shared drive.
#[test]
fn runs_at_once_lose_no_line() {
    let ward = ward();
    let path = Utf8Path::from_path(ward.path()).unwrap().join("register.csv");
    std::thread::scope(|scope| {
        for run in 0..8 {
            let path = &path;
            scope.spawn(move || (0..5).for_each(|at| assert_eq!(ledger::add(path, vec![line(run * 5 + at)]), Ok(1))));
        }
    });
    let text = fs::read_to_string(&path).unwrap();
    let copies: BTreeSet<String> = rows(&text)[1..].iter().map(|row| row[6].clone()).collect();
    assert_eq!(copies.len(), 40);
    assert_eq!(fs::read_dir(ward.path()).unwrap().count(), 1, "nothing else is left there");
}

/// The policy that `start` writes, approved and in force.
fn first_policy() -> String {
    let text = include_str!("../../src/faces/cli/first-policy.ppe");
    text.replace("{TODAY}", "1 December 2026").replace("{NEXT_YEAR}", "1 December 2027")
}

fn ticketed(text: &str) -> Vec<String> {
    let checked = checked_text(text, Day::new(2026, 12, 10).unwrap());
    let job = press::job(&checked, aids::plan(&checked), PaperSize::A4, Flip::Long);
    let made: Vec<papers::Made> = (0..job.pieces.len())
        .map(|piece| papers::Made {
            piece,
            file: format!("sheets/{piece}.pdf"),
            pages: 2,
            sha256: anteroom::policy::meaning::digest(b"abc"),
        })
        .collect();
    let Body::Form(form) = papers::ticket(&job, &made, None).body else { panic!("a ticket is a form") };
    let told = |row: &FormRow| match row {
        FormRow::Fields(fields) => {
            fields.iter().map(|f| format!("{}: {}", f.label, f.value)).collect::<Vec<_>>().join("; ")
        }
        _ => String::new(),
    };
    form.sections
        .iter()
        .flat_map(|section| std::iter::once(section.title.clone()).chain(section.rows.iter().map(told)))
        .collect()
}

/// The digest of “abc” is the first example of FIPS 180-2.
#[test]
fn the_ticket_says_what_the_print_line_asked_for() {
    let text = first_policy().replace("  on A6\n  laminated\n", "  on A6\n  both sides\n  laminated\n");
    assert!(text.contains("both sides") && text.contains("10 copies for \"trolley\""));
    let told = ticketed(&text).join("\n");
    let about = told.split("Wearer card, Taking off\n").nth(1).unwrap_or_else(|| panic!("{told}"));
    let about: Vec<&str> = about.lines().take(4).collect();
    assert!(about[0].ends_with("Copies: 10, numbered 1 to 10"), "{about:?}");
    assert!(about[1].contains("Paper: A4; Sides: both, flip on the long edge; Cut to: 105 × 148 mm"), "{about:?}");
    assert!(about[1].contains("Pieces on a sheet: 2, lying on their side"), "{about:?}");
    assert!(about[2].contains("matt") && about[2].contains("Pouch: 111 × 154 mm"), "{about:?}");
    assert!(about[3].contains("ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"), "{about:?}");
}

/// What the proof check has scanned must answer as the edition stands.
#[test]
fn the_proof_check_asks_for_the_answer_that_the_edition_gives() {
    let text = first_policy();
    let day = Day::new(2026, 12, 10).unwrap();
    for (text, answer) in [
        (text.clone(), "IN FORCE"),
        (text.replace("edition 1\n", "edition 1\nwithdrawn on 5 December 2026\n"), "WITHDRAWN"),
        (text.replace("approved by", "# approved by"), "DRAFT"),
    ] {
        let checked = checked_text(&text, day);
        let job = press::job(&checked, aids::plan(&checked), PaperSize::A4, Flip::Long);
        let Body::Form(form) = papers::proof(&job, &[]).body else { panic!("a proof check is a form") };
        let rows = form.sections.iter().flat_map(|section| &section.rows);
        let told: Vec<&str> = rows
            .filter_map(|row| if let FormRow::Entry(entry) = row { Some(entry.detail.as_str()) } else { None })
            .collect();
        let wanted = format!("It must answer {answer}, fingerprint {}.", checked.fingerprint);
        assert!(told.iter().any(|told| told.ends_with(&wanted)), "{wanted}: {told:?}");
    }
}

/// Every line of the job has its number once; nothing of a draft has one.
#[test]
fn only_what_is_in_force_is_numbered() {
    let day = Day::new(2026, 12, 10).unwrap();
    let lines = |text: &str| {
        let checked = checked_text(text, day);
        let job = press::job(&checked, aids::plan(&checked), PaperSize::A4, Flip::Long);
        let made = papers::Made { piece: 0, file: "a".into(), pages: 1, sha256: String::new() };
        assert_eq!(papers::delivery(&job, &[made]).is_none(), job.is_draft);
        job.pieces.iter().flat_map(|piece| job.lines(piece, day)).collect::<Vec<Line>>()
    };
    let issued = lines(&first_policy());
    assert_eq!(issued.len(), 12, "two posters and ten cards");
    let keys: BTreeSet<_> = issued.iter().map(|line| (&line.file, &line.copy)).collect();
    assert_eq!(keys.len(), 12);
    assert!(issued.iter().all(|line| line.issued == "2026-12-10" && line.edition == "1" && line.is_out()));
    let draft = first_policy().replace("approved by", "note approved by");
    assert_eq!(lines(&draft), []);
}

#[test]
fn a_register_that_cannot_be_read_stops_the_issue_and_is_left_as_it_is() {
    let ward = ward();
    run(&["start", "."], ward.path());
    fs::write(ward.path().join("old.csv"), "name;copy\nx;1\n").unwrap();
    let (status, _, err) = run(&["issue", "first-policy.ppe", "--register", "old.csv"], ward.path());
    assert_eq!(status, 2);
    assert_eq!(
        err,
        "Nothing is issued: old.csv cannot be read as a print register: its first line has no column “policy”.\n"
    );
    assert_eq!(fs::read_to_string(ward.path().join("old.csv")).unwrap(), "name;copy\nx;1\n");
}
