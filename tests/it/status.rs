//! Where every policy stands: the review dates of all, what is due first, and the faces of it that other programs read.
//! Dates by dateutil and the library icalendar; comma-separated values by Python's csv; JSON by jsonschema.

use std::fs;
use std::path::Path;

use anteroom::overview::csv::COLUMNS;
use anteroom::policy::Day;
use proptest::prelude::*;
use serde_json::Value;

use crate::commands::{anteroom, run, told, ward};
use crate::oracle::python;

fn on(day: &str) -> Day {
    Day::from_iso(day).expect("a day")
}

/// A small policy that is in force, with lines of document control put in the place of others.
fn policy(title: &str, changes: &[(&str, &str)]) -> String {
    let text = fs::read_to_string("src/faces/cli/first-policy.ppe").expect("the first policy");
    let mut text = text.replace("{TODAY}", "1 October 2026").replace("{NEXT_YEAR}", "30 November 2027");
    let first = text.lines().find(|line| line.starts_with("policy ")).expect("a title").to_owned();
    text = text.replacen(&first, &format!("policy \"{title}\""), 1);
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    text
}

const REVIEW: &str = "review by 30 November 2027";

/// Month arithmetic as dateutil does it: 31 August and six months, 29 February and a year, quarters from 31 January.
#[test]
fn months_end_where_the_calendar_ends_them() {
    assert_eq!(on("2026-08-31").months_on(6), Some(on("2027-02-28")));
    assert_eq!(on("2024-02-29").months_on(12), Some(on("2025-02-28")));
    let quarters: Vec<String> =
        (0..4).filter_map(|at| on("2027-01-31").months_on(3 * at)).map(|day| day.0.to_string()).collect();
    assert_eq!(quarters, ["2027-01-31", "2027-04-30", "2027-07-31", "2027-10-31"]);
    // A public hospital trust's procedural documents policy: the review begins six months before the date.
    assert_eq!(on("2027-11-30").months_on(-6), Some(on("2027-05-30")));
    assert_eq!(Day::from_iso("2027-11-31"), None);
    assert_eq!(Day::new(2027, 11, 31), None);
    assert_eq!(on("9999-12-31").months_on(1), None);
    assert_eq!(on("2026-12-01").days_until(on("2026-11-30")), -1);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 8, ..ProptestConfig::default() })]

    #[test]
    fn months_are_those_of_dateutil(asked in prop::collection::vec((1990i16..2090, 1i8..=12, 1i8..=31, -60i32..60), 50)) {
        let asked: Vec<(Day, i32)> =
            asked.into_iter().filter_map(|(y, m, d, months)| Some((Day::new(y, m, d)?, months))).collect();
        let theirs: Vec<String> =
            serde_json::from_str(&python("months.py", &[], &serde_json::to_string(&asked).unwrap())).unwrap();
        let ours: Vec<String> =
            asked.iter().map(|(day, months)| day.months_on(*months).unwrap().0.to_string()).collect();
        prop_assert_eq!(ours, theirs);
    }
}

