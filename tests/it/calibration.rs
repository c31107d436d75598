//! The model agrees with what is published, and still has teeth: how near the hazard comes in the published orders, in touches.
//!
//! The orders are those of tests/published, each with its source in its first line. The figures of touches come from the
//! prototype on which the model was calibrated; that they fit what the bodies rule out is the check.

use anteroom::findings::{Kind, Signal};
use anteroom::policy::{Area, Day};
use anteroom::session::Checked;
use anteroom::walk::Surface;

use crate::policies::{checked, checked_text};

pub fn published(file: &str) -> Checked {
    checked(&format!("tests/published/{file}.ppe"), Day::new(2026, 12, 2).unwrap())
}

/// How near the hazard comes to any of these areas of the wearer's skin, in any case.
fn nearest(checked: &Checked, areas: impl Fn(Area) -> bool) -> Option<u16> {
    let policy = &checked.reading.policy;
    let of_wearer = |surface: Surface| matches!(surface, Surface::Skin { who, area } if areas(area) && policy.role(who).name == "wearer");
    let near = checked.walk.runs.iter().flat_map(|run| &run.nearest);
    near.filter(|nearest| nearest.slips == 0 && of_wearer(nearest.surface)).map(|nearest| nearest.distance).min()
}

fn hands(area: Area) -> bool {
    area == Area::Hands
}

fn names_at(checked: &Checked, step: &str) -> Vec<String> {
    let at = checked.findings.iter().filter(|finding| finding.sentence.contains(step));
    at.map(|finding| finding.name.to_string()).collect()
}

/// Skin 2 and face 3 touches away, fronts contaminated: D1 (CDC poster), D3 (CDC COVID-19), D9 (Public Health England), D11
/// (UHB), D13 (RACGP) keep to it.
#[test]
fn published_orders_break_no_law() {
    for file in ["d1", "d3", "d9", "d11", "d13"] {
        let checked = published(file);
        let skin = nearest(&checked, |area| !area.is_face());
        assert!(skin.is_some_and(|touches| touches >= 2), "{file}: skin at {skin:?}");
        let face = nearest(&checked, Area::is_face);
        assert!(face.is_none_or(|touches| touches >= 3), "{file}: face at {face:?}");
        let broken: Vec<_> = checked
            .findings
            .iter()
            .filter(|finding| finding.kind == Kind::Law && finding.signal == Signal::Danger)
            .map(|finding| &finding.title)
            .collect();
        assert!(broken.is_empty(), "{file}: {broken:?}");
    }
}

/// D22, WHO including coverall, every outside contaminated: from memory.
#[test]
fn the_face_is_three_touches_away_in_the_coverall_order() {
    assert_eq!(nearest(&published("d22"), Area::is_face), Some(3));
}

/// F57: contamination reaches skin (CDC; Public Health England: front and sleeves are contaminated).
#[test]
fn a_bare_hand_on_the_front_of_the_gown_is_one_touch() {
    let checked = published("f57-gown-by-its-front");
    assert_eq!(nearest(&checked, hands), Some(1));
    assert_eq!(names_at(&checked, "takes off gown"), ["touch barehand"], "one mistake, one message");
}

/// F55, U2: in a kit with two pairs no bare hand meets a contaminated garment (Victoria: no bare skin on used kit). That the
/// inner gloves come off too early shows through the edge that the coverall has over them.
#[test]
fn a_bare_hand_on_the_coverall_is_one_touch() {
    let checked = published("f55-bare-hand-on-the-coverall");
    assert_eq!(nearest(&checked, hands), Some(1));
    assert_eq!(names_at(&checked, "takes off coverall"), ["touch barehand"]);
    assert_eq!(names_at(&checked, "takes off inner gloves"), ["order covered"]);
}

/// F54 and F58 break no law of touch: they are guidance of their own (U4, U1).
#[test]
fn what_only_guidance_rules_out_breaks_no_law() {
    for (file, name) in [("f54-mask-before-eyes", "order eyes"), ("f58-no-hands-at-the-end", "hygiene last")] {
        let checked = published(file);
        let dangers: Vec<_> = checked.findings.iter().filter(|finding| finding.signal == Signal::Danger).collect();
        assert!(dangers.iter().all(|finding| finding.kind == Kind::Guidance), "{file}");
        assert!(dangers.iter().any(|finding| finding.name.to_string() == name), "{file}");
    }
}

