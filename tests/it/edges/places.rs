//! Edges of the rules about places and their headings: one mistake is told once.

use super::told;
use crate::kit_and_waste::{edited, times};
use crate::policy::check;

/// How often each of these rules is told of the right example of `waste elsewhere` with these changes.
fn all<const N: usize>(rules: [&str; N], edits: &[(&str, &str)]) -> [usize; N] {
    let text = edited("waste elsewhere", edits);
    rules.map(|rule| times(rule, &text))
}

#[test]
fn what_follows_from_a_wrong_heading_is_not_told_again() {
    let off = ("\"Taking off\" for Contact, in doorway", "\"Taking off\" for Contact, in corridor");
    let gloves = "  nurse takes off gloves by cuff into waste bag\n";
    let puts = format!("{gloves}  buddy puts gown into waste bag\n");
    assert_eq!(all(["place heading", "waste elsewhere"], &[off, (gloves, &puts)]), [1, 0]);
    let helped = [
        ("role buddy\n", "role aide\n  helps nurse\nrole buddy\n"),
        ("  nurse takes off gown", "  aide helps nurse take off gown"),
    ];
    assert_eq!(all(["place heading", "role elsewhere"], &[&helped[..], &[off]].concat()), [1, 0]);
    let cleans = "  nurse cleans hands with hand rub for 30 seconds\n    because \"Clean hands go into clean gloves.\" who hygiene\n";
    let start = "\"Putting on\" for Contact, in corridor\n";
    let lobby = "\"Putting on\" for Contact, in lobby\n";
    let on = [
        ("place corridor is clean\n", "place corridor is clean\nplace lobby is clean\n"),
        (&*format!("{start}{cleans}"), &*format!("{lobby}{cleans}  nurse goes to corridor\n")),
    ];
    assert_eq!(all(["place heading", "place way"], &on), [1, 0]);
}

#[test]
fn what_follows_where_nobody_was_sent_is_not_told_again() {
    let stands = ("  stands in doorway\n", "  stands in corridor\n");
    let goes = "  nurse goes to doorway\n";
    let rules = ["place absent", "waste elsewhere"];
    assert_eq!((all(rules, &[stands]), all(rules, &[stands, (goes, "")])), ([0, 1], [1, 0]));
    let (inside, waits) = (
        ("  nurse goes to room\n", "  buddy goes to room\n  nurse goes to room\n"),
        format!("{goes}  buddy does \"Wait\"\n"),
    );
    assert_eq!(all(rules, &[stands, inside, (goes, &waits)]), [1, 1], "somebody else was not sent");
}

#[test]
fn the_seal_is_tried_before_anybody_goes_in() {
    let hold = "  hold \"Seal\"\n    buddy confirms \"No air escapes at nose or cheeks on a hard breath out.\"\n    if not, go back to \"Putting on\"\n";
    let goes = "  nurse goes to room\n";
    let of = |here: &str, inside: &str| told("kit seal", &[(hold, here), (goes, &format!("{goes}{inside}"))]);
    assert_eq!((of(hold, ""), of("", ""), of("", hold)), (0, 1, 1));
    assert_eq!(of(&format!("  nurse goes to corridor\n{hold}"), ""), 0, "no hazard there");
    let says = |words: &str| of(&format!("  nurse does \"{words}\"\n"), "");
    assert_eq!((says("Do a fit check"), says("Breathe out: no leak"), says("Look for a gap at the cheek")), (0, 0, 0));
    assert_eq!((says("Look for a gap at the wrist"), says("Touch the cheek"), says("Close the bag")), (1, 1, 1));
}

/// A line of document control that cannot be read is told as that.
#[test]
fn what_cannot_be_read_is_not_missing() {
    let told = |rule: &str, edits: &[(&str, &str)]| {
        let found = check(&edited("place ending", edits)).findings;
        found.iter().filter(|finding| finding.name.to_string() == rule).count()
    };
    let of = |edits: &[(&str, &str)]| told("paper missing", edits);
    let (title, site) = ("policy \"Side rooms\"\n", "site \"Millbrook Infirmary\"\n");
    assert_eq!((of(&[]), of(&[(title, "")]), of(&[(title, "policy\n")])), (0, 1, 0));
    assert_eq!((of(&[(site, "")]), of(&[(site, "site\n")])), (1, 0));
    let edition = |line: &str| of(&[("edition 2\n", line)]);
    assert_eq!((edition(""), edition("edition two and a half\n"), edition("version 2\n")), (1, 0, 0));
    let approved = "approved by \"Infection Control Committee\" on 2 March 2026\n";
    let approval = |line: &str| told("paper approval", &[(approved, line)]);
    assert_eq!((approval(approved), approval(""), approval("approved by them\n")), (0, 1, 0));
    let from = |line: &str| told("paper undated", &[("in force from 1 April 2026\n", line)]);
    assert_eq!((from("in force from 1 April 2026\n"), from(""), from("in force since spring\n")), (0, 1, 0));
    let mistyped = check(&edited(
        "waste elsewhere",
        &[(
            "because \"Clean hands go into clean gloves.\" who hygiene",
            "because \"Clean hands go into clean gloves.\" who hygeine",
        )],
    ));
    assert!(mistyped.findings.iter().all(|finding| finding.name.word != "uncited"), "the source is mistyped");
    let stores = check("source leaflet \"Leaflet\"\n  dated 2009\nitem gown\n  covers trunk\n").findings;
    assert!(stores.iter().all(|finding| finding.name.family != "paper"), "shared items are no edition");
    let review = |line: &str| told("paper undated", &[("review by 1 April 2027\n", line)]);
    assert_eq!((review(""), review("review by the end of April\n")), (1, 0));
}

