//! Edges of the rules about what lies bare, and about cuffs.

use super::told;
use crate::kit_and_waste::edited;
use crate::policy::check;

fn titles(rule: &str, example: &str, edits: &[(&str, &str)]) -> Vec<String> {
    let found = check(&edited(example, edits)).findings.into_iter();
    found.filter(|finding| finding.name.to_string() == rule).map(|finding| finding.title).collect()
}

#[test]
fn what_is_bare_is_named_up_to_three_areas() {
    let of = |edits: &[(&str, &str)]| titles("cover bare", "cover bare", edits);
    let (gown, gloves, mask) =
        (("  wearer puts on gown\n", ""), ("  wearer puts on gloves\n", ""), ("  wearer puts on mask\n", ""));
    assert_eq!(of(&[gown]), ["Trunk and arms are bare where the hazard is"]);
    assert_eq!(of(&[gown, gloves]), ["Trunk, arms and hands are bare where the hazard is"]);
    assert_eq!(of(&[gown, gloves, mask]), ["5 body areas are bare where the hazard is"]);
    assert_eq!(of(&[("covers nose, mouth", "covers nose")]), ["Mouth is bare where the hazard is"]);
    let boots = titles("cover bare", "order half", &[("  wearer puts on rubber boots\n", "")]);
    assert_eq!(boots, ["Feet are bare where the hazard is"]);
}

/// Kit that is half on, and kit that goes on inside, are told as that; what else is bare is told all the same.
#[test]
fn what_is_bare_for_another_fault_is_not_told_again() {
    let half = |edits: &[(&str, &str)]| titles("cover bare", "order half", edits);
    let pull = ("  wearer pulls up coverall\n", "");
    let none: [String; 0] = [];
    assert_eq!(half(&[pull]), none);
    assert_eq!(half(&[pull, ("  wearer puts on gloves\n", "")]), ["Hands are bare where the hazard is"]);
    let buddy = [
        pull,
        ("rubber boots, gloves\n  keep", "rubber boots, gloves\n  buddy wears coverall\n  keep"),
        ("  wearer puts on coverall as far", "  buddy puts on coverall as far"),
        ("  wearer goes to patient tent\n", "  buddy goes to patient tent\n  wearer goes to patient tent\n"),
    ];
    let told = ["Hands and feet are bare where the hazard is", "Trunk, arms and legs are bare where the hazard is"];
    assert_eq!(half(&buddy), told, "the buddy's is half on, and the wearer's is not");
    let of = |edits: &[(&str, &str)]| titles("cover bare", "cover bare", edits);
    let inside = [
        ("  wearer puts on gloves\n", ""),
        ("  wearer goes to surgery\n", "  wearer goes to surgery\n  wearer puts on gloves\n"),
    ];
    assert_eq!(of(&inside), none);
    assert_eq!(
        of(&[&inside[..], &[("  wearer puts on gown\n", "")]].concat()),
        ["Trunk and arms are bare where the hazard is"]
    );
    let unsent = ("  wearer goes to doorway\n", "");
    assert_eq!(of(&[unsent]), none, "that nobody is sent to the doorway is told");
}

/// One pair beneath the sleeve of a suit: CDC, H5N1 and farm animals, 2024, as on the page.
#[test]
fn only_a_sleeve_meets_a_cuff() {
    let of = |edits: &[(&str, &str)]| told("cover cuff", edits);
    let silent = ("  covers hands\n  goes over gown\n", "  covers hands\n");
    let strap = [
        silent,
        ("item outer gloves\n", "item strap\n  goes over outer gloves\nitem outer gloves\n"),
        ("gown, outer gloves", "gown, outer gloves, strap"),
        ("  nurse puts on outer gloves\n", "  nurse puts on outer gloves\n  nurse puts on strap\n"),
    ];
    assert_eq!((of(&[]), of(&[silent]), of(&strap)), (0, 0, 0));
    let suit = (
        "  covers trunk, arms\n  goes over inner gloves\n",
        "  covers trunk, arms, legs\n  goes over inner gloves, outer gloves\n",
    );
    let one = [("nurse wears inner gloves, gown", "nurse wears gown"), ("  nurse puts on inner gloves\n", "")];
    assert_eq!(of(&[silent, suit]), 1, "the outer of two pairs");
    assert_eq!(of(&[&one[..], &[silent, suit]].concat()), 0, "the only pair");
    let gown = ("  goes over inner gloves\n", "  goes over outer gloves\n");
    assert_eq!(of(&[&one[..], &[silent, gown]].concat()), 1, "a gown");
    // A pair that was off again lies beneath nothing.
    let spare = [
        ("item gown\n", "item spare gloves\n  covers hands\n  goes over gown\n  goes to waste bin\nitem gown\n"),
        ("gown, outer gloves\n", "gown, outer gloves, spare gloves\n"),
        (
            "  nurse puts on outer gloves\n",
            "  nurse puts on spare gloves\n  nurse takes off spare gloves\n  nurse puts on outer gloves\n",
        ),
    ];
    assert_eq!(of(&spare), 0);
}
