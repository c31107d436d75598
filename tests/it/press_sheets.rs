//! The sheets and papers of a job as other programs see them: poppler, qpdf, pikepdf, Python's csv.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use anteroom::aids::plan::{Aid, Body, Layout, Quantity};
use anteroom::policy::PaperSize;
use anteroom::press::Piece;
use anteroom::press::finish::slot;
use anteroom::press::imposition::{BLEED, BORDER, Flip, SAFE};
use anteroom::typeset::{Printed, typeset, typeset_sheets};

use crate::commands::{run, ward};
use crate::oracle::{program, python};
use crate::typeset_fixtures as fixtures;

const MM: f64 = 72.0 / 25.4;

/// A title and a level that stand on every face and nowhere else on it.
const TITLE: &str = "Quillons";
const LEVEL: &str = "Mistral";

fn card(paper: PaperSize, layout: Layout) -> Aid {
    let steps = if paper == PaperSize::A7 { fixtures::steps(1) } else { fixtures::taking_off(true) };
    let mut aid = fixtures::aid(layout, paper, TITLE, Body::Steps(steps));
    aid.control.level = LEVEL.into();
    if paper == PaperSize::A7 {
        // The code takes a good part of so small a foot: long titles and names have no room beside it.
        (aid.control.policy, aid.control.owner) = ("Isolation suite".into(), "Owner: Infection Prevention".into());
        aid.control.approval = "Approved by Infection Control Committee on 2 November 2026".into();
        aid.control.code = "anteroom 3fa9c2d1 edition 4\nIsolation suite".into();
    }
    aid.both_sides = true;
    aid.quantities = vec![Quantity { count: 3, place: Some("exit lobby".into()) }];
    aid
}

/// A file on disk, for the tools to read.
struct Pdf {
    folder: tempfile::TempDir,
    path: String,
}

fn written(pdf: &[u8]) -> Pdf {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("sheets.pdf").to_string_lossy().into_owned();
    fs::write(&path, pdf).unwrap();
    Pdf { folder, path }
}

fn sheets(piece: &Piece) -> (Pdf, usize) {
    let copies: Vec<Printed> = piece.copies.iter().map(|copy| typeset(&piece.numbered(copy)).unwrap()).collect();
    let sheets = typeset_sheets(piece, &copies).unwrap_or_else(|fault| panic!("{fault}"));
    (written(&sheets.pdf), sheets.pages)
}

fn piece(paper: PaperSize, sheet: PaperSize, flip: Flip) -> Piece {
    Piece::new(card(paper, Layout::Card), false, sheet, flip).unwrap()
}

/// A point in millimetres from the top left of a page.
type At = (f64, f64);

/// The centres of a word on a page, by poppler.
fn centres(pdf: &Pdf, page: usize, word: &str) -> Vec<At> {
    let page = page.to_string();
    let told = program("pdftotext", &["-bbox", "-f", &page, "-l", &page, &pdf.path, "-"]);
    let number = |line: &str, name: &str| -> f64 {
        line.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next()?.parse().ok()).unwrap()
    };
    let is_it = |line: &&str| line.contains(&format!(">{word}</word>"));
    let centre = |line: &str| {
        let middle = |one: &str, other: &str| (number(line, one) + number(line, other)) / 2.0 / MM;
        (middle("xMin", "xMax"), middle("yMin", "yMax"))
    };
    told.lines().filter(is_it).map(centre).collect()
}

/// The centre of each piece on a page and the way its top points, from where two of its words stand on its own page.
fn pieces_on(sheet: &Pdf, page: usize, own: &Pdf, trim: At) -> Vec<(At, At)> {
    let (title, level) = (centres(own, 1, TITLE)[0], centres(own, 1, LEVEL)[0]);
    let (titles, levels) = (centres(sheet, page, TITLE), centres(sheet, page, LEVEL));
    assert_eq!(titles.len(), levels.len());
    let minus = |one: At, other: At| (one.0 - other.0, one.1 - other.1);
    let length = |at: At| at.0.hypot(at.1);
    let (across, to_centre) = (minus(level, title), minus((trim.0 / 2.0, trim.1 / 2.0), title));
    titles
        .iter()
        .map(|&at| {
            let nearest = levels.iter().map(|&other| minus(other, at));
            let seen = nearest
                .min_by(|a, b| (length(*a) - length(across)).abs().total_cmp(&(length(*b) - length(across)).abs()));
            let seen = seen.unwrap();
            assert!((length(seen) - length(across)).abs() < 0.05, "nothing is scaled: {seen:?} {across:?}");
            let angle = seen.1.atan2(seen.0) - across.1.atan2(across.0);
            let turned = |(x, y): At| (x * angle.cos() - y * angle.sin(), x * angle.sin() + y * angle.cos());
            let (dx, dy) = turned(to_centre);
            ((at.0 + dx, at.1 + dy), turned((0.0, -1.0)))
        })
        .collect()
}

