//! What comes off before what, and what lies bare: the order and cover families against published orders, and against the
//! plain geometry of layers where nothing is published. Tags as in the project's notes on sources: [S] seen at the source,
//! [S3] in a copy, [M] from memory.

use anteroom::findings::Finding;

use crate::policy::check;

const DECLARED: &str = r#"policy "Fever tents"
hazard fever
  spreads by contact, airborne
place camp is clean
place tent is contaminated
place porch is for taking off
way camp to tent to porch to camp
role wearer
role helper
  helps wearer
role buddy
  watches
cleaner hand rub
  for hands
container bin
  for waste
  stands in porch
item scrubs
  covers trunk, arms, legs
  worn beneath
item inner gloves
  covers hands
item gown
  covers trunk, arms
  goes over inner gloves
  grip ties
item suit
  covers trunk, arms, legs
  goes over inner gloves
item boots
  covers feet, legs
item boot covers
  covers feet
  goes over suit
item respirator
  covers nose, mouth
  grip straps
  meets "EN 149 FFP3"
item goggles
  covers eyes
  grip headband
item blower
  runs for 4 hours
item hood
  covers hair, face, eyes, nose, mouth, neck
  goes over gown, suit
  connects to blower
  grip crown
item full mask
  covers face, eyes, nose, mouth
  grip straps
  meets "EN 136"
item farm gloves
  covers hands
  tucks into suit
item cap
  covers hair
item outer gloves
  covers hands
  goes over gown, suit
level Fever against contact, airborne
  wearer wears scrubs, two pairs inner gloves, gown, suit, boots, boot covers, respirator, goggles, blower, hood, cap, outer gloves, full mask, farm gloves
  keep covered KEPT
  assume fronts are contaminated
  keep skin 2 touches away
"#;

/// The findings of the order and cover families, each `order eyes at wearer takes off mask …`.
fn told(kept: &str, putting_on: &[&str], taking_off: &[&str]) -> Vec<String> {
    let findings = findings(kept, putting_on, taking_off);
    findings.iter().map(|finding| format!("{} at {}", finding.name, finding.sentence)).collect()
}

fn findings(kept: &str, putting_on: &[&str], taking_off: &[&str]) -> Vec<Finding> {
    let mut text = DECLARED.replace("KEPT", kept);
    text += "sequence \"Putting on\" for Fever, in camp\n";
    putting_on.iter().for_each(|step| text += &format!("  {step}\n"));
    text += "  wearer goes to tent\nsequence \"Taking off\" for Fever, in porch\n  wearer goes to porch\n";
    taking_off.iter().for_each(|step| text += &format!("  {step}\n"));
    let checked = check(&text);
    assert_eq!(checked.reading.problems, [], "{text}");
    checked.findings.into_iter().filter(|finding| ["order", "cover"].contains(&finding.name.family)).collect()
}

const NOTHING: [&str; 0] = [];

/// A powered hood comes off before gown or coverall: CDC Ebola training modules, 2014, PAPR with gown, pages 10 and 11 [S].
#[test]
fn a_powered_hood_comes_off_before_the_gown() {
    let on = ["wearer puts on gown", "wearer puts on blower", "wearer puts on hood", "helper connects hood to blower"];
    let off = [
        "helper disconnects hood from blower",
        "helper helps wearer take off blower into bin",
        "helper helps wearer take off hood by crown into bin",
        "wearer takes off gown by ties into bin",
    ];
    assert_eq!(told("trunk, nose, mouth", &on, &off), NOTHING);
    assert_eq!(
        told("trunk, nose, mouth", &on, &off[1..]),
        ["order connected at helper helps wearer take off blower into bin"],
        "the hose is detached first: the same page"
    );
}

