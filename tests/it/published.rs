//! Published orders of putting on and taking off, written as policies: what bodies publish breaks no law of the model,
//! and what every body rules out is flagged at the step that is wrong.
//!
//! The rows are those of the evidence that the project starts from (D, N, P and F numbers; a few numbers were never
//! given). What a row leaves out is assumed, and the notes of its file say so. Each D file also puts on in the order N1,
//! but for kits that N1 does not have.

use std::collections::BTreeSet;

use anteroom::faces::shelf::FolderShelf;
use anteroom::findings::{Finding, Kind, Signal};
use anteroom::policy::{Assumption, Day, Shield};
use anteroom::session::{self, Checked};
use camino::Utf8Path;

use crate::policies::checked;

mod rows;

use rows::{Level, PUBLISHED, RULED_OUT};

fn today() -> Day {
    Day::new(2026, 12, 2).unwrap()
}

fn path(file: &str) -> String {
    format!("tests/published/{file}.ppe")
}

fn policy(file: &str) -> Checked {
    let checked = checked(&path(file), today());
    assert!(checked.reading.problems.is_empty(), "{file}: {:?}", checked.reading.problems);
    checked
}

/// The file's policy with some of its words changed, which must be there to change.
fn changed(file: &str, words: &[(&str, &str)]) -> Checked {
    let (shelf, mut text) = FolderShelf::open(Utf8Path::new(&path(file))).unwrap_or_else(|why| panic!("{file}: {why}"));
    for (old, new) in words {
        assert!(text.contains(old), "{file} no longer holds “{old}”");
        text = text.replace(old, new);
    }
    session::check(session::read(&path(file), text, &shelf), Some(today()))
}

fn told(finding: &Finding) -> String {
    format!(
        "{} {}: {}\n    {} {:?}",
        finding.signal.word(),
        finding.name,
        finding.sentence,
        finding.message,
        finding.chain
    )
}

fn all_told(checked: &Checked) -> String {
    checked.findings.iter().map(told).collect::<Vec<_>>().join("\n")
}

fn at(checked: &Checked, signal: Signal) -> impl Iterator<Item = &Finding> {
    checked.findings.iter().filter(move |finding| finding.signal == signal)
}

fn first_line(file: &str) -> String {
    let text = std::fs::read_to_string(path(file)).unwrap_or_else(|why| panic!("{file}: {why}"));
    text.lines().next().unwrap_or_default().to_string()
}

#[test]
fn what_bodies_publish_is_no_danger() {
    for row in &PUBLISHED {
        let checked = policy(row.file);
        let dangers: Vec<String> = at(&checked, Signal::Danger).map(told).collect();
        assert!(dangers.is_empty(), "{} ({}):\n{}", row.file, row.source, dangers.join("\n"));
        // These are orders of single acts: what to do when something goes wrong, the bodies publish elsewhere.
        let of_order = |finding: &&Finding| finding.name.to_string() != "drill missing";
        let warnings: BTreeSet<String> =
            at(&checked, Signal::Warning).filter(of_order).map(|finding| finding.name.to_string()).collect();
        let explained: BTreeSet<String> = row.told.iter().map(|(name, _)| name.to_string()).collect();
        assert_eq!(warnings, explained, "{} ({}):\n{}", row.file, row.source, all_told(&checked));
        assert!(row.told.iter().all(|(_, why)| !why.is_empty()), "{}: a warning without its reason", row.file);
        let line = first_line(row.file);
        let seen = row.tag == "–" && line.contains("not in the evidence") || line.contains(&format!("[{}", row.tag));
        assert!(line.starts_with("note Source: ") && seen, "{}: “{line}” names source and tag {}", row.file, row.tag);
    }
}

/// A verdict holds for the level that the order was written for, and for no lower one.
#[test]
fn each_is_checked_at_the_level_that_it_was_written_for() {
    for row in &PUBLISHED {
        let checked = policy(row.file);
        let [level] = &checked.reading.policy.levels[..] else { panic!("{}: one level", row.file) };
        let touches = |shield: Shield| {
            level
                .margins
                .iter()
                .find(|margin| margin.shield == shield && margin.slips == 0)
                .map(|margin| margin.touches)
        };
        let written = Level {
            every_outside: level.assume == Some(Assumption::EveryOutside),
            skin: touches(Shield::Skin).unwrap_or_default(),
            face: touches(Shield::Face).unwrap_or_default(),
        };
        assert_eq!(written, row.level, "{}", row.file);
    }
}