/// Front and back of each piece are measured in the PDF; the sheet is turned about its edge in thought.
#[test]
fn fronts_and_backs_meet_for_both_flips() {
    for (paper, sheet) in
        [(PaperSize::A6, PaperSize::A4), (PaperSize::A6, PaperSize::A3), (PaperSize::A5, PaperSize::A3)]
    {
        for flip in [Flip::Long, Flip::Short] {
            let piece = piece(paper, sheet, flip);
            let own = written(&typeset(&piece.numbered(&piece.copies[0])).unwrap().pdf);
            let (sheets, pages) = sheets(&piece);
            let trim = (piece.grid.trim.width, piece.grid.trim.height);
            let (width, height) = sheet.millimetres();
            let mut pairs = 0;
            for front in (1..=pages).step_by(2) {
                let fronts = pieces_on(&sheets, front, &own, trim);
                for (at, up) in pieces_on(&sheets, front + 1, &own, trim) {
                    let through = match flip {
                        Flip::Long => ((f64::from(width) - at.0, at.1), (-up.0, up.1)),
                        Flip::Short => ((at.0, f64::from(height) - at.1), (up.0, -up.1)),
                    };
                    let meets = |(front, top): &&(At, At)| {
                        (front.0 - through.0.0).hypot(front.1 - through.0.1) <= 0.1
                            && (top.0 - through.1.0).hypot(top.1 - through.1.1) <= 0.01
                    };
                    assert!(
                        fronts.iter().any(|front| meets(&front)),
                        "{paper:?} {sheet:?} {flip:?} {through:?} {fronts:?}"
                    );
                    pairs += 1;
                }
            }
            assert!(pairs >= 3, "{pairs} pairs were measured");
        }
    }
}

/// A page as grey levels, rendered by poppler.
struct Picture {
    width: usize,
    grey: Vec<u8>,
    per_mm: f64,
}

fn rendered(pdf: &Pdf, page: usize, dpi: u32) -> Picture {
    let to = pdf.folder.path().join("page");
    let (page, dpi_word) = (page.to_string(), dpi.to_string());
    let stem = to.to_string_lossy().into_owned();
    program("pdftoppm", &["-r", &dpi_word, "-gray", "-singlefile", "-f", &page, "-l", &page, &pdf.path, &stem]);
    let bytes = fs::read(to.with_extension("pgm")).unwrap();
    let mut at = 0;
    let mut head = Vec::new();
    while head.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).unwrap();
        head.push(String::from_utf8(bytes[at..end].to_vec()).unwrap());
        at = end + 1;
    }
    assert_eq!(head[0], "P5");
    Picture { width: head[1].parse().unwrap(), grey: bytes[at..].to_vec(), per_mm: f64::from(dpi) / 25.4 }
}

impl Picture {
    fn row(&self, y: usize) -> &[u8] {
        &self.grey[y * self.width..(y + 1) * self.width]
    }

    fn height(&self) -> usize {
        self.grey.len() / self.width
    }

    /// The darkest grey in a rectangle of millimetres.
    fn darkest(&self, left: f64, top: f64, width: f64, height: f64) -> u8 {
        let pixel = |at: f64| (at * self.per_mm).round() as usize;
        let rows = pixel(top)..pixel(top + height).min(self.height());
        let columns = pixel(left)..pixel(left + width).min(self.width);
        rows.flat_map(|y| &self.row(y)[columns.clone()]).copied().min().unwrap_or(255)
    }
}

