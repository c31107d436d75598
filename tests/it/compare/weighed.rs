//! What a change does to protection. The order of weights is the project's own; that a lost hold, a lost hand cleaning, a lost
//! observer, a weaker check and a lost order are what a reviewer has to see first: PRINT-AND-CONTROL 1.3, point 3.

use anteroom::compare::{Weight, changed};

use crate::policy::read;

const SAMPLE: &str = include_str!("../../samples/isolation-suite.ppe");

/// The weight and the rule's name of the only change; more than one fails.
fn weighed(from: &str, to: &str) -> (Weight, &'static str) {
    assert!(SAMPLE.contains(from), "{from}");
    let found = changed(&read(SAMPLE).policy, &read(&SAMPLE.replacen(from, to, 1)).policy).changes;
    assert_eq!(found.len(), 1, "{from}: {}", super::told(&found));
    (found[0].weight, found[0].rule.name)
}

const HANDS: &str = "  wearer cleans hands with hand rub for 30 seconds\n  part \"Suit\"\n  helper helps";

#[test]
fn what_is_lost_weakens_and_comes_first() {
    use Weight::{ChangesPractice, Editorial, Weakens};
    let lost = |from: &str| weighed(from, "");
    assert_eq!(weighed(HANDS, "  part \"Suit\"\n  helper helps"), (Weakens, "hand cleaning"));
    assert_eq!(lost("  wearer wipes boots with chlorine wipe\n"), (Weakens, "cleaning"));
    assert_eq!(
        lost("  observer checks wearer\n    look for \"Tears, splits and visible soiling.\"\n"),
        (Weakens, "check")
    );
    assert_eq!(
        lost(
            "  hold \"Helper ready\"\n    observer confirms \"Seal checked; no skin shows between glove and sleeve.\"\n    if not, go back to \"Helper: putting on\"\n"
        ),
        (Weakens, "hold point")
    );
    assert_eq!(lost("    if not, go back to \"Suit\"\n"), (Weakens, "hold way out"));
    assert_eq!(lost("    danger \"Do not let the outside touch the scrubs.\"\n"), (Weakens, "caution"));
    assert_eq!(lost("  helper puts on goggles\n"), (Weakens, "kit step"));
    assert_eq!(weighed("strength 1000 ppm", "strength 500 ppm"), (Weakens, "strength"));
    assert_eq!(weighed("wet for 1 minute", "wet for 30 seconds"), (Weakens, "strength"));
    assert_eq!(lost("  not on visible soil\n"), (Weakens, "cleaner"));
    assert_eq!(weighed("soap and water for 60 seconds", "soap and water for 20 seconds"), (Weakens, "cleaning time"));
    assert_eq!(weighed("observer confirms \"No item", "helper confirms \"No item"), (Weakens, "watcher"));
    assert_eq!(lost("  watches\n"), (Weakens, "watcher"));
    assert_eq!(lost("  needs fit test\n"), (Weakens, "quality"));
    assert_eq!(weighed("owner ", "approval needs 2 people\nowner "), (Weight::Strengthens, "approval"));
    assert_eq!(weighed("keep face 3 touches", "keep face 2 touches"), (Weakens, "margin"));
    assert_eq!(weighed("covered hands, trunk,", "covered trunk,"), (Weakens, "coverage"));
    assert_eq!(weighed("no longer than 90", "no longer than 120"), (Weakens, "longest stay"));
    assert_eq!(weighed("every outside is", "fronts are"), (Weakens, "assumption"));
    assert_eq!(weighed("goggles, hood, apron, outer gloves\n", "goggles, hood, apron\n"), (Weakens, "kit list"));
    assert_eq!(
        weighed("  wearer takes off inner gloves by cuff", "  wearer takes off inner gloves"),
        (ChangesPractice, "practice")
    );
    assert_eq!(
        weighed("wearer wipes boots with chlorine wipe", "helper wipes boots with chlorine wipe"),
        (ChangesPractice, "practice")
    );
    assert_eq!(
        weighed("wearer wipes boots with chlorine wipe", "wearer wipes boots with chlorine wipe if boots are soiled"),
        (Weakens, "condition")
    );
    assert_eq!(weighed("Lean forward. Lower", "Lean forward: lower"), (Editorial, "same words"));
    assert_eq!(weighed("Do not touch the front.", "Do touch the front."), (ChangesPractice, "other words"));
    assert_eq!(weighed("12 copies", "10 copies"), (Editorial, "printing"));
    assert_eq!(weighed("2016", "2017"), (Editorial, "reason"));
    assert_eq!(weighed("1 June 2027", "1 July 2027"), (Editorial, "document control"));
}

