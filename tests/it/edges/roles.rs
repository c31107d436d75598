//! Edges of the rules that ask who looks at whom, and where people are left.

use super::told;
use crate::kit_and_waste::{edited, times};
use crate::policy::check;

/// A helper with an apron, who helps the nurse of the examples for side rooms.
const HELPER: [(&str, &str); 3] = [
    ("role buddy\n", "role helper\n  helps nurse\nrole buddy\n"),
    ("item gown ", "item apron\n  covers trunk\nitem gown "),
    ("  nurse wears gown, gloves\n", "  nurse wears gown, gloves\n  helper wears apron\n"),
];

#[test]
fn a_check_looks_at_whom_the_sequence_is_about() {
    let of = |lines: &str| told("role mistaken", &[&HELPER[..], &[("  buddy checks nurse\n", lines)]].concat());
    assert_eq!((of("  buddy checks nurse\n"), of("  buddy checks buddy\n")), (0, 1), "without kit");
    let (helper, waits) = ("  buddy checks helper\n", "  helper does \"Wait\"\n");
    assert_eq!(of(helper), 1, "no part in this sequence");
    assert_eq!(of(&format!("{waits}{helper}")), 0);
    assert_eq!(of(&format!("  helper puts on apron\n{helper}")), 0);
    assert_eq!(of(&format!("  helper checks gown\n{helper}")), 1, "a check is no part in it");
    let (apron, own) = ("  buddy checks apron\n", "  nurse checks apron\n");
    assert_eq!(of(apron), 1, "somebody else's kit");
    assert_eq!(of(&format!("{waits}{apron}")), 0);
    assert_eq!(of(&format!("{waits}{own}")), 1, "the nurse is dressing, and not in this");
    assert_eq!(of(&format!("{waits}  helper checks apron\n")), 0);
    // Not dressing any more.
    let off = (
        "  nurse takes off gloves by cuff into waste bag\n",
        "  nurse takes off gloves by cuff into waste bag\n  helper does \"Wait\"\n  nurse checks apron\n",
    );
    assert_eq!(told("role mistaken", &[&HELPER[..], &[off]].concat()), 0);
    // What is on no list is told as that.
    let unlisted =
        [HELPER[0], HELPER[1], ("  nurse goes to corridor\n", "  helper puts on apron\n  nurse goes to corridor\n")];
    assert_eq!(told("role mistaken", &[&unlisted[..], &[("  buddy checks nurse\n", apron)]].concat()), 0);
}

#[test]
fn a_helper_is_looked_at_by_another_person() {
    let hold = "  hold \"Helper ready\"\n    observer confirms \"The gown is tied and no skin shows.\"\n    if not, go back to \"Helper: putting on\"\n";
    let apron = [
        ("item gown\n", "item apron\n  covers trunk\nitem gown\n"),
        ("  helper wears inner gloves", "  helper wears apron, inner gloves"),
        ("  helper puts on inner gloves\n", "  helper puts on apron\n  helper puts on inner gloves\n"),
    ];
    let of = |lines: &str| told("role unready", &[&apron[..], &[(hold, lines)]].concat());
    assert_eq!((of(hold), of("")), (0, 1));
    assert_eq!((of("  observer checks apron\n"), of("  helper checks apron\n")), (0, 1));
    assert_eq!(of("  observer checks gown\n"), 1, "the doctor's");
}

#[test]
fn the_last_gloves_are_the_wearers_own() {
    let gloves = "  doctor checks inner gloves\n";
    let of = |edits: &[(&str, &str)]| told("hold inspection", edits);
    let changed = "  doctor changes inner gloves\n";
    assert_eq!(of(&[(gloves, &format!("{changed}{gloves}"))]), 1, "nobody has looked at those that come off");
    let gown = "  doctor takes off gown by ties, rolling it inside out, into waste bin\n";
    assert_eq!(of(&[(gown, "  doctor changes gown\n")]), 0, "no gloves");
    // What a helper takes off says nothing of the doctor's.
    let helper = [
        ("role observer\n", "role helper\n  helps doctor\nrole observer\n"),
        ("  keep covered", "  helper wears inner gloves, gown, outer gloves\n  keep covered"),
    ];
    let first = |lines: &str| {
        let lines = format!("{lines}  observer checks doctor\n");
        of(&[&helper[..], &[("  observer checks doctor\n", &lines)]].concat())
    };
    let outer = "  helper takes off outer gloves by cuff into waste bin\n";
    assert_eq!(first(&format!("{outer}  helper takes off inner gloves by cuff into waste bin\n")), 0);
    assert_eq!(first(&format!("{outer}  helper changes inner gloves\n")), 0);
    // Of three pairs the last; where there is but one, what is looked at is the kit.
    let third = [
        ("item gown\n", "item under gloves\n  covers hands\nitem gown\n"),
        ("  doctor wears inner gloves", "  doctor wears under gloves, inner gloves"),
        ("  doctor puts on inner gloves\n", "  doctor puts on under gloves\n  doctor puts on inner gloves\n"),
        (
            "  doctor goes to corridor\n",
            "  doctor takes off under gloves by cuff into waste bin\n  doctor goes to corridor\n",
        ),
    ];
    assert_eq!(of(&third), 1);
    assert_eq!(
        of(&[&third[..], &[("  doctor takes off under", "  doctor checks under gloves\n  doctor takes off under")]]
            .concat()),
        0
    );
}

