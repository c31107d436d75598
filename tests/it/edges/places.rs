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
    let on = [
        ("place corridor is clean\n", "place corridor is clean\nplace lobby is clean\n"),
        (
            "\"Putting on\" for Contact, in corridor\n",
            "\"Putting on\" for Contact, in lobby\n  nurse goes to corridor\n",
        ),
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
    let of = |edits: &[(&str, &str)]| {
        let found = check(&edited("place ending", edits)).findings;
        found.iter().filter(|finding| finding.name.to_string() == "paper missing").count()
    };
    let site = "site \"Millbrook Infirmary\"\n";
    assert_eq!((of(&[]), of(&[(site, "")]), of(&[(site, "site of the infirmary\n")])), (0, 1, 0));
    assert_eq!((of(&[("edition 2\n", "")]), of(&[("edition 2\n", "edition two and a half\n")])), (1, 0));
}