/// The bar is ink from its first to its last block: its length in the rendered page, along the foot or up the side.
fn bar(picture: &Picture, upright: bool) -> f64 {
    let of = |line: Vec<u8>| {
        let ink: Vec<usize> = line.iter().enumerate().filter(|(_, grey)| **grey < 128).map(|(at, _)| at).collect();
        // The bar comes first; words follow after a gap, which the white blocks of the bar are not on its upper line.
        let mut end = 0;
        while end + 1 < ink.len() && ink[end + 1] == ink[end] + 1 {
            end += 1;
        }
        ink.first().map_or(0, |first| ink[end] - first + 1)
    };
    let strip = (BORDER * picture.per_mm) as usize;
    let lines: Vec<Vec<u8>> = if upright {
        let column = |x: usize| (0..picture.height()).rev().map(|y| picture.row(y)[x]).collect();
        (0..2 * strip).map(column).collect()
    } else {
        (picture.height() - 2 * strip..picture.height()).map(|y| picture.row(y).to_vec()).collect()
    };
    lines.into_iter().map(of).max().unwrap_or(0) as f64 / picture.per_mm
}

/// A steel rule of 600 dots an inch: 50.0 mm, to the dot.
#[test]
fn the_bar_is_fifty_millimetres_on_every_sheet() {
    for (paper, sheet) in
        [(PaperSize::A6, PaperSize::A4), (PaperSize::A5, PaperSize::A3), (PaperSize::A4, PaperSize::A4)]
    {
        let layout = if paper == PaperSize::A4 { Layout::Poster } else { Layout::Card };
        let mut aid = card(paper, layout);
        aid.read_from_mm = (layout == Layout::Poster).then_some(700);
        let piece = Piece::new(aid, false, sheet, Flip::Long).unwrap();
        let (sheets, pages) = sheets(&piece);
        for page in [1, pages] {
            let picture = rendered(&sheets, page, 600);
            let length = bar(&picture, piece.grid.strip_is_at_the_side());
            assert!((length - 50.0).abs() <= 0.1, "{paper:?} on {sheet:?}, page {page}: {length} mm");
        }
    }
}

/// ISO 32000-1, 14.11.2: the trim lies in the bleed and the bleed in the sheet; read by pikepdf.
#[test]
fn every_page_has_its_boxes() {
    for (paper, sheet) in [(PaperSize::A6, PaperSize::A4), (PaperSize::A7, PaperSize::A3)] {
        let piece = piece(paper, sheet, Flip::Long);
        let (sheets, pages) = sheets(&piece);
        let told: Vec<serde_json::Map<String, serde_json::Value>> =
            serde_json::from_str(&python("boxes.py", &[&sheets.path], "")).unwrap();
        assert_eq!(told.len(), pages);
        let (_, _, block) = piece.grid.block();
        for page in told {
            let of = |name: &str| -> Vec<f64> { serde_json::from_value(page[name].clone()).unwrap_or_default() };
            let (media, trim, bleed) = (of("MediaBox"), of("TrimBox"), of("BleedBox"));
            let (width, height) = sheet.millimetres();
            assert!(
                (media[2] - f64::from(width) * MM).abs() < 0.01 && (media[3] - f64::from(height) * MM).abs() < 0.01
            );
            for at in 0..4 {
                let outwards = if at < 2 { -1.0 } else { 1.0 };
                assert!((bleed[at] - (trim[at] + outwards * BLEED * MM)).abs() < 0.002, "{trim:?} {bleed:?}");
            }
            assert!((bleed[2] - bleed[0] - block.width * MM).abs() < 0.002);
            assert!(bleed[0] > media[0] && bleed[1] > media[1] && bleed[2] < media[2] && bleed[3] < media[3]);
        }
        program("qpdf", &["--check", &sheets.path]);
    }
}

#[test]
fn every_copy_says_its_number_on_every_face_and_the_bytes_are_the_same_again() {
    let piece = piece(PaperSize::A6, PaperSize::A3, Flip::Long);
    let (first, _) = sheets(&piece);
    let (second, _) = sheets(&piece);
    assert!(fs::read(&first.path).unwrap() == fs::read(&second.path).unwrap());
    let faces = typeset(&piece.aid).unwrap().pages;
    let text = program("pdftotext", &["-raw", &first.path, "-"]).split_whitespace().collect::<Vec<_>>().join(" ");
    for number in 1..=3 {
        assert_eq!(text.matches(&format!("Copy {number} of 3, for exit lobby")).count(), faces, "{text}");
    }
    assert!(text.contains("50.0 mm card-") || text.contains("50.0 mm observer-card"), "{text}");
    assert!(text.contains(&piece.aid.control.fingerprint) && text.contains("flip on the long edge"));
    let fonts = program("pdffonts", &[&first.path]);
    assert!(fonts.lines().skip(2).all(|font| font.contains(" yes yes ")), "{fonts}");
}