/// A ward's policies, each with something else due.
fn some_policies(folder: &Path) {
    let keep = |name: &str, text: &str| {
        let path = folder.join(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        fs::write(path, text).expect("written");
    };
    keep("wards/late.ppe", &policy("Late", &[(REVIEW, "review by 1 November 2026")]));
    keep("wards/soon.ppe", &policy("=1+1, Soon; odd", &[(REVIEW, "review by 31 March 2027")]));
    keep("wards/far.ppe", &policy("Far", &[]));
    keep("old/far.ppe", &policy("Far", &[("edition 1", "edition 0")]));
    let accept = "accept order covered at \"Putting on\" because \"The gown arrives in May.\" until";
    keep("wards/lapses.ppe", &(policy("Lapses", &[]) + &format!("\n{accept} 15 January 2027\n")));
    keep("wards/lapsed.ppe", &(policy("Lapsed", &[]) + &format!("\n{accept} 15 November 2026\n")));
    keep("wards/shared.ppe", "item gloves\n  covers hands\n");
    keep("wards/gone.ppe", &policy("Gone", &[("edition 1", "edition 1\nwithdrawn on 2 November 2026")]));
}

fn json(folder: &Path, more: &[&str]) -> (i32, Value) {
    let (status, out, err) = run(&[&["status", "--json", "--today", "2026-12-01", "."], more].concat(), folder);
    (status, serde_json::from_str(&out).unwrap_or_else(|error| panic!("{error}: {out}{err}")))
}

fn title(policy: &Value) -> &str {
    policy["title"].as_str().expect("a title")
}

#[test]
fn what_is_due_first_comes_first() {
    let ward = ward();
    some_policies(ward.path());
    let (status, told) = json(ward.path(), &[]);
    assert_eq!(status, 1);
    let policies = told["policies"].as_array().expect("policies");
    let facts: Vec<_> = policies
        .iter()
        .map(|policy| {
            let review = policy["review"]["days_left"].as_i64();
            let action = policy["needs_action"].as_bool();
            (
                title(policy),
                policy["edition"].as_u64(),
                policy["state"].as_str(),
                policy["due"].as_str(),
                action,
                review,
            )
        })
        .collect();
    // Days counted by Python: date(2027, 11, 30) - date(2026, 12, 1) and so on.
    let expected = [
        ("Late", Some(1), Some("draft"), Some("2026-11-01"), Some(true), Some(-30)),
        ("Lapsed", Some(1), Some("in_force"), Some("2026-11-15"), Some(true), Some(364)),
        ("Lapses", Some(1), Some("in_force"), Some("2027-01-15"), Some(false), Some(364)),
        ("=1+1, Soon; odd", Some(1), Some("in_force"), Some("2027-03-31"), Some(false), Some(120)),
        ("Far", Some(1), Some("in_force"), Some("2027-11-30"), Some(false), Some(364)),
        ("Far", Some(0), Some("superseded"), None, Some(false), Some(364)),
        ("Gone", Some(1), Some("withdrawn"), None, Some(false), Some(364)),
    ];
    assert_eq!(facts, expected);
    assert_eq!(policies[3]["review"]["opens"], "2026-09-30");
    assert_eq!(policies[2]["exceptions"][0]["days_left"], 45);
    let (_, narrow) = json(ward.path(), &["--soon", "44"]);
    let lapses = narrow["policies"].as_array().unwrap().iter().find(|policy| title(policy) == "Lapses").unwrap();
    assert_eq!(lapses["exceptions"], Value::Array(Vec::new()), "45 days are not soon where 44 are");
    assert_eq!(lapses["due"], "2027-11-30");
}

#[test]
fn the_exit_status_says_whether_somebody_is_needed() {
    let ward = ward();
    fs::write(ward.path().join("far.ppe"), policy("Far", &[])).unwrap();
    let status = |more: &[&str]| run(&[&["status", "--today", "2026-12-01"], more].concat(), ward.path());
    let (ended, out, err) = status(&["far.ppe"]);
    assert_eq!((ended, err.as_str()), (0, ""), "{out}");
    assert!(out.starts_with("On 1 December 2026, 1 policy. None needs somebody today.\n"), "{out}");
    assert!(out.contains("Far, edition 1: IN FORCE. Review by 30 November 2027, 364 days left.\n"), "{out}");
    assert!(out.contains("  Its review opens on 30 May 2027.\n"), "{out}");
    let (ended, out, err) = status(&["far.ppe", "none.ppe", "nowhere"]);
    assert!(ended == 2 && out.contains("Far") && err.contains("none.ppe cannot be read"), "{out}{err}");
    let danger = policy("Far", &[("  wearer cleans hands with soap and water for 40 seconds\n", "")]);
    fs::write(ward.path().join("far.ppe"), danger).unwrap();
    assert_eq!(status(&["."]).0, 1, "something stands open at DANGER");
}

#[test]
fn translations_that_the_policy_has_left_behind_are_told() {
    let ward = ward();
    for file in ["side-rooms.ppe", "common.ppe", "side-rooms.fr.words", "side-rooms.ar.words"] {
        fs::copy(Path::new("policies").join(file), ward.path().join(file)).expect("the demonstration");
    }
    let (_, told) = json(ward.path(), &[]);
    let of = |told: &Value| told["policies"][0]["translations"].clone();
    let before = of(&told);
    assert_eq!(before.as_array().map(Vec::len), Some(2), "{before}");
    assert!(before.as_array().unwrap().iter().all(|words| words["stale"] == false), "{before}");
    let path = ward.path().join("side-rooms.ppe");
    let text = fs::read_to_string(&path).unwrap().replace("for 30 seconds", "for 40 seconds");
    fs::write(&path, text).unwrap();
    let (status, told) = json(ward.path(), &[]);
    let after = of(&told);
    assert!(after.as_array().unwrap().iter().all(|words| words["stale"] == true), "{after}");
    assert_eq!((status, &told["policies"][0]["needs_action"]), (1, &Value::Bool(true)));
    let french = fs::read_to_string(ward.path().join("side-rooms.fr.words")).unwrap();
    let unsigned: String =
        french.lines().filter(|line| !line.starts_with("translated by")).map(|line| format!("{line}\n")).collect();
    fs::write(ward.path().join("side-rooms.fr.words"), unsigned).unwrap();
    let (_, out, _) = run(&["status", "--today", "2026-12-01", "."], ward.path());
    assert!(out.contains("side-rooms.fr.words: The policy has changed since it was translated.\n"), "{out}");
    assert!(out.contains("side-rooms.fr.words: Nobody has signed this translation.\n"), "{out}");
}

#[test]
fn its_json_is_of_the_published_schema() {
    let ward = ward();
    some_policies(ward.path());
    let (_, told) = json(ward.path(), &["none.ppe"]);
    assert_eq!(told["unread"][0]["file"], "none.ppe");
    let schema = ward.path().join("schema.json");
    fs::write(&schema, run(&["schema", "status"], ward.path()).1).unwrap();
    let judged = |told: &Value| python("schema.py", &[schema.to_str().unwrap()], &told.to_string());
    assert_eq!(judged(&told), "valid\n");
    for field in ["state", "due", "review", "findings", "exceptions", "translations"] {
        let mut broken = told.clone();
        broken["policies"][0].as_object_mut().unwrap().remove(field);
        assert!(judged(&broken).contains(field), "the schema has teeth: {field}");
    }
}

#[test]
fn its_table_is_read_by_a_spreadsheet() {
    let ward = ward();
    some_policies(ward.path());
    let (status, out, _) = run(&["status", "--csv", "--today", "2026-12-01", "."], ward.path());
    assert_eq!(status, 1);
    let rows: Vec<Vec<String>> = serde_json::from_str(&python("register.py", &[], &out)).unwrap();
    assert_eq!(rows[0], COLUMNS);
    assert_eq!(rows.len(), 8);
    let column = |name: &str| COLUMNS.iter().position(|column| *column == name).unwrap();
    assert_eq!((rows[1][column("days left")].as_str(), rows[1][column("state")].as_str()), ("-30", "DRAFT"));
    assert_eq!(rows[4][column("policy")], "'=1+1, Soon; odd", "a spreadsheet reckons with nothing");
    assert_eq!(rows[4][column("review by")], "2027-03-31");
    assert!(rows[2][column("remarks")].contains("has lapsed: it ended on 15 November 2026."), "{:?}", rows[2]);
    assert!(out.lines().all(|line| !line.starts_with(['=', '+', '-', '@'])), "{out}");
}

/// RFC 5545, section 3.1: lines end in CRLF and hold at most 75 octets; section 3.6.1: an event of a whole day.
#[test]
fn its_calendar_is_read_by_another_program() {
    let ward = ward();
    some_policies(ward.path());
    let long = policy(&"Ärztlicher Dienst, Schleuse; Süd \\ ".repeat(5), &[]);
    fs::write(ward.path().join("wards/long.ppe"), long).unwrap();
    let calendar = |day: &str, name: &str| {
        let (_, out, err) = run(&["status", "--calendar", name, "--today", day, "."], ward.path());
        assert!(out.contains(&format!("The review dates are in {name}.")), "{out}{err}");
        fs::read_to_string(ward.path().join(name)).unwrap()
    };
    let text = calendar("2026-12-01", "reviews.ics");
    assert_eq!(text, calendar("2026-12-01", "again.ics"), "the same on the same day");
    assert!(text.split_inclusive("\r\n").all(|line| line.ends_with("\r\n") && line.len() <= 77), "{text}");
    assert!(!text.replace("\r\n", "").contains(['\r', '\n']) && !text.contains("RRULE"));
    let read = |text: &str| -> Vec<Value> { serde_json::from_str(&python("ics.py", &[], text)).unwrap() };
    let events = read(&text);
    let days: Vec<(&str, &str)> = events
        .iter()
        .map(|event| (event["summary"].as_str().unwrap(), event["day"].as_str().unwrap()))
        .filter(|(summary, _)| {
            summary.ends_with("Far, edition 1") || summary.contains("Soon") || summary.contains("Late")
        })
        .collect();
    let expected = [
        ("Review opens: =1+1, Soon; odd, edition 1", "2026-09-30"),
        ("Review due: =1+1, Soon; odd, edition 1", "2027-03-31"),
        ("Review opens: Far, edition 1", "2027-05-30"),
        ("Review due: Far, edition 1", "2027-11-30"),
        ("Review opens: Late, edition 1", "2026-05-01"),
        ("Review due: Late, edition 1", "2026-11-01"),
    ];
    assert_eq!(days, expected);
    assert!(events.iter().any(|event| event["summary"].as_str().unwrap().contains("Süd \\ Ärztlicher")), "{events:?}");
    let uids: std::collections::BTreeSet<&str> = events.iter().map(|event| event["uid"].as_str().unwrap()).collect();
    assert_eq!(uids.len(), events.len(), "no two events share a name, and no superseded edition has one");
    assert!(events.iter().all(|event| event["stamp"] == "2026-12-01T00:00:00+00:00"), "{events:?}");
    // Another text, another edition and another date of the same policy: the same event, moved.
    let next = policy("Far", &[("edition 1", "edition 2"), (REVIEW, "review by 31 August 2028")]);
    fs::write(ward.path().join("wards/far.ppe"), next).unwrap();
    let moved = read(&calendar("2026-12-02", "reviews.ics"));
    let due = |events: &[Value], summary: &str| {
        events
            .iter()
            .find(|event| event["summary"] == summary)
            .map(|event| (event["uid"].clone(), event["day"].clone()))
    };
    let (before, after) = (due(&events, "Review due: Far, edition 1"), due(&moved, "Review due: Far, edition 2"));
    assert_eq!(before.as_ref().map(|(uid, _)| uid), after.as_ref().map(|(uid, _)| uid));
    assert_eq!(after.unwrap().1, "2028-08-31");
    assert_eq!(due(&moved, "Review opens: Far, edition 2").unwrap().1, "2028-02-29");
}

#[test]
fn a_calendar_that_cannot_be_written_is_a_run_that_failed() {
    let ward = ward();
    fs::write(ward.path().join("far.ppe"), policy("Far", &[])).unwrap();
    let (status, _, err) =
        run(&["status", "far.ppe", "--today", "2026-12-01", "--calendar", "nowhere/reviews.ics"], ward.path());
    assert!(status == 2 && err.starts_with("nowhere/reviews.ics is not written: "), "{err}");
}

#[test]
fn on_a_terminal_it_is_a_table_of_80_columns() {
    let ward = ward();
    some_policies(ward.path());
    fs::write(ward.path().join("wards/long.ppe"), policy(&"Sluice rooms and ".repeat(8), &[])).unwrap();
    let mut script = std::process::Command::new("script");
    let command = format!("{} status . --today 2026-12-01", env!("CARGO_BIN_EXE_anteroom"));
    script.args(["-qec", &command, "/dev/null"]).current_dir(ward.path()).env("TERM", "xterm").env("COLUMNS", "80");
    let (_, out, _) = told(script.stdin(std::process::Stdio::null()).output().unwrap());
    let lines: Vec<&str> = out.lines().map(str::trim_end).collect();
    assert!(lines.iter().all(|line| line.chars().count() <= 80), "{out}");
    let head = lines.iter().find(|line| line.starts_with("Policy")).unwrap_or_else(|| panic!("{out}"));
    let late = lines.iter().find(|line| line.starts_with("Late ")).expect("the policy that is late");
    for (heading, cell) in [("State", "DRAFT"), ("Review by", "2026-11-01")] {
        assert_eq!(head.find(heading), late.find(cell), "{out}");
    }
    assert_eq!((head.len(), late.len()), (80, 80), "numbers end where their heading ends: {out}");
    let (_, plain, _) =
        told(anteroom(&["status", ".", "--plain", "--today", "2026-12-01"], ward.path()).output().unwrap());
    assert!(plain.contains("Late, edition 1: DRAFT. Review by 1 November 2026, 30 days overdue.\n"), "{plain}");
}
