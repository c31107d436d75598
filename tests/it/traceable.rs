//! From a copy on the wall back to its policy: the lines that say where an edition stands, what faces are marked with, and
//! `anteroom verify`. That obsolete copies are told apart or taken away: ISO 9001, clause on the control of documents.

use std::fs;
use std::path::Path;

use anteroom::aids::{self, plan};
use anteroom::policy::{Code, Day};
use anteroom::session::{Standing, standing};

use crate::commands::{run, ward};
use crate::oracle::python;
use crate::policies::checked_text;

const LINK: &str = "https://example.org/side-rooms";

/// The demonstration's side rooms in one file, with lines of document control put in the place of others.
fn side_rooms(changes: &[(&str, &str)]) -> String {
    let demo = |file: &str| fs::read_to_string(format!("policies/{file}")).expect("the demonstration");
    let mut text = demo("side-rooms.ppe").replace("use \"common.ppe\"", &demo("common.ppe"));
    for (from, to) in changes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    text
}

fn on(day: &str) -> Day {
    Day::from_iso(day).expect("a day")
}

fn keep(folder: &Path, name: &str, text: &str) {
    let path = folder.join(name);
    fs::create_dir_all(path.parent().expect("a folder")).expect("made");
    fs::write(path, text).expect("written");
}

/// What a copy of the first aid bears, printed while it was in force.
fn code_of(text: &str) -> String {
    let plan = plan(&checked_text(text, on("2026-12-10")));
    plan.aids[0].control.code.clone()
}

#[test]
fn the_link_of_a_policy_is_its_own_and_that_of_a_source_is_the_sources() {
    let text = side_rooms(&[("edition 3", "link \"https://example.org/side-rooms\"\nedition 3")]);
    let paper = &checked_text(&text, on("2026-12-10")).reading.policy.paper;
    assert_eq!(paper.link.as_deref(), Some(LINK));
    let text = "policy \"Ward\"\nsource one \"A page\"\n  link \"https://example.org/source\"\nlink \"https://example.org/b\"\n";
    let checked = checked_text(text, on("2026-12-10"));
    assert_eq!(checked.reading.policy.paper.link, None);
    assert_eq!(checked.reading.policy.citations[0].link.as_deref(), Some("https://example.org/source"));
}

/// The link is printed and changes the fingerprint. Withdrawing changes nothing that is printed in force: the copies on the
/// walls are known by the fingerprint that they bear.
#[test]
fn withdrawing_leaves_the_fingerprint_and_a_link_does_not() {
    let fingerprint = |text: &str| checked_text(text, on("2026-12-10")).fingerprint;
    let plain = fingerprint(&side_rooms(&[]));
    assert_eq!(fingerprint(&side_rooms(&[("edition 3", "edition 3\nwithdrawn on 1 June 2027")])), plain);
    let linked = |link: &str| fingerprint(&side_rooms(&[("edition 3", &format!("edition 3\nlink \"{link}\""))]));
    assert!(linked(LINK) != plain && linked(LINK) != linked("https://example.org/other"));
}

#[test]
fn every_face_says_why_it_is_not_to_be_followed() {
    let text = side_rooms(&[("edition 3", "edition 3\nwithdrawn on 1 June 2027")]);
    let marked = |day: &str| {
        let checked = checked_text(&text, on(day));
        let plan = plan(&checked);
        assert!(plan.aids.windows(2).all(|pair| pair[0].marking == pair[1].marking));
        let marking = plan.aids[0].marking.clone();
        (standing(&checked), marking.map(|marking| format!("{}: {}", marking.word, marking.reasons.join(" "))))
    };
    let early = "NOT YET IN FORCE: It holds from 1 October 2026. Until then, follow the edition that is in force.";
    assert_eq!(marked("2026-09-30"), (Standing::NotYet(on("2026-10-01")), Some(early.into())));
    assert_eq!(marked("2026-10-01"), (Standing::InForce, None));
    assert_eq!(marked("2027-05-31"), (Standing::InForce, None));
    let withdrawn = "WITHDRAWN: It no longer holds since 1 June 2027. Take this copy down.";
    assert_eq!(marked("2027-06-01"), (Standing::Withdrawn(on("2027-06-01")), Some(withdrawn.into())));
    // Past its review too: that it is withdrawn matters more.
    assert_eq!(marked("2028-01-01").0, Standing::Withdrawn(on("2027-06-01")));
    let checked = checked_text(&text, on("2026-12-10"));
    for (by, told) in [(Some(4), "edition 4"), (None, "a later edition")] {
        let mut plan = plan(&checked);
        aids::supersede(&mut plan, by);
        for aid in plan.aids {
            let marking = aid.marking.expect("marked");
            assert_eq!(marking.word, "SUPERSEDED");
            assert_eq!(marking.reasons, [format!("Replaced by {told}. Take this copy down.")]);
        }
    }
}

