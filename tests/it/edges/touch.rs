//! Edges of the rules about touches, and about the words for the way out of one.

use anteroom::faces::shelf::FolderShelf;
use anteroom::session;
use camino::Utf8Path;

use super::told;
use crate::kit_and_waste::{edited, times};
use crate::policy::check;

const GOWN: &str = "  nurse takes off gown by ties, rolling it inside out, into waste bin\n";

#[test]
fn the_way_out_fits_what_the_bare_hand_is_on() {
    let of = |edits: &[(&str, &str)]| {
        let found = check(&edited("touch barehand", edits)).findings.into_iter();
        found
            .filter(|finding| finding.name.to_string() == "touch barehand")
            .map(|finding| finding.way_out)
            .collect::<Vec<_>>()
    };
    let off = |how: &str| of(&[(GOWN, &GOWN.replace(" by ties", how))]);
    assert_eq!(off(""), ["Say which part clean hands take hold of, such as `by ties`."]);
    assert_eq!(off(" by front"), ["With clean hands, take the gown by the ties."]);
    let table = ("item gown\n", "surface table\n  stands in doorway\n  starts contaminated\nitem gown\n");
    let folded = format!("{GOWN}  nurse folds table\n");
    assert_eq!(
        of(&[table, (GOWN, &folded)]),
        ["Wipe the table first with gloves on, or let gloved hands do this step."]
    );
}

/// Whoever has no kit at all and undresses others, or only watches, is told of by the rules of roles.
#[test]
fn a_bare_hand_without_kit_is_told_once() {
    let people = ("role nurse\n", "role nurse\nrole buddy\n  watches\nrole aide\n");
    let wipe = ("cleaner hand rub\n", "cleaner wipe\n  for surfaces\ncleaner hand rub\n");
    let off = |who: &str| {
        let front = format!("  {who} helps nurse take off gown by front, rolling it inside out, into waste bin\n");
        told("touch barehand", &[people, (GOWN, &front)])
    };
    assert_eq!((off("buddy"), off("aide")), (0, 0));
    let within = |who: &str| {
        let lines = format!(
            "sequence \"Within\" for Contact, in side room\n  {who} wipes gown with wipe\nsequence \"Taking off\""
        );
        told("touch barehand", &[people, wipe, ("sequence \"Taking off\"", &lines)])
    };
    assert_eq!((within("buddy"), within("aide")), (0, 1), "nothing comes off");
}

#[test]
fn fresh_kit_is_touched_with_clean_hands() {
    let rub = "  practitioner cleans hands with hand rub for 20 seconds\n";
    let (gown, bare) = (
        "  practitioner takes off gown by ties, rolling it inside out, into waste bag\n",
        "  practitioner takes off gown, rolling it inside out, into waste bag\n",
    );
    let gloves = "  practitioner takes off gloves by cuff into waste bag\n";
    let fresh = "  practitioner puts on fresh gloves\n";
    let of = |edits: &[(&str, &str)]| times("touch unclean", &edited("touch near", edits));
    assert_eq!(of(&[(&format!("{gown}{rub}"), &format!("{bare}{fresh}"))]), 1);
    assert_eq!(of(&[(&format!("{gown}{rub}"), &format!("{bare}{rub}{fresh}"))]), 0);
    assert_eq!(
        of(&[(&format!("{gloves}{rub}"), &format!("{gloves}{fresh}"))]),
        0,
        "hands not cleaned after gloves: told"
    );
    let far = ("keep skin 2 touches away", "keep skin 3 touches away");
    assert_eq!(of(&[far, (&format!("{gloves}{rub}"), &format!("{gloves}{fresh}"))]), 0, "told, and near");
    let leaves = "  practitioner goes to hall\n";
    let last = (leaves, &*format!("{gloves}{leaves}"));
    assert_eq!(of(&[(&format!("{gown}{rub}"), &format!("{bare}{fresh}")), last]), 1, "after gloves at another step");
}

#[test]
fn a_clean_chair_is_touched_with_clean_hands() {
    let rub = "  medic cleans hands with hand rub for 30 seconds\n";
    let (outer, inner) =
        ("  medic takes off outer gloves by cuff into drum\n", "  medic takes off inner gloves by cuff into drum\n");
    let fold = "  medic folds exit chair\n";
    let of = |edits: &[(&str, &str)]| told("touch unclean", edits);
    assert_eq!(of(&[(&format!("{outer}{rub}{fold}"), &format!("{outer}{fold}"))]), 0, "after gloves: told");
    let early = (&*format!("{rub}{outer}{rub}{fold}"), &*format!("{fold}{outer}{rub}"));
    assert_eq!(of(&[early]), 1);
    assert_eq!(of(&[early, (&format!("{inner}{rub}"), inner)]), 1, "after other gloves");
}

const RUB: &str = "  practitioner cleans hands with hand rub for 20 seconds\n";
const OFF: &str = "  practitioner takes off gloves by cuff into waste bag\n";
const OPENS: &str = "  practitioner opens handle\n";