/// What the bodies differ in is no more than a warning: D15 (Public Health Ontario) cleans hands once before the face, not
/// right after the gloves (P44, U16); D12 (Australia) cleans after every item (P43).
#[test]
fn hands_after_the_gloves_are_asked_for_where_nobody_cleans_them() {
    let about_hands = |file: &str| -> Vec<String> {
        let findings = published(file).findings;
        let names = findings.iter().map(|finding| finding.name.to_string());
        names.filter(|name| name.starts_with("hygiene") || name.starts_with("touch")).collect()
    };
    assert_eq!(about_hands("d15"), ["hygiene gloves"]);
    assert_eq!(about_hands("d12"), Vec::<String>::new());
}

const SIDE_ROOM: &str = "policy \"Ward\"\nhazard stool\nspreads by contact\nplace corridor is clean\nplace room is contaminated\n\
    place doorway is for taking off\nway corridor to room to doorway to corridor\nrole nurse\n\
    cleaner hand rub\nfor hands\ncleaner soap and water\nfor hands\ncontainer bin\nfor waste\nstands in doorway\n\
    item gown\ncovers trunk, arms\ngrip ties\nsingle use\ngoes to bin\n\
    item gloves\ncovers hands\ngoes over gown\nsingle use\ngoes to bin\n\
    level Contact against contact\nnurse wears gown, gloves\nkeep covered hands, trunk, arms\n\
    assume fronts are contaminated\nkeep skin 2 touches away\n\
    sequence \"Putting on\" for Contact, in corridor\nnurse cleans hands with hand rub for 30 seconds\n\
    nurse puts on gown\nnurse puts on gloves\nnurse goes to room\n\
    sequence \"Taking off\" for Contact, in doorway\nnurse goes to doorway\nnurse takes off gloves by cuff into bin\n";

fn after_the_gloves(steps: &str) -> Checked {
    checked_text(&format!("{SIDE_ROOM}{steps}nurse goes to corridor\n"), Day::new(2026, 12, 2).unwrap())
}

/// T40 in a procedure: only in the case in which the hands are soiled, and only where the rub is used in it.
#[test]
fn a_rub_on_soil_is_told_with_its_case() {
    let gown = "nurse cleans hands with hand rub for 30 seconds\n\
                nurse takes off gown by ties, rolling it inside out, into bin\n";
    let asked = after_the_gloves(&format!(
        "{gown}nurse does \"Look again\", if hands are soiled\nnurse cleans hands with hand rub for 30 seconds\n"
    ));
    let soiled: Vec<_> = asked.findings.iter().filter(|f| f.name.to_string() == "hygiene soiled").collect();
    assert_eq!(soiled.len(), 1);
    assert_eq!(soiled[0].case, ["hands are soiled"]);
    assert!(!asked.findings.iter().any(|f| f.name.to_string() == "hygiene last"), "one mistake, one message");
    let washed = after_the_gloves(&format!(
        "{gown}nurse cleans hands with soap and water for 60 seconds, if hands are soiled\n\
         nurse cleans hands with hand rub for 30 seconds, unless hands are soiled\n"
    ));
    assert!(!washed.findings.iter().any(|f| f.name.family == "hygiene"));
}

/// Gloves last of all and no hand cleaning: one message, that the end is missing.
#[test]
fn a_missing_end_is_told_once() {
    let checked = after_the_gloves("");
    let about_gloves: Vec<_> = names_at(&checked, "takes off gloves");
    assert!(about_gloves.contains(&"hygiene last".to_string()), "{about_gloves:?}");
    assert!(!about_gloves.contains(&"hygiene gloves".to_string()), "{about_gloves:?}");
}

/// A finding that rests on the policy's own figure names it.
#[test]
fn a_figure_of_the_policy_is_named_in_the_chain() {
    let text = format!(
        "{}nurse cleans hands with hand rub for 30 seconds\nnurse takes off gown by front into bin\n",
        SIDE_ROOM
            .replace("for hands\ncleaner soap", "for hands\nworth 1 touch\ncleaner soap")
            .replace("keep skin 2", "keep skin 9")
            .replace(
                "doorway\nnurse takes off gloves",
                "doorway\nnurse cleans hands with hand rub for 30 seconds\nnurse takes off gloves"
            )
    );
    let checked = checked_text(&text, Day::new(2026, 12, 2).unwrap());
    let chains: Vec<&String> = checked.findings.iter().flat_map(|finding| &finding.chain).collect();
    assert!(chains.iter().any(|link| link.ends_with("by the policy's own figure of 1 for hand rub.")), "{chains:#?}");
}