#[test]
fn what_weakens_stands_before_everything_else() {
    let new = SAMPLE.replacen("1 June 2027", "1 July 2027", 1).replacen("strength 1000", "strength 500", 1);
    let new = new.replacen("Sit down to step in.", "Sit down.", 1).replacen("keep face 3", "keep face 4", 1);
    let found = changed(&read(SAMPLE).policy, &read(&new).policy).changes;
    let weights: Vec<Weight> = found.iter().map(|change| change.weight).collect();
    assert_eq!(weights, [Weight::Weakens, Weight::Strengthens, Weight::ChangesPractice, Weight::Editorial]);
}

#[test]
fn a_rename_and_its_many_uses_are_one_change() {
    let new = SAMPLE.replace("goggles", "eye shield").replace("\"sealed eye shield\"", "\"sealed goggles\"");
    let found = changed(&read(SAMPLE).policy, &read(&new).policy).changes;
    let told = super::told(&found);
    assert!(told.contains("Renamed None: The item “goggles” is called “eye shield” now, everywhere."), "{told}");
    // The box that bears the name of what it holds is called something else too, and so is what is printed of it.
    assert_eq!(found.len(), 3, "{told}");
}

#[test]
fn a_step_that_moves_with_its_heading_changes_practice() {
    let face = "  part \"Face\"\n  wearer takes off goggles by headband into goggles box\n";
    assert!(SAMPLE.contains(face));
    let new =
        SAMPLE.replacen(face, "", 1).replacen("  part \"Last layer\"\n", &format!("{face}  part \"Last layer\"\n"), 1);
    let found = changed(&read(SAMPLE).policy, &read(&new).policy).changes;
    let moved: Vec<_> = found.iter().filter(|change| change.sentence.contains("takes off goggles")).collect();
    assert_eq!(moved.len(), 1, "{}", super::told(&found));
    assert_eq!((moved[0].weight, moved[0].rule.name), (Weight::ChangesPractice, "order"), "{}", moved[0].sentence);
}

#[test]
fn an_observer_who_is_no_longer_needed_weakens() {
    let old = "policy \"Watched\"\nrole wearer\nrole observer\n  watches\nrole runner\n";
    let weight = |new: &str| {
        let found = changed(&read(old).policy, &read(new).policy).changes;
        assert_eq!(found.len(), 1, "{}", super::told(&found));
        (found[0].weight, found[0].rule.name)
    };
    assert_eq!(weight("policy \"Watched\"\nrole wearer\nrole runner\n"), (Weight::Weakens, "watcher"));
    assert_eq!(
        weight("policy \"Watched\"\nrole wearer\nrole observer\n  watches\n"),
        (Weight::ChangesPractice, "practice")
    );
}

/// The observer's look is lost, whatever the wearer says in its place.
#[test]
fn what_the_observer_confirmed_is_lost_where_the_wearer_confirms_it_too() {
    let old = SAMPLE.replacen(
        "    observer confirms \"Every layer is closed and no skin shows.\"\n",
        "    observer confirms \"Every layer is closed and no skin shows.\"\n    wearer confirms \"I can breathe and see.\"\n",
        1,
    );
    let new = SAMPLE.replacen(
        "    observer confirms \"Every layer is closed and no skin shows.\"\n",
        "    wearer confirms \"Every layer is closed and no skin shows; I can breathe and see.\"\n",
        1,
    );
    let found = changed(&read(&old).policy, &read(&new).policy).changes;
    let lost = "“Putting on”, the hold “Clear to go in”: what is confirmed: \
                “observer: Every layer is closed and no skin shows.” is gone.";
    assert_eq!(found[0].sentence, lost);
    assert_eq!((found[0].weight, found[0].rule.name), (Weight::Weakens, "confirmation"));
    assert_eq!(found.len(), 2, "{}", super::told(&found));
}

/// What the step was for all along is no reason for taking its caution away.
#[test]
fn a_reason_that_stood_there_before_is_none_for_the_change() {
    let new = SAMPLE.replacen("    danger \"Do not let the outside touch the scrubs.\"\n", "", 1);
    let found = changed(&read(SAMPLE).policy, &read(&new).policy).changes;
    assert_eq!((found.len(), found[0].weight, found[0].reason.as_deref()), (1, Weight::Weakens, None));
}
