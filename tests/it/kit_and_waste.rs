//! The rules of kit, waste and paper against published facts and at their edges. Each case changes the right example of a
//! rule's page in one way.

use anteroom::policy::Step;
use anteroom::rules;
use anteroom::rules::guards::{self, Worst};

use crate::policy::check;

/// The right example of a rule's page.
pub fn right(rule: &str) -> String {
    let page = rules::named(rule).unwrap().page();
    let part = page.split("\n## Put right\n").nth(1).unwrap();
    part.split("```ppe\n").nth(1).unwrap().split("```").next().unwrap().to_owned()
}

pub fn edited(rule: &str, edits: &[(&str, &str)]) -> String {
    edits.iter().fold(right(rule), |text, (from, to)| {
        assert!(text.contains(from), "{from} is not in the example of {rule}:\n{text}");
        text.replacen(from, to, 1)
    })
}

/// How often a rule is told.
pub fn times(rule: &str, text: &str) -> usize {
    let checked = check(text);
    assert_eq!(checked.reading.problems, [], "{text}");
    checked.findings.iter().filter(|finding| finding.name.to_string() == rule).count()
}

const RESPIRATOR: &str = "  meets \"EN 149 FFP3\"\n  needs fit test\n";

/// Precautions by class, table 1 of PMC7125527 and the table of NHS Scotland, chapter 2: the airborne way asks
/// for an N95 or a powered device in the United States, for FFP3 in the United Kingdom; a surgical mask stops droplets.
#[test]
fn the_airborne_way_asks_for_a_respirator() {
    let with =
        |standard: &str| edited("kit route", &[(RESPIRATOR, &format!("  meets \"{standard}\"\n  needs fit test\n"))]);
    for standard in
        ["EN 149 FFP3", "EN 149 FFP2", "NIOSH N95", "42 CFR 84 P100", "EN 136 full face mask", "EN 12942 TM3"]
    {
        assert_eq!(times("kit route", &with(standard)), 0, "{standard}");
    }
    for standard in ["EN 14683 Type IIR", "EN 14683 Type I", "ASTM F2100 level 3"] {
        assert_eq!(times("kit route", &with(standard)), 1, "{standard}");
        let droplet = with(standard).replace("spreads by contact, airborne", "spreads by contact, droplet");
        assert_eq!(times("kit route", &droplet), 0, "{standard}");
    }
}

/// A powered hood stops the airborne way and, being loose, needs no fit test and no seal check (OSHA 29 CFR 1910.134 and an
/// encyclopaedia's restatement: loose-fitting powered respirators need none).
#[test]
fn a_powered_hood_needs_no_fit_test() {
    let hood = edited(
        "kit route",
        &[
            (RESPIRATOR, "  connects to blower\n"),
            ("item gloves\n", "item blower\n  runs for 4 hours\nitem gloves\n"),
            (
                "hold \"Seal\"\n    buddy confirms \"No air escapes at nose or cheeks on a hard breath out.\"",
                "hold \"Air\"\n    buddy confirms \"The blower runs.\"",
            ),
        ],
    );
    assert_eq!(times("kit route", &hood), 0);
    assert_eq!((times("kit fit", &hood), times("kit seal", &hood)), (0, 0));
}

/// HSE INDG479: fit test as part of selection, seal check every time. A surgical mask needs neither.
#[test]
fn a_tight_respirator_asks_for_fit_test_and_seal_check() {
    let seal = "  hold \"Seal\"\n    buddy confirms \"No air escapes at nose or cheeks on a hard breath out.\"\n    if not, go back to \"Putting on\"\n";
    let without = edited("kit route", &[(RESPIRATOR, "  meets \"EN 149 FFP3\"\n"), (seal, "")]);
    assert_eq!((times("kit fit", &without), times("kit seal", &without)), (1, 1));
    let powered = without.replace("EN 149 FFP3", "EN 12942 TM3");
    assert_eq!((times("kit fit", &powered), times("kit seal", &powered)), (1, 1));
    let prompted =
        without.replacen("  nurse puts on mask\n", "  nurse puts on mask\n    look for \"The seal holds.\"\n", 1);
    assert_eq!((times("kit fit", &prompted), times("kit seal", &prompted)), (1, 0));
    let surgical = edited("kit route", &[(RESPIRATOR, "  meets \"EN 14683 Type IIR\"\n"), (seal, "")]);
    assert_eq!((times("kit fit", &surgical), times("kit seal", &surgical)), (0, 0));
}