#[test]
fn the_taking_off_ends_where_it_is_clean() {
    let last = "  nurse goes to corridor\ncontingency";
    let of = |lines: &str| told("place ending", &[(last, &format!("{lines}contingency"))]);
    assert_eq!((of("  nurse goes to corridor\n"), of("")), (0, 1));
    assert_eq!(of("  nurse goes to corridor\n  buddy goes to doorway\n"), 0, "somebody else");
    let shower = "sequence \"Shower\" for Contact, in doorway\n  nurse does \"Shower\"\n";
    assert_eq!((of(&format!("{shower}  nurse goes to corridor\n")), of(shower)), (0, 1));
    let between = (
        "sequence \"Taking off\"",
        "sequence \"Within\" for Contact, in room\n  nurse goes to corridor\n  nurse goes to room\nsequence \"Taking off\"",
    );
    assert_eq!(told("place ending", &[between]), 0);
    // Whoever takes nothing off is told as one who stays in kit.
    let stays =
        ("  nurse goes to corridor\ncontingency", "  helper goes to doorway\n  nurse goes to corridor\ncontingency");
    assert_eq!(told("place ending", &[&HELPER[..], &[stays]].concat()), 0);
    // Written the other way round, the taking-off is the end all the same.
    let text = edited("place ending", &[]);
    let (on, off) = (text.find("sequence \"Putting on\"").unwrap(), text.find("sequence \"Taking off\"").unwrap());
    let end = text.find("contingency").unwrap();
    let turned = [&text[..on], &text[off..end], &text[on..off], &text[end..]].concat();
    assert_eq!(times("place ending", &turned), 0);
}

#[test]
fn the_step_and_the_place_to_leave_for_are_named() {
    let lobby = ("place corridor is clean", "place lobby is clean\nplace corridor is clean");
    let last = ("  nurse goes to corridor\ncontingency", "  buddy does \"Close the bag\"\ncontingency");
    let text = edited("place ending", &[lobby, last]);
    let checked = check(&text);
    let found = checked.findings.iter().find(|finding| finding.name.to_string() == "place ending").unwrap();
    assert!(found.way_out.ends_with("goes to corridor."), "{}", found.way_out);
    let named = &text[found.span.start as usize..found.span.end as usize];
    assert!(named.contains("nurse cleans hands"), "the nurse's own last step: {named}");
}

#[test]
fn a_hand_on_anothers_kit_is_told_by_one_rule() {
    let people = ("role buddy\n", "role aide\n  helps nurse\nrole buddy\n");
    let gown = "  nurse takes off gown";
    let rules = ["role watcher", "role unkitted", "role unasked"];
    let of = |edits: &[(&str, &str)]| {
        let text = edited("waste elsewhere", &[&[people], edits].concat());
        rules.map(|rule| times(rule, &text))
    };
    let off = |who: &str| of(&[(gown, &format!("  {who} helps nurse take off gown"))]);
    assert_eq!((off("aide"), off("buddy")), ([0, 1, 0], [1, 0, 0]));
    let kit = ("nurse wears gown, gloves\n", "nurse wears gown, gloves\n  aide wears gloves\n");
    assert_eq!(of(&[kit, (gown, "  aide helps nurse take off gown")]), [0, 0, 0]);
    let asked = [("  helps nurse\n", ""), (gown, "  aide helps nurse take off gown")];
    assert_eq!(of(&asked), [0, 1, 1], "an aide who helps nobody is no watcher");
    let both = [
        ("role buddy\n  watches\n", "role buddy\n  watches\n  helps nurse\n"),
        (gown, "  buddy helps nurse take off gown"),
    ];
    assert_eq!(of(&both), [0, 1, 0]);
    // As the kit goes on, a helper needs none.
    let on = ("  nurse puts on gown\n", "  aide helps nurse put on gown\n");
    assert_eq!(of(&[on]), [0, 0, 0]);
}

#[test]
fn who_leads_need_not_act() {
    let of = |lines: &str| told("role idle", &[("role buddy\n", &format!("{lines}role buddy\n"))]);
    assert_eq!((of("role runner\n"), of("role runner\n  leads\n")), (1, 0));
    let stores = "role runner\nitem gown\n  covers trunk\n";
    assert_eq!(times("role idle", stores), 0, "a file without sequences");
    let unread = [
        ("role buddy\n", "role runner\nrole buddy\n"),
        ("  wearer puts on gown\n", "  wearer puts on gown\n  runner fetshes it\n"),
    ];
    let found = check(&edited("role idle", &unread)).findings;
    assert!(found.iter().all(|finding| finding.name.to_string() != "role idle"), "an unread line may be the runner's");
}
