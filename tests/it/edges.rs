//! The edges of rules: what is told of the right example of a rule's page once it is changed in one way. What each rule
//! speaks of stands on its page, with its sources; the edges are the project's own.

use crate::kit_and_waste::{edited, times};

/// How often the rule is told of its own right example with these changes.
fn told(rule: &str, edits: &[(&str, &str)]) -> usize {
    times(rule, &edited(rule, edits))
}

#[test]
fn a_way_back_has_to_mend_something() {
    let back = "    if not, go back to \"Face\"\n";
    let of = |part: &str| {
        let lines = format!("  part \"Look\"\n{part}");
        told("hold endless", &[("  wearer puts on gloves\n", &lines), (back, "    if not, go back to \"Look\"\n")])
    };
    assert_eq!(of("  wearer puts on gloves\n"), 0);
    assert_eq!(of("  observer checks wearer\n  wearer goes to passage\n"), 1);
    assert_eq!(of("  observer checks wearer\n    say \"Tuck the cuff in.\"\n"), 0, "the check says what to mend");
    assert_eq!(of("  wearer takes off gown by ties\n"), 1, "off already");
    assert_eq!(of("  wearer takes off gown by ties\n  wearer puts on gown\n"), 0);
    assert_eq!(of("  wearer takes off gown by ties\n  wearer changes gown\n"), 0);
    assert_eq!(of("  wearer takes off gown by ties\n  wearer puts on gloves\n"), 0, "the gloves are put on");
    let later = ("  wearer goes to delivery room\n", "  part \"In\"\n  wearer goes to delivery room\n");
    assert_eq!(told("hold endless", &[(back, "    if not, go back to \"In\"\n"), later]), 1, "the hold is skipped");
}

#[test]
fn holds_that_start_one_another_lead_round() {
    let off = "sequence \"Taking off\"";
    let of = |first: &str, second: &str| {
        let resort = |title: &str, starts: &str| {
            let hold =
                format!("  hold \"{title} done\"\n    observer confirms \"Yes.\"\n    if not, start \"{starts}\"\n");
            let hold = if starts.is_empty() { String::new() } else { hold };
            format!("sequence \"{title}\" for Splash, in passage\n  wearer does \"Rest\"\n{hold}")
        };
        let lines = format!("{}{}{off}", resort("First", first), resort("Second", second));
        let start = ("    if not, go back to \"Face\"\n", "    if not, start \"First\"\n");
        told("hold endless", &[start, (off, &lines)])
    };
    assert_eq!(of("", ""), 0);
    assert_eq!(of("Second", ""), 0);
    assert_eq!(of("Putting on", ""), 1, "told once, where the circle begins");
    assert_eq!(of("Second", "Putting on"), 1);
    assert_eq!(of("Second", "First"), 1, "the two start one another");
    assert_eq!(of("First", ""), 1, "itself");
}