/// Splash asks for eyes, nose and mouth (table 1 of PMC7125527: eye protection and mask where splash is likely).
#[test]
fn splash_asks_for_the_whole_face() {
    assert_eq!(times("kit route", &right("kit fluid")), 0);
    assert_eq!(
        times(
            "kit route",
            &edited("kit fluid", &[("nurse wears gown, mask, visor, gloves", "nurse wears gown, mask, gloves")])
        ),
        1
    );
    assert_eq!(
        times(
            "kit route",
            &edited("kit fluid", &[("nurse wears gown, mask, visor, gloves", "nurse wears gown, visor, gloves")])
        ),
        1
    );
}

/// Standards of garments against liquids: EN 14126, EN 13795, ANSI/AAMI PB70.
#[test]
fn a_garment_resists_fluid_by_its_standard_or_its_words() {
    for standard in ["EN 14126 Type 4-B", "EN 13795 high performance", "ANSI/AAMI PB70 level 3"] {
        let named = format!("item gown\n  meets \"{standard}\"\n");
        assert_eq!(
            times("kit fluid", &edited("kit fluid", &[("item gown \"fluid-resistant gown\"\n", &named)])),
            0,
            "{standard}"
        );
    }
    assert_eq!(times("kit fluid", &edited("kit fluid", &[("\"fluid-resistant gown\"", "\"cotton gown\"")])), 1);
}

#[test]
fn pairs_are_counted_in_the_worst_case() {
    let change = |lines: &str| {
        edited(
            "kit pairs",
            &[
                ("nurse wears gown, two pairs gloves", "nurse wears gown, gloves"),
                ("  nurse puts on gloves\n  nurse takes off gown", &format!("{lines}  nurse takes off gown")),
            ],
        )
    };
    let either = "  if gown is soiled\n  nurse puts on gloves\n  otherwise\n  nurse cleans hands with hand rub for 30 seconds\n  end if\n";
    let checked = check(&change(either));
    let found = checked.findings.iter().find(|finding| finding.name.to_string() == "kit pairs").unwrap();
    assert_eq!(found.case, ["gown is soiled"]);
    // Two branches that exclude each other take one more pair between them, not two.
    let both = "  if gown is soiled\n  nurse puts on gloves\n  otherwise\n  nurse puts on gloves\n  end if\n";
    let two = change(both).replace("nurse wears gown, gloves", "nurse wears gown, two pairs gloves");
    let found = check(&change(both)).findings;
    let found: Vec<_> = found.iter().filter(|finding| finding.name.to_string() == "kit pairs").collect();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].case, Vec::<String>::new(), "in either branch");
    assert_eq!(times("kit pairs", &two), 0);
    // What is used again is one piece, however often it goes on.
    let reusable = change(both).replace("  single use\n  goes to waste bag\nlevel", "  goes to waste bag\nlevel");
    assert_eq!(times("kit pairs", &reusable), 0);
}

/// How many of some steps happen together at most, and the answers without which it would be fewer. By what conditions
/// mean; no outside source. Ten answers are tried, one by one: the bound is the project's own.
#[test]
fn as_many_steps_happen_as_their_conditions_allow() {
    let of = |lines: &str| {
        let steps = lines.replace("ACT", "nurse cleans hands with hand rub for 30 seconds");
        let text = right("kit pairs").replacen("  nurse goes to", &format!("{steps}  nurse goes to"), 1);
        let policy = check(&text).reading.policy;
        let steps: Vec<&Step> = policy.sequences.iter().flat_map(|sequence| &sequence.steps).collect();
        let steps: Vec<&Step> = steps.into_iter().filter(|step| !step.guard.is_always()).collect();
        let Worst { count, case } = guards::worst(&policy, &steps);
        (count, case)
    };
    assert_eq!(of(""), (0, vec![]));
    assert_eq!(of("ACT, if gown is wet\n"), (1, vec!["gown is wet".to_owned()]));
    assert_eq!(of("ACT, unless gown is wet\n"), (1, vec!["gown is not wet".to_owned()]));
    assert_eq!(of("ACT, if gown is wet\nACT, unless gown is wet\n"), (1, vec![]));
    let neither = of("ACT, unless gown is wet\nACT, unless gown is torn\n");
    assert_eq!(neither, (2, vec!["gown is not wet".to_owned(), "gown is not torn".to_owned()]));
    let three = "ACT, if gown is wet\nACT, if gown is wet and gown is soiled\nACT, if gown is soiled or gown is torn\n";
    assert_eq!(of(three), (3, vec!["gown is wet".to_owned(), "gown is soiled".to_owned()]));
    let each = |count: usize| -> String {
        let names = ["wet", "torn", "soiled", "loose", "stiff", "short", "long", "old", "creased", "thin", "thick"];
        names[..count].iter().map(|name| format!("ACT, if gown is {name}\nACT, unless gown is {name}\n")).collect()
    };
    assert_eq!((of(&each(10)).0, of(&each(11)).0), (10, 22));
}