/// Names of the policy's own may be long; titles stand in lists of 60 characters (HOUSE.md; no outside source).
#[test]
fn titles_fit_whatever_the_names() {
    let long = |text: &str| {
        let kit = text.replace("gown", "long-sleeved fluid-resistant theatre gown of the blue kind");
        let kit = kit.replace("visor", "wrap-around full-face visor with its foam brow band");
        let people = kit.replace("practitioner", "operating department practitioner on the late shift");
        people.replace("exit chair", "folding exit chair beside the second curtain of the bay")
    };
    for rule in anteroom::rules::ALL.iter().filter(|rule| ["touch", "hygiene"].contains(&rule.name().family)) {
        for example in rule.page().split("```ppe\n").skip(1).take(1) {
            let text = long(example.split("```").next().unwrap_or_default());
            let checked = checked_text(&text, Day::new(2026, 12, 2).unwrap());
            let mine: Vec<_> = checked.findings.iter().filter(|finding| finding.name == rule.name()).collect();
            assert!(!mine.is_empty(), "{}", rule.name());
            for finding in mine {
                assert!(finding.title.chars().count() <= 60, "{}: {}", rule.name(), finding.title);
            }
        }
    }
}

fn told(checked: &Checked, name: &str) -> Vec<Vec<String>> {
    checked.findings.iter().filter(|f| f.name.to_string() == name).map(|f| f.case.clone()).collect()
}

/// Being in a contaminated place sets every outermost outside to 0 (the model's own law): also for the first step of whoever
/// begins there.
#[test]
fn the_hazard_lies_on_those_who_begin_with_it() {
    let text = "policy \"Ward\"\nhazard stool\nspreads by splash\nplace corridor is clean\nplace room is contaminated\nrole wearer\nrole helper\nhelps wearer\n\
                item goggles\ncovers eyes\ngrip front\nreused after wipe\ncleaner wipe\nfor surfaces\n\
                level Eyes against stool\nwearer wears goggles\nkeep covered eyes\nassume fronts are contaminated\n\
                sequence \"Care\" for Eyes, in room\nwearer wipes goggles with wipe\nwearer goes to corridor\nwearer goes to room\n\
                sequence \"Taking off\" for Eyes, in corridor\nhelper helps wearer take off goggles by front\n";
    assert_eq!(nearest(&checked_text(text, Day::new(2026, 12, 2).unwrap()), hands), Some(1));
}

/// U11: hand hygiene comes first in N1 to N4, N6, N10 and N11. Hands that are cleaned in one case only are told with the other.
#[test]
fn hands_first_in_every_case() {
    let start = "nurse cleans hands with hand rub for 30 seconds\nnurse puts on gown";
    let with = |lines: &str| checked_text(&SIDE_ROOM.replace(start, lines), Day::new(2026, 12, 2).unwrap());
    assert_eq!(told(&with(start), "hygiene first"), Vec::<Vec<String>>::new());
    assert_eq!(told(&with("nurse puts on gown"), "hygiene first"), [Vec::<String>::new()]);
    let sometimes = "nurse cleans hands with soap and water for 40 seconds, if hands are soiled\nnurse puts on gown";
    assert_eq!(told(&with(sometimes), "hygiene first"), [["hands are not soiled"]]);
}

/// CDC for Ebola, August 2015 (D4, D5; lists from memory): gloves are cleaned and changed. Without the cleaning, WHO's hand
/// hygiene after removing gloves (2009, third party's copy) is missing.
#[test]
fn gloves_are_changed_when_they_are_clean() {
    let back = |lines: &str| {
        let text = SIDE_ROOM
            .replace("nurse takes off gloves", &format!("{lines}nurse changes gloves\nnurse takes off gloves"));
        let end = "nurse cleans hands with hand rub for 30 seconds\nnurse takes off gown by ties into bin\n\
                   nurse cleans hands with hand rub for 30 seconds\nnurse goes to corridor\n";
        told(&checked_text(&(text + end), Day::new(2026, 12, 2).unwrap()), "hygiene gloves").len()
    };
    assert_eq!(back(""), 1);
    assert_eq!(back("nurse cleans hands with hand rub for 30 seconds\n"), 0);
    assert_eq!(back("nurse cleans hands with hand rub for 30 seconds\nnurse opens bin\n"), 1);
}

/// What was taken off by a clean part is put away by it; common practice, no source. Once it has lain somewhere it is picked
/// up by its outside.
#[test]
fn what_is_taken_off_is_held_by_the_same_part() {
    let off = "nurse cleans hands with hand rub for 30 seconds\nnurse takes off gown by ties, rolling it inside out\n";
    let end = "nurse cleans hands with hand rub for 30 seconds\n";
    let bare = |steps: &str| told(&after_the_gloves(&format!("{off}{steps}{end}")), "touch barehand").len();
    assert_eq!(bare("nurse puts gown into bin\n"), 0);
    assert_eq!(bare("nurse puts gown into bin\nnurse puts gown into bin\n"), 1);
}