/// CDC training modules, 2014: the page's own source.
#[test]
fn somebody_looks_at_the_kit_and_at_the_last_gloves() {
    let (kit, gloves) = ("  observer checks doctor\n", "  doctor checks inner gloves\n");
    let of_kit = |lines: &str| told("hold inspection", &[(kit, lines)]);
    let of_gloves = |lines: &str| told("hold inspection", &[(gloves, lines)]);
    assert_eq!((of_kit(kit), of_gloves(gloves)), (0, 0));
    assert_eq!((of_kit(""), of_gloves("")), (1, 1));
    let hold = |words: &str| format!("  hold \"Ready\"\n    observer confirms \"{words}\"\n");
    assert_eq!(of_kit(&hold("No tear and no soil.")), 0);
    assert_eq!(of_kit(&hold("The bin is open.")), 1);
    assert_eq!(of_gloves(&hold("The gloves are whole.")), 0);
    assert_eq!(of_gloves(&hold("The gown is dry.")), 1, "of the gown alone");
    assert_eq!(of_kit("  observer checks observer\n"), 1, "somebody else");
    assert_eq!(of_kit("  observer checks doctor, if gown is wet\n"), 1, "in one case only");
    assert_eq!(of_gloves("  observer checks gown\n"), 1);
    assert_eq!(of_gloves("  observer checks doctor\n"), 0);
    // What is looked for beneath a step of the doctor's is a look, too.
    let turns = |prompt: &str| format!("  doctor does \"Turn round\"\n    {prompt}\n");
    assert_eq!(of_kit(&turns("look for \"Wet patches.\"")), 0);
    assert_eq!(of_kit(&turns("stop if \"A glove is torn.\"")), 0);
    assert_eq!(of_kit(&turns("say \"Turn round.\"")), 1);
    assert_eq!(of_gloves(&turns("look for \"Holes.\"")), 0);
    assert_eq!(of_gloves(&turns("look for \"Wet patches on the gown.\"")), 1);
    let another = "  observer does \"Read on\"\n    look for \"Holes in gloves.\"\n";
    assert_eq!((of_kit(another), of_gloves(another)), (1, 1), "beneath a step of somebody else");
    // Looked for while the upper gloves come off; or seen, and then others go on.
    let upper = "  doctor takes off outer gloves by cuff into waste bin\n";
    let looked = format!("{upper}    look for \"Holes in the inner gloves.\"\n");
    assert_eq!(told("hold inspection", &[(upper, &looked), (gloves, "")]), 0);
    assert_eq!(told("hold inspection", &[(gloves, ""), (upper, &format!("{gloves}{upper}"))]), 1, "too early");
    let changed = "  doctor changes inner gloves\n";
    assert_eq!(of_gloves(&format!("{gloves}{changed}")), 0);
    let last = "  doctor takes off inner gloves by cuff into waste bin\n";
    let sometimes = "  doctor takes off inner gloves by cuff into waste bin, if gown is wet\n";
    assert_eq!(told("hold inspection", &[(gloves, ""), (last, sometimes)]), 0, "only in some case");
}

#[test]
fn gloves_are_cleaned_in_daily_care_only_once_they_are_off() {
    let rub = "  carer cleans hands with hand rub for 30 seconds\n";
    let arrive = "  carer goes to doorway\n";
    let of = |lines: &str| told("hygiene gloved", &[(arrive, &format!("{arrive}{lines}"))]);
    assert_eq!((of(""), of(rub)), (0, 1));
    assert_eq!(of(&format!("{rub}{rub}")), 1, "told once for each person and sequence");
    assert_eq!(of("  buddy cleans hands with hand rub for 30 seconds\n"), 0, "bare hands");
    let wipe = ("container waste bin\n", "cleaner wipe\n  for surfaces\ncontainer waste bin\n");
    let wiped = |what: &str| {
        let lines = format!("{arrive}  carer wipes {what} with wipe\n");
        told("hygiene gloved", &[wipe, (arrive, &lines)])
    };
    assert_eq!((wiped("gloves"), wiped("gown")), (1, 0));
    // The gown comes off from beneath the gloves: that is told, and not what follows from it.
    let gloves = "  carer takes off gloves by cuff into waste bin\n";
    let gown = "  carer takes off gown by ties, rolling it inside out, into waste bin\n";
    let beneath = format!("{gown}{rub}{gloves}{rub}  carer does \"Rest\"\n");
    assert_eq!(told("hygiene gloved", &[(&format!("{gloves}{rub}{gown}"), &beneath)]), 0);
    assert_eq!(told("hygiene gloved", &[(&format!("{gloves}{rub}{gown}"), &format!("{rub}{beneath}"))]), 1);
}