#[test]
fn an_item_may_be_put_away_by_a_later_step() {
    let later = edited(
        "waste nowhere",
        &[
            (
                "item gown\n  covers trunk, arms\n  grip ties\n  single use\n  goes to waste bag",
                "item gown\n  covers trunk, arms\n  grip ties\n  single use",
            ),
            ("rolling it inside out, into waste bag\n", "rolling it inside out\n  nurse puts gown into waste bag\n"),
        ],
    );
    assert_eq!(times("waste nowhere", &later), 0);
    assert_eq!(times("waste nowhere", &later.replace("  nurse puts gown into waste bag\n", "")), 1);
}

/// Sharps go into a container for sharps (OSHA 29 CFR 1910.1030(d)(4)(iii)(A), from memory); a bag for anything else is not
/// one, whatever it is called.
#[test]
fn only_a_container_for_sharps_takes_sharps() {
    assert_eq!(times("waste sharps", &edited("waste sharps", &[("  for sharps\n", "  for needles and sharps\n")])), 0);
    assert_eq!(times("waste sharps", &edited("waste sharps", &[("  for sharps\n", "  for hard waste\n")])), 1);
}

#[test]
fn a_container_is_where_the_person_is() {
    assert_eq!(times("waste elsewhere", &right("waste elsewhere")), 0);
    let unplaced = edited("waste elsewhere", &[("  stands in doorway\n", "")]);
    assert_eq!(times("waste elsewhere", &unplaced), 0, "nothing is said about where it stands");
    let far = edited("waste elsewhere", &[("  stands in doorway\n", "  stands in room\n")]);
    assert_eq!(times("waste elsewhere", &far), 1, "one container in the wrong place is one mistake");
}

/// ISO/IEC 17025:2017, 8.3.2 and ISO 9001:2015, 7.5.2: approval, identification and review.
#[test]
fn document_control_is_asked_for_line_by_line() {
    let lines = [
        ("site \"Millbrook Infirmary\"\n", "paper missing"),
        ("edition 2\n", "paper missing"),
        ("owner \"Infection Prevention Team\"\n", "paper owner"),
        ("approved by \"Infection Control Committee\" on 2 March 2026\n", "paper approval"),
        ("in force from 1 April 2026\n", "paper undated"),
        ("review by 1 April 2027\n", "paper undated"),
    ];
    for (line, rule) in lines {
        let text = edited("paper owner", &[(line, "")]);
        assert_eq!(times(rule, &text), 1, "{line}");
        let told = check(&text).findings.iter().filter(|finding| finding.name.family == "paper").count();
        assert_eq!(told, 1, "{line}");
    }
}

#[test]
fn dates_are_compared_in_the_order_of_their_days() {
    let on = |from: &str, to: &str| times("paper dates", &edited("paper owner", &[(from, to)]));
    assert_eq!(on("review by 1 April 2027", "review by 1 April 2026"), 1);
    assert_eq!(on("review by 1 April 2027", "review by 2 April 2026"), 0);
    assert_eq!(on("on 2 March 2026", "on 1 April 2026"), 0);
    assert_eq!(on("on 2 March 2026", "on 2 April 2026"), 1);
    assert_eq!(on("replaces edition 1", "replaces edition 2"), 1);
}