#[test]
fn a_link_that_no_phone_opens_is_left_out_and_told() {
    for odd in ["example.org/side-rooms", &format!("https://example.org/{}", "x".repeat(90))] {
        let text = side_rooms(&[("edition 3", &format!("edition 3\nlink \"{odd}\""))]);
        let plan = plan(&checked_text(&text, on("2026-12-10")));
        assert!(!plan.aids[0].control.code.contains("example.org"), "{}", plan.aids[0].control.code);
        assert!(plan.not_made.iter().any(|sentence| sentence.contains("line 4") && sentence.contains("https://")));
    }
}

/// A folder with an old edition, the one in force, one to come and one withdrawn; and what is said of a copy of each.
#[test]
fn a_copy_is_traced_to_where_its_edition_stands() {
    let ward = ward();
    let old = side_rooms(&[("edition 3", "edition 2"), ("replaces edition 2", "replaces edition 1")]);
    let now = side_rooms(&[("edition 3", "edition 3\nlink \"https://example.org/side-rooms\"")]);
    let next = side_rooms(&[
        ("edition 3", "edition 4"),
        ("replaces edition 2", "replaces edition 3"),
        ("in force from 1 October 2026", "in force from 1 February 2027"),
    ]);
    let gone = side_rooms(&[
        ("Side rooms: contact and splash precautions", "Ward baths"),
        ("edition 3", "edition 3\nwithdrawn on 1 December 2026"),
    ]);
    let draft = side_rooms(&[("Side rooms: contact and splash precautions", "Day rooms")]);
    let draft: String =
        draft.lines().filter(|line| !line.starts_with("approved")).map(|line| format!("{line}\n")).collect();
    for (name, text) in
        [("old/2.ppe", &old), ("side-rooms.ppe", &now), ("next.ppe", &next), ("baths.ppe", &gone), ("day.ppe", &draft)]
    {
        keep(ward.path(), name, text);
    }
    let asked = |words: &str| run(&["verify", "--in", ".", "--today", "2026-12-10", words], ward.path());
    let cases = [
        (&now, 0, "IN FORCE: ", "Keep using this copy."),
        (&old, 1, "SUPERSEDED: ", "Edition 3 has replaced it."),
        (&next, 1, "NOT YET IN FORCE: ", "It holds from 1 February 2027."),
        (&gone, 1, "WITHDRAWN: ", "It no longer holds since 1 December 2026, and nothing has replaced it."),
        (&draft, 1, "DRAFT: ", "Nobody has approved this edition."),
    ];
    for (text, status, word, why) in cases {
        let code = code_of(text);
        let (ended, out, err) = asked(&code);
        assert_eq!((ended, err.as_str()), (status, ""), "{out}");
        assert!(out.starts_with(word) && out.contains(why), "{out}");
        // The digits alone say the same, however they are typed.
        let digits = Code::read(&code).expect("its own code").fingerprint;
        let typed = format!("{} {}", digits[..4].to_uppercase(), &digits[4..]);
        for words in [digits.as_str(), typed.as_str()] {
            assert_eq!(asked(words).1, out, "{words}");
        }
    }
    // On the first day of the next edition, the copies of the one before it are superseded.
    let (status, out, _) = run(&["verify", "--today", "2027-02-01", &code_of(&now)], ward.path());
    assert!(status == 1 && out.starts_with("SUPERSEDED: ") && out.contains("hang one of next.ppe"), "{out}");
}