/// A respirator that seals on the face comes off after the gown: RACGP 2023 [S], PHE 2020 [S3]. Boots, though they reach up
/// the legs, may come off after it: WHO 2014, including gown [M].
#[test]
fn a_respirator_waits_for_the_gown_but_not_for_the_boots() {
    let on = ["wearer puts on boots", "wearer puts on gown", "wearer puts on respirator"];
    let (gown, respirator) =
        ("wearer takes off gown by ties into bin", "wearer takes off respirator by straps into bin");
    let boots = "wearer takes off boots into bin";
    assert_eq!(told("trunk", &on, &[gown, respirator, boots]), NOTHING);
    assert_eq!(told("trunk", &on, &[respirator, gown, boots]), [format!("order respirator at {respirator}")]);
}

/// A mask over the whole face seals as a half mask does (EN 136), and waits for the gown too; a visor is no mask.
#[test]
fn a_mask_over_the_whole_face_waits_for_the_gown() {
    let on = ["wearer puts on gown", "wearer puts on full mask"];
    let (gown, mask) = ("wearer takes off gown by ties into bin", "wearer takes off full mask by straps into bin");
    assert_eq!(told("trunk", &on, &[gown, mask]), NOTHING);
    assert_eq!(told("trunk", &on, &[mask, gown]), [format!("order respirator at {mask}")]);
}

/// Boots, then coverall, then gloves, then head cover, goggles, respirator: CDC, H5N1 and farm animals, 2024 [S3], put on in
/// the order of the same page. The cuffs are taken to lie beneath the sleeves, since the coverall comes off first.
#[test]
fn the_farm_order_of_the_cdc_stands() {
    let on =
        ["suit", "respirator", "goggles", "cap", "farm gloves", "boots"].map(|item| format!("wearer puts on {item}"));
    let off = ["boots", "suit", "farm gloves", "cap", "goggles", "respirator"];
    let off = off.map(|item| format!("wearer takes off {item} into bin"));
    let (on, off) = (on.each_ref().map(String::as_str), off.each_ref().map(String::as_str));
    assert_eq!(told("hands, trunk, arms, hair, eyes, nose, mouth", &on, &off), NOTHING);
}

/// Eye protection before mask or respirator: CDC, Sequence for removing PPE [S3], and every order without a powered hood.
/// However much is still on, it is one mistake at one step.
#[test]
fn a_respirator_before_goggles_and_gown_is_told_once() {
    let on = ["wearer puts on gown", "wearer puts on respirator", "wearer puts on goggles, if splash is likely"];
    let off = [
        "wearer takes off respirator by straps into bin",
        "wearer takes off gown by ties into bin",
        "wearer takes off goggles by headband into bin, if splash is likely",
    ];
    let found = findings("trunk", &on, &off);
    let names: Vec<String> = found.iter().map(|finding| finding.name.to_string()).collect();
    assert_eq!(names, ["order eyes"]);
    assert_eq!(found[0].case, ["splash is likely"]);
    assert!(found[0].message.contains("The goggles and the gown are still on"), "{}", found[0].message);
}

/// A torn inner glove comes off at once and fresh ones go up to the sleeve that is still on: CDC Ebola training modules, 2014,
/// PAPR with gown, page 9 [S]. Without a tear, the glove beneath the sleeve stays on until the gown is off.
#[test]
fn a_torn_inner_glove_is_changed_beneath_the_sleeve() {
    let outer = "wearer takes off outer gloves by cuff into bin";
    let on = ["wearer puts on inner gloves", "wearer puts on gown", "wearer puts on outer gloves"];
    let off = ["wearer takes off gown by ties into bin", "wearer takes off inner gloves by cuff into bin"];
    let with = |change| told("trunk", &on, &[&[outer, change], &off[..]].concat());
    assert_eq!(with("wearer changes inner gloves, if inner gloves are torn"), NOTHING);
    assert_eq!(with("wearer changes inner gloves"), ["order covered at wearer changes inner gloves"]);
    let early = told("trunk", &on, &[outer, off[1], off[0]]);
    assert_eq!(early, ["order covered at wearer takes off inner gloves by cuff into bin"]);
}