#[test]
fn what_every_body_rules_out_is_flagged_at_its_step() {
    for row in &RULED_OUT {
        let checked = policy(row.file);
        let is_at = |finding: &Finding, (name, step): (&str, &str)| {
            finding.name.to_string() == name && finding.sentence.contains(step)
        };
        for &danger in row.dangers {
            let flagged = at(&checked, Signal::Danger).any(|finding| is_at(finding, danger));
            assert!(flagged, "{} ({}): {danger:?} is not told; told is\n{}", row.row, row.source, all_told(&checked));
        }
        for &warning in row.warnings {
            let flagged = at(&checked, Signal::Warning).any(|finding| is_at(finding, warning));
            assert!(flagged, "{} ({}): {warning:?} is not told; told is\n{}", row.row, row.source, all_told(&checked));
        }
        assert!(!(row.dangers.is_empty() && row.warnings.is_empty()), "{} must be flagged", row.row);
        for finding in at(&checked, Signal::Danger) {
            let known = row.dangers.iter().any(|&danger| is_at(finding, danger));
            assert!(known, "{} ({}) tells besides:\n{}", row.row, row.source, told(finding));
        }
        let line = first_line(row.file);
        assert!(line.starts_with(&format!("note Must be flagged. {}", row.row)), "{}: “{line}”", row.file);
    }
}

/// Every row of the evidence has its policy, and every policy of the folder is a row or a kit that rows use.
#[test]
fn no_row_is_left_out() {
    let known: BTreeSet<&str> =
        PUBLISHED.iter().flat_map(|row| row.rows).copied().chain(RULED_OUT.iter().map(|row| row.row)).collect();
    let numbered = |letter: char, numbers: &[u32]| numbers.iter().map(|number| format!("{letter}{number}")).collect();
    let wanted: [Vec<String>; 4] = [
        numbered('D', &(1..=23).collect::<Vec<_>>()),
        numbered('N', &(1..=11).collect::<Vec<_>>()),
        numbered('P', &[41, 42, 43, 44, 46, 51, 52]),
        numbered('F', &[53, 54, 55, 56, 57, 58, 60, 63]),
    ];
    for row in wanted.iter().flatten() {
        assert!(known.contains(row.as_str()), "{row} has no policy");
    }
    let files = PUBLISHED.iter().map(|row| row.file).chain(RULED_OUT.iter().map(|row| row.file));
    let mut files: BTreeSet<String> = files.map(|file| format!("{file}.ppe")).collect();
    files.extend(["general-kit", "vhf-kit", "farm-kit"].map(|kit| format!("{kit}.ppe")));
    let there: BTreeSet<String> = std::fs::read_dir("tests/published")
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .collect();
    assert_eq!(there, files);
}

/// What does not vary among the published orders of putting on, whatever their order: hands first (U11), and the seal
/// checked where a tight respirator goes on (U12). That the gloves go over the cuff (U9) follows from the edges.
#[test]
fn what_no_order_of_putting_on_leaves_out_is_missed() {
    let mut sealed = 0;
    for row in PUBLISHED.iter().filter(|row| row.rows[0].starts_with('N')) {
        let names =
            |checked: &Checked| -> Vec<String> { checked.findings.iter().map(|f| f.name.to_string()).collect() };
        let washes = if row.file == "n6" { "soap and water for 40 seconds" } else { "hand rub for 30 seconds" };
        let unwashed = changed(row.file, &[(&format!("wearer cleans hands with {washes}"), "note Hands")]);
        assert_eq!(names(&unwashed), ["hygiene first"], "{}:\n{}", row.file, all_told(&unwashed));
        if policy(row.file).reading.policy.holds().any(|hold| hold.hold.title == "Seal") {
            let elsewhere =
                [("hold \"Seal\"", "hold \"Face\""), ("No air escapes when the wearer breathes out hard.", "It sits.")];
            let unsealed = changed(row.file, &elsewhere);
            assert_eq!(names(&unsealed), ["kit seal"], "{}:\n{}", row.file, all_told(&unsealed));
            sealed += 1;
        }
    }
    assert_eq!(sealed, 9, "all but N3 and N5, which are kept with a mask");
}

/// A torn inner glove is taken off beneath the sleeve, the bare hands are cleaned and a fresh one put on (CDC training
/// modules, 2014, gown, page 9 [S]): no other reason excuses it, nor does going on without a fresh one.
#[test]
fn only_a_torn_glove_comes_off_beneath_the_sleeve() {
    let covered = |checked: &Checked| {
        let found =
            |finding: &&Finding| finding.name.to_string() == "order covered" && finding.signal == Signal::Danger;
        checked.findings.iter().filter(found).count()
    };
    for file in ["a3-gown", "a3-coverall"] {
        assert_eq!(covered(&policy(file)), 0, "{file}");
        let wet = changed(file, &[("if inner gloves are torn", "if inner gloves are wet")]);
        assert_eq!(covered(&wet), 1, "{file}:\n{}", all_told(&wet));
        let bare = changed(file, &[("puts on fresh inner gloves\n  end if", "checks inner gloves\n  end if")]);
        assert_eq!(covered(&bare), 1, "{file}:\n{}", all_told(&bare));
    }
}

/// A rule that follows from no law of the model names the bodies that give it.
#[test]
fn guidance_names_its_source() {
    for row in &RULED_OUT {
        for finding in policy(row.file).findings.iter().filter(|finding| finding.kind == Kind::Guidance) {
            assert!(finding.source.as_ref().is_some_and(|source| source.len() > 10), "{}", told(finding));
        }
    }
}