#[test]
fn a_move_and_a_helping_hand_follow_from_being_unsent() {
    let goes = ("  nurse goes to doorway\n", "");
    assert_eq!(all(["place absent", "place way"], &[goes]), [1, 0]);
    let aide = [
        ("role buddy\n", "role aide\n  helps nurse\nrole buddy\n"),
        ("  nurse takes off gown", "  aide helps nurse take off gown"),
    ];
    assert_eq!(all(["place absent", "role elsewhere"], &[&aide[..], &[goes]].concat()), [1, 0]);
    let inside = ("  nurse goes to room\n", "  aide goes to room\n  nurse goes to room\n");
    assert_eq!(
        all(["place absent", "role elsewhere"], &[&aide[..], &[inside]].concat()),
        [1, 0],
        "the aide was not sent"
    );
}

#[test]
fn without_a_clean_place_nothing_is_said_of_ways_out() {
    let (clean, way) = ("place corridor is clean\n", "way corridor to room to doorway to corridor\n");
    let shut = (way, "way corridor to room to doorway\n");
    let of = |edits: &[(&str, &str)]| all(["place missing"], edits);
    assert_eq!((of(&[]), of(&[shut])), ([0], [1]));
    assert_eq!(of(&[shut, (clean, "place corridor is for putting on\n")]), [0]);
}

#[test]
fn what_goes_along_is_named_up_to_two_items() {
    let mask = ("  wearer takes off mask by ties into red bin\n", "");
    let visor = ("  wearer takes off visor by headband into red bin\n", "");
    let gown = ("  wearer takes off gown by ties, rolling it inside out, into red bin\n", "");
    let of = |edits: &[(&str, &str)]| {
        let found = check(&edited("place leaving", edits)).findings.into_iter();
        let told = found.filter(|finding| finding.name.to_string() == "place leaving");
        told.map(|finding| finding.message).collect::<Vec<_>>().join("\n")
    };
    let starts = |message: String, words: &str| assert!(message.starts_with(words), "{message}");
    starts(of(&[mask]), "The mask is still on as the wearer enters the passage. The hazard itself may lie on it;");
    starts(
        of(&[mask, visor]),
        "The mask and the visor are still on as the wearer enters the passage. The hazard itself may lie on them;",
    );
    starts(of(&[mask, visor, gown]), "The gown, the mask and 1 more are still on");
}

#[test]
fn gloves_are_changed_where_the_hazard_is() {
    let goes = "  nurse goes to room\n";
    let of = |line: &str| all(["place donning"], &[(goes, &format!("{goes}{line}"))]);
    assert_eq!((of("  nurse changes gloves\n"), of("  nurse changes gown\n")), ([0], [1]));
    assert_eq!(of("  nurse takes off gloves\n  nurse puts on fresh gloves\n"), [0]);
    assert_eq!(of("  nurse takes off gloves\n  nurse takes off gown\n  nurse puts on fresh gown\n"), [1]);
}

#[test]
fn a_way_out_that_cannot_be_read_is_not_missing() {
    let back = "    if not, go back to \"Putting on\"\n";
    let of = |lines: &str, unread: &str| {
        let goes = "  nurse goes to room\n";
        let text = edited("waste elsewhere", &[(back, lines), (goes, &format!("{goes}{unread}"))]);
        check(&text).findings.iter().filter(|finding| finding.name.to_string() == "hold certain").count()
    };
    assert_eq!((of(back, ""), of("", ""), of("    if not go bakc to\n", "")), (0, 1, 0));
    assert_eq!(of("", "  nurse lissens at the door\n"), 1, "another line says nothing of the hold");
    let before = edited(
        "waste elsewhere",
        &[(back, ""), ("  nurse puts on gown\n", "    sya \"Now.\"\n  nurse puts on gown\n")],
    );
    let told = check(&before).findings;
    assert!(told.iter().any(|finding| finding.name.to_string() == "reading line"), "{told:?}");
}