/// The example of `touch near` with a door handle, its skin kept so far away, and other lines in place of the gloves' coming
/// off; how often these rules are told of it.
fn with_a_handle<const N: usize>(rules: [&str; N], touches: u8, lines: &[&str]) -> [usize; N] {
    let handle = ("item gown", "surface handle\n  stands in scrub bay\n  starts clean\nitem gown");
    let far = ("keep skin 2 touches", &*format!("keep skin {touches} touches"));
    let text = edited("touch near", &[handle, far, (&format!("{OFF}{RUB}"), &lines.concat())]);
    rules.map(|rule| times(rule, &text))
}

/// What a hand has given to a handle, and gets back from it, is no news of the hand; nor is the same touch once more.
#[test]
fn the_hazard_that_comes_back_is_told_once() {
    let of = |touches: u8, lines: &[&str]| with_a_handle(["touch near", "touch unclean"], touches, lines);
    assert_eq!(of(5, &[OFF, OPENS, RUB, OPENS, RUB]), [2, 0]);
    assert_eq!(of(6, &[OFF, RUB, OPENS, RUB]), [2, 1]);
    assert_eq!(of(6, &[OFF, OPENS, RUB, OPENS, RUB]), [2, 1], "the first opening follows from the gloves");
    let fresh = ["  practitioner puts on fresh gloves\n"];
    assert_eq!(with_a_handle(["touch near", "hygiene gloves"], 3, &[OFF, fresh[0]]), [1, 1], "both at one step");
    let gloved = [OPENS, OFF, RUB, OPENS, RUB];
    assert_eq!(with_a_handle(["touch near"], 4, &gloved), [3]);
    assert_eq!(with_a_handle(["touch near"], 4, &[&gloved[..], &[OPENS, RUB]].concat()), [3], "the same handle again");
}

/// Whoever helps or watches is told of by `touch helper`, whoever goes in by `touch near`.
#[test]
fn the_nearness_of_one_who_only_watches_is_a_helpers() {
    let chair = ("item gown", "surface stool\n  stands in scrub bay\n  starts contaminated\nitem gown");
    let people = ("role practitioner\n", "role practitioner\nrole buddy\n  watches\n");
    let lines = (
        "  practitioner goes to scrub bay\n",
        "  practitioner goes to scrub bay\n  practitioner folds stool\n  buddy sits on stool\n",
    );
    let text = edited("touch near", &[chair, people, lines]);
    assert_eq!((times("touch near", &text), times("touch helper", &text)), (0, 1));
    // The way out is the same where the stool was clean before.
    let text = text.replace("starts contaminated", "starts clean").replace("keep skin 2", "keep skin 4");
    let found = check(&text).findings;
    let helper = found.iter().find(|finding| finding.name.to_string() == "touch helper").unwrap();
    assert_eq!(helper.way_out, "Wipe the stool before it is touched, or keep away from it.");
}

/// The bench behind and the loose suit in front come near by one step, and each is put right in its own way. The independent
/// player told of the second where the checker had told of the first alone.
#[test]
fn each_origin_of_the_hazard_is_told_at_one_step() {
    let near = |text: String| -> Vec<String> {
        let shelf = FolderShelf::open(Utf8Path::new("tests/samples/transfer-team.ppe")).expect("the sample").0;
        let checked = session::check(session::read("transfer-team.ppe", text, &shelf), None);
        let found = checked.findings.into_iter().filter(|finding| finding.name.to_string() == "touch near");
        found.map(|finding| finding.chain.first().cloned().unwrap_or_default()).collect()
    };
    let (bench, suit) = ("The near bench is contaminated from the beginning.", "the front of the wearer's suit.");
    let sample = include_str!("../../samples/transfer-team.ppe");
    let off = "take off suit by zip, rolling it inside out, into";
    let loose = sample.replace(off, "take off suit by zip into");
    assert_eq!(near(sample.to_owned()), [bench]);
    let [first, second] = &near(loose)[..] else { panic!("two are told") };
    assert!(first == bench && second.ends_with(suit), "{first} {second}");
}

/// libFuzzer found it: one case after a slip came as near as the other as planned, and was looked for in vain when played alone.
#[test]
fn a_slip_that_comes_no_nearer_than_another_case_tells_nothing() {
    let text = "role wearer\nrole helper\ncleaner hand rub\n  for hands\ncleaner wipe\ncontainer bag\ncontainer box\n\
        item coverall\n  covers trunk, arms, legs\nitem goggles\nitem hood\n  covers hair, neck\nitem apron\n  covers trunk\n\
        level Enhanced against contact, droplet\n  wearer wears coverall, goggles, hood, apron\n\
        sequence \"Taking off\" for Enhanced, in lobby\n  helper wipes apron with wipe, if apron is soiled\n\
        helper helps wearer take off hood by crown into bag\n  helper cleans hands with hand rub for 30 seconds\n\
        helper helps wearer take off coverall by zip, rolling it inside out, into bag\n  helper puts on goggles\n\
        helper cleans hands with hand rub for 30 seconds\n  helper takes off goggles by headband into box\n";
    let checked = check(text);
    let [run] = &checked.walk.runs[..] else { panic!("one level") };
    assert!(!run.is_doubtful());
    for nearest in run.nearest.iter().filter(|nearest| nearest.slips > 0) {
        let planned = run.nearest.iter().find(|other| other.slips == 0 && other.surface == nearest.surface);
        assert!(planned.is_none_or(|planned| nearest.distance < planned.distance), "{nearest:?}");
    }
}