/// A copy whose policy was changed where it lay: its code speaks only against it.
#[test]
fn a_copy_of_words_that_are_no_longer_kept_is_never_in_force() {
    let ward = ward();
    keep(ward.path(), "side-rooms.ppe", &side_rooms(&[]));
    let asked = |code: &str| run(&["verify", "--today", "2026-12-10", code], ward.path());
    let of = |edition: &str| format!("anteroom 01234567 edition {edition}\nSide rooms: contact and splash precautions");
    let (status, out, _) = asked(&of("2"));
    assert!(status == 1 && out.starts_with("SUPERSEDED: ") && out.contains("Edition 3 has replaced it."), "{out}");
    for edition in ["3", "4", "none"] {
        let (status, out, _) = asked(&of(edition));
        assert!(status == 1 && out.starts_with("UNKNOWN: ") && out.contains("In force is side-rooms.ppe."), "{out}");
    }
    let (status, out, _) = asked("anteroom 01234567 edition 9\nAnother hospital's\u{1b}[31m");
    assert!(status == 1 && out.starts_with("UNKNOWN: ") && !out.contains('\u{1b}'), "{out:?}");
    // Two texts under one number: neither is believed.
    keep(
        ward.path(),
        "twin.ppe",
        &side_rooms(&[("Kestrel Moor Hospital\"\n", "Kestrel Moor Hospital\"\nnote Twin.\n")]),
    );
    let (status, ..) = asked(&code_of(&side_rooms(&[])));
    assert_eq!(status, 0, "a note makes no other edition");
    keep(ward.path(), "twin.ppe", &side_rooms(&[("edition 3", "edition 3\nlink \"https://example.org/x\"")]));
    let (status, out, _) = asked(&code_of(&side_rooms(&[])));
    assert!(status == 1 && out.starts_with("UNKNOWN: ") && out.contains("twin.ppe bears the same edition"), "{out}");
}

#[test]
fn what_cannot_be_told_is_no_answer() {
    let ward = ward();
    let (status, out, err) = run(&["verify", "3fa9"], ward.path());
    assert_eq!((status, out.as_str()), (2, ""));
    assert!(err.starts_with("These words hold no fingerprint"), "{err}");
    assert_eq!(run(&["verify", "3fa9c2d1"], ward.path()).0, 2, "no policy is there");
    assert_eq!(run(&["verify", "3fa9c2d1", "--in", "nowhere"], ward.path()).0, 2);
    keep(ward.path(), "side-rooms.ppe", &side_rooms(&[]));
    fs::write(ward.path().join("odd.ppe"), [0xff, 0xfe, 0x00]).unwrap();
    let (status, out, err) = run(&["verify", "--today", "2026-12-10", &code_of(&side_rooms(&[]))], ward.path());
    assert!(status == 2 && out.starts_with("IN FORCE") && err.contains("odd.ppe cannot be read"), "{out}{err}");
}

#[test]
fn another_program_can_ask() {
    let ward = ward();
    keep(ward.path(), "side-rooms.ppe", &side_rooms(&[]));
    let code = code_of(&side_rooms(&[]));
    let (_, out, _) = run(&["verify", "--json", "--today", "2026-12-10", &code], ward.path());
    let told: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((told["state"].as_str(), told["edition"].as_u64()), (Some("in_force"), Some(3)), "{out}");
    assert_eq!(told["file"].as_str(), Some("side-rooms.ppe"));
    assert!(told["in_force_instead"].is_null() && told["why"].as_array().is_some_and(Vec::is_empty), "{out}");
}

#[test]
fn its_json_is_of_the_published_schema() {
    let ward = ward();
    keep(ward.path(), "side-rooms.ppe", &side_rooms(&[]));
    let schema = ward.path().join("schema.json");
    fs::write(&schema, run(&["schema", "verify"], ward.path()).1).unwrap();
    let judged = |told: &serde_json::Value| python("schema.py", &[schema.to_str().unwrap()], &told.to_string());
    let ask = |words: &str| -> serde_json::Value {
        let (_, out, _) = run(&["verify", "--json", "--today", "2026-12-10", words], ward.path());
        serde_json::from_str(&out).expect("JSON")
    };
    let known = ask(&code_of(&side_rooms(&[])));
    assert_eq!((judged(&known).as_str(), &known["today"]), ("valid\n", &"2026-12-10".into()));
    fs::write(ward.path().join("odd.ppe"), [0xff, 0xfe, 0x00]).unwrap();
    let unknown = ask("0123 4567");
    assert_eq!((judged(&unknown).as_str(), &unknown["unread"][0]["file"]), ("valid\n", &"odd.ppe".into()));
    for field in ["state", "fingerprint", "in_force_instead", "what_to_do", "unread"] {
        let mut broken = known.clone();
        broken.as_object_mut().unwrap().remove(field);
        assert!(judged(&broken).contains(field), "the schema has teeth: {field}");
    }
}

#[test]
fn an_old_edition_is_printed_with_its_stamp() {
    let ward = ward();
    keep(ward.path(), "side-rooms.ppe", &side_rooms(&[]));
    let print = |flag: &str| run(&["print", "side-rooms.ppe", flag, "--today", "2026-12-10"], ward.path()).1;
    assert!(print("--superseded=4").contains("Every page is marked SUPERSEDED. Replaced by edition 4."));
    assert!(print("--superseded").contains("Replaced by a later edition."));
}
