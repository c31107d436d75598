//! What kind of kit a level has, and who goes in: what the rules of guidance ask before they speak, row by row. Which
//! guidance holds at which kit stands in the pages of those rules, with its sources; the rows are the project's own.

use anteroom::policy::{ItemId, LevelId, RoleId};
use anteroom::rules::barriers::{enters, is_respirator};
use anteroom::rules::kits::{first_off, is_high_consequence, is_routine, layers_of_gloves, steps_of, wears_gloves};
use anteroom::session::Checked;

use crate::policy::check;

const WORLD: &str = "\
policy \"Ward\"
hazard stool
  spreads by contact
place lobby is clean
place room is contaminated
place porch is for taking off
way lobby to room to porch to lobby
role nurse
role helper
  helps nurse
role observer
  watches
item scrubs
  covers trunk, legs
  worn beneath
item undersuit
  covers hair, neck, trunk, arms, legs, feet
  worn beneath
item suit
  covers hair, neck, trunk, arms, legs, feet
item full mask
  covers face, eyes, nose, mouth
  meets \"EN 136\"
item visor
  covers face, eyes, nose, mouth
item inner gloves
  covers hands
item gloves
  covers hands
level Full against contact
";

fn checked(lists: &str, on: &str, off: &str) -> Checked {
    let steps = |steps: &str| steps.split_terminator("; ").map(|step| format!("  {step}\n")).collect::<String>();
    let text = format!(
        "{WORLD}{lists}sequence \"On\" for Full, in lobby\n{}sequence \"Off\" for Full, in porch\n{}",
        steps(on),
        steps(off)
    );
    let checked = check(&text);
    assert_eq!(checked.reading.problems, [], "{text}");
    checked
}

#[test]
fn a_level_is_grave_by_two_pairs_of_gloves_or_from_head_to_foot() {
    let of = |wears: &str, outside: &str| {
        let checked = checked(&format!("  nurse wears {wears}\n  assume {outside} contaminated\n"), "", "");
        let (policy, run) = (&checked.reading.policy, &checked.walk.runs[0]);
        (is_high_consequence(policy, run), is_routine(policy, run))
    };
    let (grave, between, daily) = ((true, false), (false, false), (false, true));
    let (whole, every) = ("suit, full mask, gloves", "every outside is");
    assert_eq!((of(whole, every), of(whole, "fronts are")), (grave, between));
    assert_eq!(of("suit, full mask", every), daily, "bare hands");
    assert_eq!(of("suit, visor, gloves", every), daily, "no filtered air");
    assert_eq!(of("undersuit, full mask, gloves", every), daily, "own clothes");
    assert_eq!(of("full mask, gloves", every), daily);
}

#[test]
fn a_second_pair_counts_where_it_is_worn_over_the_first() {
    let of = |on: &str| {
        let lists = "  nurse wears inner gloves, gloves\n  helper wears gloves\n";
        let checked = checked(lists, on, "");
        layers_of_gloves(&checked.reading.policy, &checked.walk.runs[0], RoleId::new(0))
    };
    let (inner, outer) = ("nurse puts on inner gloves", "nurse puts on gloves");
    assert_eq!((of(outer), of(&format!("{inner}; {outer}"))), (1, 2));
    assert_eq!(of(&format!("{outer}; helper puts on gloves")), 1, "somebody else's");
    assert_eq!(of(&format!("{inner}; nurse takes off inner gloves; {outer}")), 1, "one after the other");
    assert_eq!(of(&format!("{outer}; nurse changes gloves")), 1, "kept for a change");
}

/// From the step after the one that puts them on, to the step before the one that takes them off.
#[test]
fn gloves_are_on_between_their_steps() {
    let lists = "  nurse wears gloves\n";
    let on = "nurse does \"Wait\"; nurse puts on gloves; nurse does \"Wait\"";
    let checked = checked(lists, on, "nurse does \"Wait\"; nurse takes off gloves; nurse does \"Wait\"");
    let (policy, run) = (&checked.reading.policy, &checked.walk.runs[0]);
    let steps = steps_of(policy, &run.putting_on).chain(steps_of(policy, &run.taking_off));
    let worn: Vec<bool> = steps.map(|(at, _)| wears_gloves(policy, run, RoleId::new(0), at)).collect();
    assert_eq!(worn, [false, false, true, true, false, false]);
}

#[test]
fn the_first_of_the_kit_to_come_off_is_the_wearers_own() {
    let lists = "  nurse wears scrubs, suit, gloves\n  helper wears gloves\n";
    let off =
        "helper takes off gloves; nurse takes off scrubs; helper helps nurse take off suit; nurse takes off gloves";
    let checked = checked(lists, "", off);
    let (policy, run) = (&checked.reading.policy, &checked.walk.runs[0]);
    let first = |role: usize| first_off(policy, run, RoleId::new(role)).map(|at| at.step);
    assert_eq!((first(0), first(1), first(2)), (Some(2), Some(0), None));
}

/// Whoever a sequence sends to the hazard; where none sends anybody, whoever neither helps nor watches.
#[test]
fn those_go_in_whom_a_step_sends() {
    let of = |on: &str| {
        let checked = checked("  nurse wears gloves\n", on, "");
        [0, 1, 2].map(|role| enters(&checked.reading.policy, LevelId::new(0), RoleId::new(role)))
    };
    assert_eq!(of("nurse puts on gloves"), [true, false, false]);
    assert_eq!(of("helper goes to porch"), [true, false, false], "not to the hazard");
    assert_eq!(of("helper goes to room"), [false, true, false]);
    assert_eq!(of("nurse goes to room; observer goes to room"), [true, false, true]);
}

/// EN 149, EN 136 and EN 12941 are standards of respirators, of nose and mouth both; a hood is one by the blower that it hangs
/// on.
#[test]
fn a_respirator_covers_nose_and_mouth() {
    let of = |lines: &str| {
        let text = format!("policy \"Ward\"\nrole wearer\nitem blower\nruns for 4 hours\nitem lamp\nitem it\n{lines}");
        is_respirator(&check(&text).reading.policy, ItemId::new(2))
    };
    for standard in ["EN 149 FFP2", "EN 136", "EN 12941 TH3"] {
        assert!(of(&format!("covers nose, mouth\nmeets \"{standard}\"\n")), "{standard}");
        assert!(!of(&format!("covers nose\nmeets \"{standard}\"\n")), "{standard}");
        assert!(!of(&format!("covers mouth\nmeets \"{standard}\"\n")), "{standard}");
    }
    assert!(of("covers nose, mouth\nconnects to blower\n"));
    assert!(!of("covers nose, mouth\nconnects to lamp\n"), "nothing that runs");
    assert!(!of("covers nose, mouth\nmeets \"EN 14683\"\n"), "a mask");
    assert!(!of("covers hair\nconnects to blower\n"));
}