#[test]
fn the_order_of_the_house_counts_its_own_steps() {
    let of = |wish: &str, edits: &[(&str, &str)]| {
        let wish = ("needs goggles off before gown", wish);
        told("house order", &[&[wish], edits].concat())
    };
    assert_eq!(of("needs goggles off before gown", &[]), 0);
    assert_eq!(of("needs gown off before goggles", &[]), 1);
    assert_eq!(of("needs gown on before goggles", &[]), 0);
    assert_eq!(of("needs goggles on before gown", &[]), 1);
    assert_eq!(of("needs gloves on before gown", &[]), 1);
    // What a buddy puts on or takes off is none of the wearer's order.
    let lists = ("wearer wears gown, goggles, gloves\n", "wearer wears gown, goggles, gloves\n  buddy wears gown\n");
    let buddy = ("  wearer puts on gown\n", "  buddy puts on gown\n  wearer puts on goggles\n  wearer puts on gown\n");
    let rest = ("  wearer puts on goggles\n  wearer puts on gloves\n", "  wearer puts on gloves\n");
    assert_eq!(of("needs goggles on before gown", &[lists, rest, buddy]), 0);
    // Together counts as either way round.
    let together = ("takes off gloves by cuff into", "takes off gloves by cuff, together with gown, into");
    let gone = ("  wearer takes off gown by ties, rolling it inside out, into waste bin\n", "");
    assert_eq!(of("needs gown off before gloves", &[together, gone]), 0);
    assert_eq!(of("needs goggles off before gown", &[together, gone]), 1);
}

#[test]
fn what_the_house_wants_last_is_followed_by_nothing_else() {
    let of = |wish: &str, edits: &[(&str, &str)]| {
        told("house last", &[&[("needs inner gloves off last", wish)], edits].concat())
    };
    assert_eq!(of("needs inner gloves off last", &[]), 0);
    assert_eq!(of("needs boots off last", &[]), 1);
    assert_eq!(of("needs outer gloves on last", &[]), 0);
    assert_eq!(of("needs gown on last", &[]), 1);
    // What another person puts on later, or what comes off later, does not count.
    let other = ("  hold \"Ready\"\n", "  observer puts on gown\n  hold \"Ready\"\n");
    assert_eq!(of("needs outer gloves on last", &[other]), 0);
    let off = ("  hold \"Ready\"\n", "  nurse takes off boots by heel\n  hold \"Ready\"\n");
    assert_eq!(of("needs outer gloves on last", &[off]), 0);
}

#[test]
fn hands_are_cleaned_straight_after_every_item() {
    let rub = "  wearer cleans hands with hand rub for 30 seconds\n";
    let gloves = "  wearer takes off gloves by cuff into waste bin\n";
    let of = |lines: &str| told("house hands", &[(&format!("{gloves}{rub}"), &format!("{gloves}{lines}"))]);
    assert_eq!((of(rub), of("")), (0, 1));
    let sometimes = "  wearer cleans hands with hand rub for 30 seconds, if hands are soiled\n";
    assert_eq!(of(sometimes), 1);
    assert_eq!(of(&format!("  buddy does \"Read on\"\n  wearer does \"Wait\"\n{rub}")), 0);
    let both = format!("{}{sometimes}", gloves.replace("bin\n", "bin, if hands are soiled\n"));
    assert_eq!(told("house hands", &[(&format!("{gloves}{rub}"), &both)]), 0, "both in the same case");
}

#[test]
fn tape_is_what_is_put_on_or_said() {
    let of = |lines: &str, edits: &[(&str, &str)]| {
        let line = format!("  nurse puts on gloves\n{lines}");
        told("house taping", &[&[("  nurse puts on gloves\n", line.as_str())], edits].concat())
    };
    assert_eq!(of("", &[]), 0);
    assert_eq!(of("  buddy does \"Tape both cuffs\"\n", &[]), 1);
    assert_eq!(of("    say \"Now tape the cuff.\"\n", &[]), 1);
    assert_eq!(of("    say \"Use no tape.\"\n", &[]), 0);
    assert_eq!(of("  buddy does \"Check the tapered cuff\"\n", &[]), 0);
    let tape = ("item gloves\n", "item strip \"cuff tape\"\nitem gloves\n");
    assert_eq!(of("  nurse puts on strip\n", &[tape]), 1);
    assert_eq!(of("  buddy checks nurse\n    say \"Is the tape on?\"\n", &[]), 0, "a check of it");
    let asked = ("forbids taping", "needs taping");
    assert_eq!((of("", &[asked]), of("  buddy does \"Tape both cuffs\"\n", &[asked])), (1, 0));
}

