//! Edges of the rules about drills.

use super::told;
use crate::kit_and_waste::{edited, times};
use crate::policy::check;

/// The sources are the page's own.
#[test]
fn first_aid_follows_what_reaches_the_face_or_the_blood() {
    let of = |edits: &[(&str, &str)]| told("drill exposure", edits);
    let aid = ("  then start \"Possible exposure\"\n", "");
    let event = |words: &'static str| ("when face is splashed", words);
    assert_eq!((of(&[]), of(&[aid])), (0, 1));
    assert_eq!(of(&[aid, event("when skin is pierced")]), 1);
    assert_eq!(of(&[aid, event("when hands are splashed")]), 0);
    let call = "  buddy does \"Call the infection prevention nurse and occupational health now\"\n";
    let asked = "  hold \"Known\"\n    buddy confirms \"Occupational health has been told.\"\n";
    assert_eq!((of(&[(call, "")]), of(&[(call, asked)])), (1, 0));
    // What stays on the hands is told instead.
    let (ends, rest) = (
        "  then start \"Taking off\"\n  then start \"Possible exposure\"\n",
        "sequence \"Out\" for Splash, in doorway\n  nurse takes off gloves by cuff into waste bag\n",
    );
    let out = [
        (ends, "  then start \"Out\"\n"),
        ("sequence \"Possible exposure\"", &*format!("{rest}sequence \"Possible exposure\"")),
        event("when skin is pierced"),
    ];
    assert_eq!(times("drill unclean", &edited("drill exposure", &out)), 1);
    assert_eq!(of(&out), 0);
}

/// A line that cannot be read is told as that, wherever the first aid stands.
#[test]
fn first_aid_that_cannot_be_read_is_not_missing() {
    let of = |from: &str, to: &str| {
        let found = check(&edited("drill exposure", &[(from, to)])).findings;
        found.iter().filter(|finding| finding.name.to_string() == "drill exposure").count()
    };
    let call = "  buddy does \"Call the infection prevention nurse and occupational health now\"\n";
    let unread = "  buddy does \"Go to the desk\"\n    sya \"Call the infection prevention nurse.\"\n";
    assert_eq!(of(call, unread), 0, "in what the drill starts");
    let start = "  then start \"Possible exposure\"\n";
    assert_eq!(of(start, &format!("  nurse does \"Rinse both eyes\"\n{unread}  then carry on\n")), 0, "in the drill");
    assert_eq!(of(start, "  nurse does \"Rinse both eyes\"\n  then carry on\n"), 1);
}

/// What stands before the drill, a second level with sequences of its own, and the drill.
fn around_second(text: &str) -> (&str, String, &str) {
    let (level, drill) = (text.find("level Contact").unwrap(), text.find("contingency").unwrap());
    let changes = [
        ("level Contact", "level Second"),
        ("for Contact", "for Second"),
        ("\"Putting on\"", "\"On\""),
        ("\"Taking off\"", "\"Off\""),
    ];
    let second = changes.iter().fold(text[level..drill].to_owned(), |text, (from, to)| text.replace(from, to));
    (&text[..drill], second, &text[drill..])
}

#[test]
fn one_missing_drill_is_told_with_all_its_levels() {
    let text = edited("drill missing", &[]);
    let (before, second, _) = around_second(&text);
    let of = |text: &str| {
        let found = check(text).findings.into_iter().filter(|finding| finding.name.to_string() == "drill missing");
        found.map(|finding| finding.message).collect::<Vec<_>>()
    };
    let one = of(before);
    assert!(one.len() == 1 && one[0].ends_with("at the level Contact."), "{one:?}");
    let both = of(&format!("{before}{second}"));
    assert!(both.len() == 1 && both[0].ends_with("at the levels Contact and Second."), "{both:?}");
}

#[test]
fn a_drill_that_cannot_happen_says_why() {
    let of = |text: &str| {
        let found = check(text).findings.into_iter().filter(|finding| finding.name.to_string() == "drill never");
        found.map(|finding| finding.message).collect::<Vec<_>>()
    };
    let apron = [
        ("item gloves\n", "item apron\n  covers trunk\nitem gloves\n"),
        (
            "contingency",
            "contingency \"An apron tears\" when apron is torn\n  nurse goes to doorway\n  then carry on\ncontingency",
        ),
    ];
    let unworn = of(&edited("drill never", &apron));
    assert!(unworn.len() == 1 && unworn[0].contains("Nobody who has met the hazard wears"), "{unworn:?}");
    let text = edited("drill never", &[]);
    let (before, second, after) = around_second(&text);
    let both = "contingency \"Out\" when nurse is unwell\n  nurse goes to doorway\n  then start \"Taking off\"\n  then start \"Off\"\n";
    let both = of(&format!("{before}{second}{after}{both}"));
    assert!(both.len() == 1 && both[0].contains("more than one level"), "{both:?}");
    // Without a taking-off, nothing is known of what drills lead to.
    let text = edited("drill never", &apron);
    let (off, drill) = (text.find("sequence \"Taking off\"").unwrap(), text.find("contingency").unwrap());
    assert_eq!(of(&format!("{}{}", &text[..off], &text[drill..])), Vec::<String>::new());
}

/// Only the cleaning of hands is known by its words; anything else that is done may see to other skin.
#[test]
fn other_skin_may_be_seen_to_in_words() {
    let of = |edits: &[(&str, &str)]| told("drill unclean", edits);
    let arms = ("when skin is pierced", "when arms are pierced");
    let (stick, off) = (
        "when skin is pierced\n  nurse goes to doorway\n",
        "sequence \"Taking off\" for Contact, in doorway\n  nurse goes to doorway\n",
    );
    assert_eq!(of(&[arms]), 1);
    assert_eq!(of(&[(stick, "when arms are pierced\n  nurse goes to doorway\n  nurse does \"Wash the arm\"\n")]), 0);
    assert_eq!(of(&[arms, (off, &format!("{off}  nurse does \"Wash the arm\"\n"))]), 0, "in what it starts");
    let out = "sequence \"Out\" for Contact, in doorway\n  nurse takes off gloves by cuff into waste bag\n  nurse does \"Wash\"\n";
    let ends = format!("{stick}  then start \"Out\"\n{out}");
    assert_eq!(of(&[(&format!("{stick}  then start \"Taking off\"\n"), &ends)]), 1, "hands are cleaned by a step");
}

#[test]
fn up_to_three_items_are_named() {
    let of = |lines: &str| {
        let drill = "when face is splashed\n  nurse goes to doorway\n  then start \"Taking off\"\n";
        let to = format!("when nurse is unwell\n  nurse goes to doorway\n{lines}");
        let found = check(&edited("drill exposure", &[(drill, &to)])).findings;
        found.into_iter().find(|finding| finding.name.to_string() == "drill unfinished").unwrap().message
    };
    let three = of("  nurse takes off gloves by cuff into waste bag\n");
    assert!(three.contains("still wears the gown, the mask and the visor when"), "{three}");
    assert!(of("").contains("still wears 4 items when"));
}

#[test]
fn what_a_drill_leaves_on_is_told_of_the_drill() {
    let fresh = "  nurse puts on fresh gloves\n  then carry on\n";
    let more = "  nurse puts on fresh gloves\n  buddy puts on aide gloves\n  then carry on\n";
    let text = edited("drill unfinished", &[(fresh, more)]);
    assert_eq!((times("drill unfinished", &text), times("role stranded", &text)), (1, 0));
}