/// Nothing but the slot's own outline lies where it is punched or near it; nothing is printed at the very edge, so that the
/// bleed needs no artwork; and words keep 5 mm from the cut.
#[test]
fn nothing_lies_under_the_slot_or_at_the_edge() {
    let hung = |layout, paper, body| {
        let mut aid = fixtures::aid(layout, paper, "Taking off", body);
        aid.read_from_mm = Some(700);
        aid
    };
    let aids = [
        card(PaperSize::A6, Layout::Card),
        card(PaperSize::A7, Layout::Card),
        card(PaperSize::A5, Layout::Card),
        hung(Layout::Poster, PaperSize::A2, Body::Steps(fixtures::taking_off(false))),
        hung(Layout::KitList, PaperSize::A5, Body::Kit(fixtures::kit())),
    ];
    for aid in aids {
        let printed = typeset(&aid).unwrap_or_else(|fault| panic!("{fault}"));
        let pdf = written(&printed.pdf);
        let (width, height) = aid.paper.millimetres();
        let (width, height) = (f64::from(width), f64::from(height));
        for page in 1..=printed.pages {
            let picture = rendered(&pdf, page, 100);
            for (left, top, wide, high) in [
                (0.0, 0.0, width, 2.0),
                (0.0, height - 2.0, width, 2.0),
                (0.0, 0.0, 2.0, height),
                (width - 2.0, 0.0, 2.0, height),
            ] {
                assert_eq!(picture.darkest(left, top, wide, high), 255, "{:?} reaches its edge", aid.layout);
            }
            let told =
                program("pdftotext", &["-bbox", "-f", &page.to_string(), "-l", &page.to_string(), &pdf.path, "-"]);
            for line in told.lines().filter(|line| line.contains("<word")) {
                let at: Vec<f64> =
                    line.split('"').skip(1).step_by(2).map(|at| at.parse::<f64>().unwrap() / MM).collect();
                // The boxes are as tall as the font; the letters are not.
                assert!(at[0] >= SAFE - 0.01 && at[2] <= width - SAFE + 0.01, "{line}");
                if anteroom::press::has_slot(&aid) {
                    assert!(at[3] > slot::KEEP_OUT, "a word in the slot's way: {line}");
                }
            }
            if anteroom::press::has_slot(&aid) {
                let (middle, half) = (width / 2.0, slot::WIDTH / 2.0);
                let ring = slot::CLEAR - 0.5;
                assert_eq!(picture.darkest(middle - half - ring, 0.0, ring - 0.5, slot::KEEP_OUT - 0.3), 255);
                assert_eq!(picture.darkest(middle + half + 0.5, 0.0, ring - 0.5, slot::KEEP_OUT - 0.3), 255);
                let beneath = slot::FROM_EDGE + slot::HEIGHT + 0.4;
                assert_eq!(picture.darkest(middle - half, beneath, slot::WIDTH, slot::CLEAR - 0.8), 255);
                assert!(
                    picture.darkest(middle - half, slot::FROM_EDGE - 0.3, slot::WIDTH, slot::HEIGHT + 0.6) < 255,
                    "it is drawn"
                );
            }
        }
    }
}

fn files_in(folder: &Path) -> BTreeSet<String> {
    let names = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap());
    names.collect()
}

fn job_folder(out: &Path) -> PathBuf {
    let folders = fs::read_dir(out).unwrap().map(|entry| entry.unwrap().path());
    folders.filter(|path| path.is_dir()).max_by_key(|path| fs::metadata(path).unwrap().modified().unwrap()).unwrap()
}