#[test]
fn a_drill_answers_the_event_that_is_likely() {
    let of =
        |event: &str, edits: &[(&str, &str)]| told("drill missing", &[&[("gloves are torn", event)], edits].concat());
    assert_eq!((of("gloves are torn", &[]), of("gown is torn", &[])), (0, 1));
    let sharps = ("spreads by contact", "spreads by contact, sharps");
    assert_eq!((of("gloves are torn", &[sharps]), of("skin is pierced", &[sharps])), (1, 1));
    let more = |event: &str| {
        let lines = format!(
            "contingency \"More\" when {event}\n  nurse goes to doorway\n  then carry on\ncontingency \"A glove tears\""
        );
        let hood = "item blower\n  runs for 4 hours\nitem hood\n  covers hair\n  connects to blower\nitem fan\n  runs for 1 hour\nitem gloves\n";
        let kit = ("wears gown, gloves\n", "wears gown, gloves, blower, hood, fan\n");
        told("drill missing", &[("item gloves\n", hood), kit, ("contingency \"A glove tears\"", &lines)])
    };
    assert_eq!(
        [more("blower fails"), more("hood fails"), more("hood slips"), more("fan fails"), more("gown fails")],
        [0, 0, 1, 1, 1]
    );
}

#[test]
fn a_level_that_the_choice_gives_elsewhere_needs_no_last_line() {
    let (line, rest) =
        ("  yes to fluids are near and yes to lifting is needed gives Splash\n", "  otherwise gives Contact\n");
    let of = |lines: &str| told("choice unreachable", &[(&format!("{line}{rest}"), lines)]);
    let both = "  yes to fluids are near gives Splash\n  no to fluids are near gives Contact\n";
    assert_eq!(of(&format!("{line}{rest}")), 0);
    assert_eq!(of(&format!("{both}{rest}")), 0, "given above already");
    let one = "  yes to fluids are near gives Splash\n  no to fluids are near gives Splash\n";
    assert_eq!(of(&format!("{one}{rest}")), 1, "it alone gives its level");
    assert_eq!(of(one), 1, "a level that no line gives");
    assert_eq!(of(&format!("{both}  yes to lifting is needed gives Contact\n")), 1);
}

#[test]
fn kit_that_is_a_tool_or_a_part_is_used() {
    let (list, goes) = ("wears gown, overshoes, gloves", "  nurse goes to room\n");
    let items = "item lamp\nitem scissors\nitem gloves\n";
    let of = |worn: &str, step: &str| {
        let (worn, step) = (format!("{list}, {worn}"), format!("  nurse {step}\n{goes}"));
        told("kit unused", &[("item gloves\n", items), (list, &worn), (goes, &step)])
    };
    assert_eq!((of("lamp", "checks gown"), of("lamp", "puts on lamp")), (1, 0));
    assert_eq!((of("lamp", "changes lamp"), of("lamp", "switches on lamp")), (0, 0));
    assert_eq!((of("lamp", "connects lamp to gown"), of("lamp", "connects gown to lamp")), (0, 0));
    assert_eq!((of("scissors", "cuts gown with scissors"), of("lamp", "cuts gown with scissors")), (0, 1));
    assert_eq!(of("lamp", "switches on scissors"), 1, "another thing");
    assert_eq!(of("lamp", "takes off lamp"), 0, "told there, as not on");
    // What it was to cover is bare with the hazard: that is told, and not this.
    let bare = ("  nurse puts on gown\n", "");
    assert_eq!(
        told("kit unused", &[bare, ("  nurse takes off gown by ties, rolling it inside out, into waste bag\n", "")]),
        0
    );
}