/// The head cover goes on after the respirator and comes off before it: CDC, H5N1 and farm animals, 2024 [S3]. The other way
/// round, the straps lie beneath the cap.
#[test]
fn straps_beneath_a_cap_are_out_of_reach() {
    let on = ["wearer puts on respirator", "wearer puts on cap"];
    let (cap, respirator) = ("wearer takes off cap into bin", "wearer takes off respirator by straps into bin");
    assert_eq!(told("mouth", &on, &[cap, respirator]), NOTHING);
    assert_eq!(told("mouth", &on, &[respirator, cap]), [format!("order trapped at {respirator}")]);
    assert_eq!(told("mouth", &[on[1], on[0]], &[respirator, cap]), NOTHING, "the straps lie over the cap");
    assert_eq!(told("mouth", &on, &["wearer takes off respirator by straps, together with cap, into bin"]), NOTHING);
}

/// By how the edges lie; common practice, no source.
#[test]
fn pulling_up_a_suit_covers_the_cuffs_but_not_the_boots() {
    let half = "wearer puts on suit as far as the waist";
    let off_feet = ["wearer takes off boot covers into bin", "wearer takes off suit into bin"];
    let on = [half, "wearer puts on boot covers", "wearer pulls up suit"];
    assert_eq!(told("trunk", &on, &off_feet), NOTHING, "the boot covers went on over what is on already");
    let on = [half, "wearer puts on outer gloves", "wearer pulls up suit"];
    let off = ["wearer takes off suit into bin", "wearer takes off outer gloves by cuff into bin"];
    assert_eq!(told("trunk", &on, &off), ["order beneath at wearer pulls up suit"]);
    assert_eq!(
        told("trunk", &on[..2], &off),
        ["order half at wearer goes to tent"],
        "what it leaves open is no second fault"
    );
}

/// Written a second time where it is to be pulled up: one mistake. By the meaning of the words.
#[test]
fn putting_on_what_is_half_on_is_told_as_half_on() {
    let on = ["wearer puts on suit as far as the waist", "wearer puts on suit"];
    assert_eq!(told("trunk", &on, &["wearer takes off suit into bin"]), ["order half at wearer goes to tent"]);
    assert_eq!(
        told("trunk", &[on[1], on[1]], &["wearer takes off suit into bin"]),
        ["order repeated at wearer puts on suit"]
    );
}

/// Listed twice and put on once: a hold that fails puts nothing on again. By the meaning of the words.
#[test]
fn a_hold_that_fails_puts_on_no_second_pair() {
    let hold = ["hold \"Ready\"", "  buddy confirms \"All is on.\"", "  if not, go back to \"Putting on\""];
    let on = [&["wearer puts on inner gloves"], &hold[..]].concat();
    assert_eq!(told("hands", &on, &["wearer takes off inner gloves by cuff into bin"]), NOTHING);
}

/// By the meaning of the words: own clothes are no cover, and what is bare is told once, with the case.
#[test]
fn bare_skin_and_own_clothes_are_told_once_for_each_case() {
    let on = ["wearer puts on inner gloves", "wearer puts on gown, if gown is supplied", "wearer puts on outer gloves"];
    let off = [
        "wearer takes off outer gloves by cuff into bin",
        "wearer takes off gown by ties into bin, if gown is supplied",
        "wearer takes off inner gloves by cuff into bin",
    ];
    let found = findings("hands, trunk, arms, legs", &on, &off);
    let told: Vec<(String, &str, &[String])> =
        found.iter().map(|finding| (finding.name.to_string(), finding.title.as_str(), &finding.case[..])).collect();
    let clothes = "Own clothes lie open to the hazard";
    let unsupplied = ["gown is not supplied".to_string()];
    assert_eq!(told, [("cover bare".into(), clothes, &[][..]), ("cover bare".into(), clothes, &unsupplied[..])]);
    let arms = found.iter().find(|finding| !finding.case.is_empty()).map(|finding| finding.message.as_str());
    assert!(arms.is_some_and(|message| message.contains("trunk and arms")), "{arms:?}");
}