fn text_of(path: &Path) -> String {
    program("pdftotext", &["-raw", path.to_str().unwrap(), "-"]).split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whatever stands on a page of the ticket stands there with its hash; nobody signs on a page of its own.
#[test]
fn what_belongs_together_stays_on_its_page() {
    let ward = ward();
    for name in ["side-rooms.ppe", "common.ppe"] {
        fs::copy(Path::new("policies").join(name), ward.path().join(name)).unwrap();
    }
    let (status, out, err) = run(&["issue", "side-rooms.ppe", "--today", "2026-12-10"], ward.path());
    assert_eq!((status, err.as_str()), (0, ""), "{out}");
    let pages = |name: &str| -> Vec<String> {
        let path = job_folder(&ward.path().join("out")).join(name);
        let text = program("pdftotext", &["-raw", path.to_str().unwrap(), "-"]);
        text.split_terminator('\u{c}').map(str::to_string).collect()
    };
    let ticket = pages("job-ticket.pdf");
    assert!(ticket.len() > 2, "too short a job to part anything");
    for page in &ticket {
        assert_eq!(page.matches("Pieces on a sheet").count(), page.matches("SHA-256").count(), "{page}");
        assert!(!page.contains("continued"), "{page}");
    }
    for page in pages("delivery-sheet.pdf").iter().chain(&pages("proof-check.pdf")) {
        let signed = page.find("Name and signature").unwrap_or(page.len());
        let table = page.find("Received").or(page.find("Measured")).expect("a table");
        assert!(table < signed, "{page}");
    }
}

/// Edition 1 goes out, is changed, and goes out again: the register grows and the older copies are called back.
#[test]
fn an_edition_is_issued_and_then_superseded() {
    let ward = ward();
    run(&["start", "."], ward.path());
    let (status, out, err) = run(&["issue", "first-policy.ppe", "--register", "register.csv"], ward.path());
    assert_eq!((status, err.as_str()), (0, ""), "{out}");
    assert!(out.contains("register.csv holds 12 copies more.\n"), "{out}");
    let job = job_folder(&ward.path().join("out"));
    assert_eq!(
        files_in(&job),
        BTreeSet::from(["aids", "sheets", "job-ticket.pdf", "proof-check.pdf", "delivery-sheet.pdf"].map(String::from))
    );
    assert_eq!(files_in(&job.join("sheets")), files_in(&job.join("aids")));
    let ticket = text_of(&job.join("job-ticket.pdf"));
    for sheet in files_in(&job.join("sheets")) {
        let path = job.join("sheets").join(&sheet);
        program("qpdf", &["--check", path.to_str().unwrap()]);
        let digest = program("sha256sum", &[path.to_str().unwrap()]);
        assert!(ticket.contains(&format!("sheets/{sheet}")) && ticket.contains(&digest[..64]), "{sheet}: {ticket}");
    }
    for paper in ["job-ticket", "proof-check", "delivery-sheet"] {
        let text = text_of(&job.join(format!("{paper}.pdf")));
        assert!(text.contains("Local codes, the manufacturer"), "the caution stands on {paper}");
    }
    let (_, out, _) = run(&["issue", "first-policy.ppe", "--register", "register.csv"], ward.path());
    assert!(out.contains("register.csv holds these 12 copies already.\n"), "{out}");
    let register = fs::read_to_string(ward.path().join("register.csv")).unwrap();
    let text = fs::read_to_string(ward.path().join("first-policy.ppe")).unwrap();
    let second = text.replace("edition 1", "edition 2").replace("for 40 seconds", "for 60 seconds");
    assert_ne!(text, second);
    fs::write(ward.path().join("first-policy.ppe"), second).unwrap();
    let (_, out, _) = run(&["issue", "first-policy.ppe", "--register", "register.csv"], ward.path());
    assert!(out.contains("12 copies of older editions are still out: take them down and destroy them.\n"), "{out}");
    let recall = text_of(&job_folder(&ward.path().join("out")).join("recall-sheet.pdf"));
    for number in 1..=10 {
        assert!(recall.contains(&format!("Wearer card, Taking off: copy {number} of 10 Edition 1, ")), "{recall}");
    }
    let now = fs::read_to_string(ward.path().join("register.csv")).unwrap();
    assert!(now.starts_with(&register) && now.lines().count() == 25, "{now}");
}

#[test]
fn a_draft_is_proved_and_enters_nothing() {
    let ward = ward();
    run(&["start", "."], ward.path());
    let text = fs::read_to_string(ward.path().join("first-policy.ppe")).unwrap();
    fs::write(ward.path().join("first-policy.ppe"), text.replace("approved by", "note approved by")).unwrap();
    let (_, out, _) = run(&["issue", "first-policy.ppe"], ward.path());
    assert!(out.contains("A draft is proved only: no copy is numbered, and none enters the register.\n"), "{out}");
    let out = ward.path().join("out");
    assert!(!out.join("print-register.csv").exists());
    let job = job_folder(&out);
    assert!(!job.join("delivery-sheet.pdf").exists());
    for sheet in files_in(&job.join("sheets")) {
        let text = text_of(&job.join("sheets").join(&sheet));
        assert!(
            text.contains("DRAFT") && text.contains("Proof, not for the ward") && !text.contains("Copy 1"),
            "{sheet}: {text}"
        );
    }
}