#[test]
fn what_stays_on_is_told_where_nothing_else_tells_of_it() {
    let of = |edits: &[(&str, &str)]| told("order lingering", edits);
    let (visor, cap) =
        ("  wearer takes off visor by headband into waste bin\n", "  wearer takes off cap by crown into waste bin\n");
    let gloves = "  wearer takes off gloves by cuff into waste bin\n";
    assert_eq!(of(&[(cap, "")]), 1);
    assert_eq!(of(&[(cap, "  buddy checks wearer\n")]), 1);
    assert_eq!(of(&[(visor, "")]), 0, "it goes into a clean place: that is told");
    assert_eq!(of(&[(gloves, "")]), 0, "it keeps the gown from coming off: that is told");
    let home = ("  wearer goes to corridor\n", "");
    assert_eq!(of(&[(visor, ""), home]), 1, "it goes nowhere");
    let sometimes = (
        "  wearer takes off cap by crown into waste bin\n",
        "  wearer takes off cap by crown into waste bin, if cap is wet\n",
    );
    assert_eq!(of(&[sometimes]), 1);
}

#[test]
fn a_move_is_told_where_no_other_place_is_the_fault() {
    let of = |edits: &[(&str, &str)]| told("place way", edits);
    let home = (
        "  hold \"Clear to leave\"\n",
        "  wearer goes to patient tent\n  wearer goes to exit tent\n  hold \"Clear to leave\"\n",
    );
    assert_eq!((of(&[]), of(&[home])), (0, 1));
    let there = (
        "  hold \"Helper ready\"\n",
        "  helper goes to camp\n  helper goes to dressing tent\n  hold \"Helper ready\"\n",
    );
    assert_eq!(of(&[there]), 1, "told once for each step");
    assert_eq!(of(&[home, there]), 2);
    // No way leads out at all: that is told of the place.
    let shut = [
        ("patient tent to exit tent to camp", "patient tent to exit tent"),
        ("dressing tent to exit tent to camp", "dressing tent to exit tent"),
    ];
    assert_eq!(of(&shut), 0);
    assert_eq!(of(&[shut[0], shut[1], home]), 1, "not a way out");
}

#[test]
fn a_role_takes_part_in_whatever_names_it() {
    let of = |lines: &str, edits: &[(&str, &str)]| {
        let role = ("role buddy\n", "role runner\nrole buddy\n");
        let last = format!("  wearer goes to corridor\n{lines}");
        told(
            "role idle",
            &[&[role, ("to corridor\nrole", "to corridor\nrole"), ("  wearer goes to corridor\n", &last)], edits]
                .concat(),
        )
    };
    assert_eq!(of("", &[]), 1);
    assert_eq!(of("  runner does \"Wait\"\n", &[]), 0);
    assert_eq!(of("  buddy checks runner\n", &[]), 0);
    assert_eq!(of("  hold \"End\"\n    runner confirms \"Yes.\"\n", &[]), 0);
    assert_eq!(of("  buddy checks wearer\n", &[]), 1);
    assert_eq!(of("", &[("  wearer wears gown, gloves\n", "  wearer wears gown, gloves\n  runner wears gown\n")]), 0);
    assert_eq!(of("contingency \"Gone\" when runner collapses\n  wearer goes to corridor\n  then carry on\n", &[]), 0);
    assert_eq!(of("contingency \"Gone\" when wearer collapses\n  buddy goes to corridor\n  then carry on\n", &[]), 1);
    assert_eq!(of("contingency \"Gone\" when wearer collapses\n  runner goes to corridor\n  then carry on\n", &[]), 0);
}

#[test]
fn own_clothes_and_clean_kit_may_go_along() {
    let mask = "  wearer takes off mask by ties into red bin\n";
    let of = |edits: &[(&str, &str)]| told("place leaving", edits);
    assert_eq!((of(&[]), of(&[(mask, "")])), (0, 1));
    let (visor, gown) = (
        "  wearer takes off visor by headband into red bin\n",
        "  wearer takes off gown by ties, rolling it inside out, into red bin\n",
    );
    assert_eq!(of(&[(mask, ""), (visor, ""), (gown, "")]), 1, "told once for each person and step");
    let scrubs = [
        ("item mask\n", "item scrubs\n  covers trunk, legs\n  worn beneath\nitem mask\n"),
        ("wears gown, mask", "wears scrubs, gown, mask"),
    ];
    assert_eq!(of(&scrubs), 0);
}
