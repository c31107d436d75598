//! The edges of rules: what is told of the right example of a rule's page once it is changed in one way. What each rule
//! speaks of stands on its page, with its sources; the edges are the project's own.

use anteroom::faces::shelf::FolderShelf;
use anteroom::findings::Signal;
use anteroom::policy::Day;
use anteroom::session;
use camino::Utf8Path;

use crate::kit_and_waste::{edited, times};
use crate::policy::check;

mod cover;
mod drills;
mod places;
mod roles;
mod touch;

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
    let here = ("  hold \"Ready to go in\"\n", "  part \"Ready\"\n  hold \"Ready to go in\"\n");
    let found = check(&edited("hold endless", &[here, (back, "    if not, go back to \"Ready\"\n")])).findings;
    let found = found.iter().find(|finding| finding.name.to_string() == "hold endless").unwrap();
    assert_eq!(found.title, "The way back mends nothing");
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
    // A level that forbids it tells of it itself.
    let wish = |words: &str| {
        let rubbed = format!("{arrive}{rub}");
        told(
            "hygiene gloved",
            &[("touches away\n", &format!("touches away\n  this level {words}\n")), (arrive, &rubbed)],
        )
    };
    assert_eq!((wish("forbids cleaning gloved hands"), wish("needs gloves off before gown")), (0, 1));
}

/// Each further step of the same person and sequence stands beside the first.
#[test]
fn gloves_that_are_cleaned_again_are_named_beside_the_first() {
    let rub = "  carer cleans hands with hand rub for 30 seconds\n";
    let (arrive, enter) = ("  carer goes to doorway\n", "  carer goes to side room\n");
    let list = ("carer wears gown, gloves\n", "carer wears gown, gloves\n  buddy wears gloves\n");
    let of = |off: &str, on: &str| {
        let edits = [list, (arrive, &*format!("{arrive}{off}")), (enter, &*format!("{on}{enter}"))];
        let found = check(&edited("hygiene gloved", &edits)).findings.into_iter();
        let told = found.filter(|finding| finding.name.to_string() == "hygiene gloved");
        told.map(|finding| finding.related.len()).collect::<Vec<_>>()
    };
    assert_eq!(of(rub, ""), [0]);
    assert_eq!(of(&format!("{rub}{rub}{rub}"), ""), [2]);
    assert_eq!(of(rub, rub), [0, 0], "in another sequence");
    let buddy = format!("  buddy puts on gloves\n{rub}  buddy cleans hands with hand rub for 30 seconds\n");
    assert_eq!(of("", &buddy), [0, 0], "somebody else's");
}

#[test]
fn a_strength_is_told_in_parts_where_it_is_small() {
    let of = |edits: &[(&str, &str)]| {
        let found = check(&edited("hygiene weak", edits)).findings.into_iter();
        found
            .filter(|finding| finding.name.to_string() == "hygiene weak")
            .map(|finding| finding.message)
            .next()
            .unwrap()
    };
    let rub = |strength: &str| of(&[("strength 70 %", strength)]);
    let found = check(&edited("hygiene weak", &[("strength 70 %", "strength 50 %")])).findings;
    let of_rule: Vec<_> = found.iter().filter(|finding| finding.name.to_string() == "hygiene weak").collect();
    assert_eq!((of_rule.len(), of_rule[0].related.len()), (1, 2), "one cleaner, told once");
    assert!(rub("strength 1 %").contains("has 1 % alcohol; hands need 60 % or more."));
    let wipe = ("cleaner hand rub\n", "cleaner wipe\n  for surfaces\n  strength 500 ppm chlorine\ncleaner hand rub\n");
    let wiped = ("  nurse takes off gloves", "  nurse wipes gown with wipe\n  nurse takes off gloves");
    assert!(of(&[wipe, wiped]).contains("has 0.05 % (500 ppm) chlorine; surfaces need 0.1 % (1000 ppm) or more."));
}

#[test]
fn a_late_hold_names_the_step_that_goes_in() {
    let (goes, hold) = (
        "  wearer goes to delivery room\n",
        "  hold \"Ready to go in\"\n    observer confirms \"No skin shows at wrist, cheek or neck.\"\n    if not, go back to \"Face\"\n",
    );
    let late = format!("{goes}  observer goes to delivery room\n  wearer does \"Wait\"\n{hold}");
    let found = check(&edited("hold late", &[(&format!("{hold}{goes}"), &late)])).findings;
    let found = found.iter().find(|finding| finding.name.to_string() == "hold late").unwrap();
    let related: Vec<_> = found.related.iter().map(|(_, words)| words.as_str()).collect();
    assert!(related.contains(&"Here it goes in: wearer goes to delivery room"), "{related:?}");
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
    let found = check(&edited("house taping", &[asked])).findings;
    let found = found.iter().find(|finding| finding.name.to_string() == "house taping").unwrap();
    assert_eq!(found.related.len(), 1, "the wish that asks for it");
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
    let found = check(&edited("choice unreachable", &[(&format!("{line}{rest}"), one)])).findings;
    let found = found.iter().find(|finding| finding.name.to_string() == "choice unreachable").unwrap();
    assert!(found.message.ends_with("No line of the choice gives “Contact”."), "{}", found.message);
    assert_eq!(of(&format!("{both}  yes to lifting is needed gives Contact\n")), 1);
}

#[test]
fn a_question_that_a_step_asks_decides_something() {
    let ask = ("  yes to splash is likely", "  ask fan is on \"Is the fan on?\"\n  yes to splash is likely");
    let of = |condition: &str| {
        let gown = ("  nurse puts on gown\n", &*format!("  nurse puts on gown{condition}\n"));
        told("choice unasked", &[ask, gown])
    };
    assert_eq!((told("choice unasked", &[]), of(""), of(", unless fan is on")), (0, 1, 0));
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
    let hands = ("  nurse puts on gloves\n", "");
    assert_eq!(
        told("kit unused", &[("item gloves\n", items), (list, &format!("{list}, lamp")), hands]),
        1,
        "of the lamp"
    );
    let apron = [("item gloves\n", "item apron\n  covers trunk\nitem gloves\n"), (list, &*format!("{list}, apron"))];
    let inside = (goes, &*format!("{goes}  nurse takes off gown\n"));
    assert_eq!(told("kit unused", &[&apron[..], &[inside]].concat()), 1, "bare for another reason");
    let buddy = ("gloves\n  keep covered", "gloves\n  buddy wears gown\n  keep covered");
    assert_eq!(told("kit unused", &[buddy]), 0, "no step dresses the buddy");
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

#[test]
fn kit_goes_on_and_comes_off_in_places_of_their_own() {
    let of = |edits: &[(&str, &str)]| told("place shared", edits);
    let (robing, exit) = ("for Isolation, in robing room\n  driver goes to robing room", "in exit room");
    let there = "for Isolation, in exit room\n  driver goes to exit room";
    assert_eq!((of(&[]), of(&[(robing, there)])), (0, 1));
    let second = ("outer gloves\n  keep covered", "outer gloves\n  observer wears gown\n  keep covered");
    let dresses = ("  hold \"Ready\"\n", "  observer puts on gown\n  hold \"Ready\"\n");
    let undresses = (
        "  driver takes off inner gloves by cuff",
        "  observer takes off gown by ties into waste bin\n  driver takes off inner gloves by cuff",
    );
    assert_eq!(of(&[(robing, there), second, dresses, undresses]), 1, "told once for the place");
    // Somebody else moves: the driver is still where the sequence is.
    let away = ("  driver puts on gown\n", "  observer goes to exit room\n  driver puts on gown\n");
    assert_eq!(of(&[away]), 0);
    let along = ("  driver puts on gown\n", "  driver goes to exit room\n  driver puts on gown\n");
    assert_eq!(of(&[along]), 1);
    let inside = "for Isolation, in ambulance\n  driver goes to ambulance";
    let out = (
        &*format!("\"Taking off\" for Isolation, {exit}\n  driver goes to exit room"),
        "\"Taking off\" for Isolation, in ambulance",
    );
    assert_eq!(of(&[(robing, inside), out]), 0, "that kit goes on in a contaminated place is told instead");
}

#[test]
fn a_way_leads_from_clean_to_dirty_and_out() {
    let way = "way corridor to robing room to ambulance to exit room to corridor\n";
    let of = |more: &str| told("place shared", &[(way, &format!("{way}{more}"))]);
    assert_eq!(of("way exit room to ambulance\n"), 1);
    assert_eq!(of("way ambulance to robing room\n"), 1);
    assert_eq!(of("way exit room to ambulance to robing room\n"), 2);
    assert_eq!(of("way exit room to ambulance\nway corridor to exit room to ambulance\n"), 1, "told once");
    assert_eq!(of("way robing room to exit room to robing room\n"), 0);
    // A place that the level does not use.
    assert_eq!(of("place bay is for taking off\nway bay to ambulance\n"), 0);
    assert_eq!(of("place cab is contaminated\nway exit room to cab to robing room\n"), 0);
}

#[test]
fn a_place_in_use_has_a_way() {
    let (way, basin) = ("way lobby to sluice to lobby\n", "surface basin\n  stands in sluice\n");
    let of = |edits: &[(&str, &str)]| told("place apart", &[&[(way, "")], edits].concat());
    assert_eq!((told("place apart", &[]), of(&[])), (0, 1));
    assert_eq!(of(&[(basin, "")]), 0, "nothing is there");
    assert_eq!(of(&[(basin, "container box\n  for reuse\n  stands in sluice\n")]), 1);
    let last = "  wearer goes to ward\n";
    let resort = format!("{last}sequence \"Last resort\" for Airborne, in sluice\n  wearer does \"Wait\"\n");
    assert_eq!(of(&[(basin, ""), (last, &resort)]), 1);
    assert_eq!(of(&[(last, &format!("  wearer goes to sluice\n{last}"))]), 0, "the move is told");
    assert_eq!(of(&[("way ward to pressure room to lobby to ward\n", "")]), 0, "no way at all");
}

/// CDC training modules, 2014: the page's own source.
#[test]
fn somebody_else_watches_the_kit_of_whoever_goes_in() {
    let (check, hold) = ("  observer checks nurse\n", "    observer confirms \"No skin shows.\"\n");
    let of = |edits: &[(&str, &str)]| told("role observer", edits);
    let off = |lines: &str| of(&[(check, lines)]);
    assert_eq!((off(check), off("")), (0, 1));
    assert_eq!((off("  observer checks gown\n"), off("  nurse checks gown\n")), (0, 1));
    assert_eq!((off("  nurse checks nurse\n"), off("  observer checks observer\n")), (1, 1));
    let confirms = |who: &str| off(&format!("  hold \"Off\"\n    {who} confirms \"Ready.\"\n"));
    assert_eq!((confirms("observer"), confirms("nurse")), (0, 1));
    // On: a hold that the nurse confirms alone; without any hold, that nobody checks is told.
    assert_eq!(of(&[(hold, "    nurse confirms \"No skin shows.\"\n")]), 1);
    let none =
        ("  hold \"Ready\"\n    observer confirms \"No skin shows.\"\n    if not, go back to \"Putting on\"\n", "");
    assert_eq!(of(&[none]), 0);
    assert_eq!(of(&[none, (check, "")]), 1, "of the taking-off still");
    // That the observer goes in unchecked says nothing of the nurse.
    let list = ("outer gloves\n  keep covered", "outer gloves\n  observer wears gown\n  keep covered");
    let goes = (
        "  nurse goes to fever room\n",
        "  observer puts on gown\n  observer goes to fever room\n  nurse goes to fever room\n",
    );
    assert_eq!(of(&[(hold, "    nurse confirms \"No skin shows.\"\n"), list, goes]), 1);
}

#[test]
fn a_line_says_how_a_garment_is_folded_away() {
    let rolled = "  nurse takes off gown by ties, rolling it inside out, into waste bin\n";
    let of = |lines: &str| told("touch rolling", &[(rolled, lines)]);
    let by_ties = "  nurse takes off gown by ties, into waste bin\n";
    assert_eq!((of(rolled), of(by_ties)), (0, 1));
    let with = |prompt: &str| of(&format!("{by_ties}    {prompt}\n"));
    assert_eq!((with("say \"Fold it away from you.\""), with("caution \"Peel it off.\"")), (0, 0));
    assert_eq!((with("say \"Mind the front.\""), with("look for \"Wet patches.\"")), (1, 1));
    // The bare hand on its front is told instead, if it is this step's.
    assert_eq!(of("  nurse takes off gown by front, into waste bin\n"), 0);
    assert_eq!(of(&format!("  nurse checks gown\n{by_ties}")), 1);
    let wipe = ("cleaner hand rub\n", "cleaner wipe\n  for surfaces\ncleaner hand rub\n");
    let wiped = format!("  nurse wipes gown with wipe\n{by_ties}");
    assert_eq!(told("touch rolling", &[wipe, (rolled, &wiped)]), 1, "a bare hand on it before");
    let margin = ("keep skin 2 touches away", "keep skin 1 touch away");
    let front = "  nurse takes off gown by front, into waste bin\n";
    let text = edited("touch rolling", &[margin, (rolled, front)]);
    assert_eq!((times("touch rolling", &text), times("touch barehand", &text)), (0, 1), "near enough for the level");
    // So is what its outside brings too near.
    let margin = ("keep skin 2 touches away", "keep skin 3 touches away");
    assert_eq!(told("touch rolling", &[(rolled, by_ties), margin]), 0);
}

#[test]
fn a_container_holds_what_one_session_puts_into_it() {
    let of = |edits: &[(&str, &str)]| told("waste small", edits);
    let holds = |litres: &str| of(&[("holds 60 litres", &format!("holds {litres}"))]);
    assert_eq!((holds("9 litres"), holds("8.9 litres"), of(&[])), (0, 1, 0));
    let gloves = ("item gloves\n  covers hands\n", "item gloves\n  covers hands\n  fills 1 litre\n");
    let off = "  wearer takes off gloves by cuff into waste bin\n";
    let with = |lines: &str, litres: &str| of(&[("holds 60 litres", &format!("holds {litres}")), gloves, (off, lines)]);
    assert_eq!((with(off, "10 litres"), with(off, "9 litres")), (0, 1));
    let changed = format!("  wearer changes gloves\n{off}");
    assert_eq!((with(&changed, "11 litres"), with(&changed, "10 litres")), (0, 1));
    let bare = "  wearer takes off gloves by cuff\n";
    assert_eq!((with(bare, "10 litres"), with(bare, "9 litres")), (0, 1), "where the item goes");
    let another = ("container waste bin\n", "container other bin\n  for waste\ncontainer waste bin\n");
    let elsewhere = "  wearer takes off gloves by cuff into other bin\n";
    assert_eq!(of(&[("holds 60 litres", "holds 9 litres"), gloves, another, (off, elsewhere)]), 0);
    let text = edited("waste small", &[("holds 60 litres", "holds 1 litre"), ("fills 9 litres", "fills 7.5 litres")]);
    let found = check(&text).findings.into_iter().find(|finding| finding.name.word == "small").unwrap();
    assert!(found.message.contains("fills 7.5 litres, and it holds 1 litre."), "{}", found.message);
}

#[test]
fn what_is_used_once_is_put_somewhere() {
    let (goes, into) = ("  single use\n  goes to waste bag\nitem gloves", "rolling it inside out, into waste bag\n");
    let nowhere = [(goes, "  single use\nitem gloves"), (into, "rolling it inside out\n")];
    let of = |edits: &[(&str, &str)]| told("waste nowhere", &[&nowhere[..], edits].concat());
    assert_eq!(of(&[]), 1);
    let gloves = "  nurse takes off gloves by cuff into waste bag\n";
    let changed = |count: usize| {
        let lines = format!("{}{gloves}", "  nurse changes gown\n".repeat(count));
        let found = check(&edited("waste nowhere", &[&nowhere[..], &[(gloves, lines.as_str())]].concat())).findings;
        let found: Vec<_> = found.into_iter().filter(|finding| finding.name.to_string() == "waste nowhere").collect();
        (found.len(), found[0].related.len())
    };
    // Told once, with at most a dozen further steps.
    assert_eq!([changed(0), changed(1), changed(12), changed(13)], [(1, 0), (1, 1), (1, 12), (1, 12)]);
}

#[test]
fn the_container_stands_where_its_item_comes_off() {
    let of = |edits: &[(&str, &str)]| told("waste elsewhere", edits);
    let (stands, far) = ("  stands in doorway\n", "  stands in corridor\n");
    let gloves = "  nurse takes off gloves by cuff into waste bag\n";
    assert_eq!((of(&[]), of(&[(stands, far)])), (0, 1));
    // Where a step names no container, the item's own counts.
    let gown = ("rolling it inside out, into waste bag\n", "rolling it inside out\n");
    let unsaid = "  nurse takes off gloves by cuff\n";
    assert_eq!(of(&[(stands, far), (gloves, unsaid), gown]), 1);
    assert_eq!(of(&[(stands, far), (gloves, "  nurse changes gloves\n"), gown]), 1);
    // Another person's move is none of the nurse's.
    let buddy = format!("  buddy goes to corridor\n{gloves}");
    assert_eq!(of(&[(gloves, &buddy)]), 0);
    let nurse = format!("  nurse goes to corridor\n{gloves}");
    assert_eq!(of(&[(gloves, &nurse)]), 1);
    let many = gloves.repeat(15);
    let found = check(&edited("waste elsewhere", &[(stands, far), (gloves, &many), gown])).findings;
    let found = found.into_iter().find(|finding| finding.name.to_string() == "waste elsewhere").unwrap();
    assert_eq!(found.related.len(), 12);
}

#[test]
fn only_what_is_reused_goes_into_the_box_for_reuse() {
    let of = |edits: &[(&str, &str)]| told("waste reusable", edits);
    assert_eq!(of(&[]), 0);
    let gloves = "takes off gloves by cuff into waste bag";
    assert_eq!(of(&[(gloves, "takes off gloves by cuff into boot box")]), 1, "used once");
    assert_eq!(of(&[("takes off boots into boot box", "takes off boots into waste bag")]), 1);
    let neither = ("  reused after chlorine wipe\n", "");
    assert_eq!(of(&[neither]), 0, "neither is said");
}

/// Hands are kept from contact by gloves, and nose and mouth from droplets by a mask (NHS Scotland, chapter 2: the page's own
/// source).
#[test]
fn each_route_asks_for_its_own_cover() {
    let of = |routes: &str, wears: &str| {
        let edits = [("spreads by contact, airborne", routes), ("nurse wears gown, mask, visor, gloves", wears)];
        told("kit route", &edits)
    };
    assert_eq!(of("spreads by contact", "nurse wears gown, gloves"), 0);
    assert_eq!(of("spreads by contact", "nurse wears gown, mask, visor"), 1);
    assert_eq!(of("spreads by droplet", "nurse wears gown, mask"), 0);
    assert_eq!(of("spreads by droplet", "nurse wears gown, visor, gloves"), 1);
    assert_eq!(of("spreads by contact, droplet, splash", "nurse wears gown"), 3);
}

/// A sleeve drawn out of a glove bares no wrist at once; any other layer drags its outside along (GUIDANCE.md D8, D16).
#[test]
fn a_sleeve_beneath_a_glove_is_the_lesser_fault() {
    let (gloves, gown) = (
        "  wearer takes off gloves by cuff into waste bin\n",
        "  wearer takes off gown by ties, rolling it inside out, into waste bin\n",
    );
    let signals = |edits: &[(&str, &str)]| -> Vec<Signal> {
        let found = check(&edited("order covered", edits)).findings;
        found.iter().filter(|found| found.name.to_string() == "order covered").map(|found| found.signal).collect()
    };
    let first = format!("{gown}{gloves}");
    assert_eq!(signals(&[(gown, ""), (gloves, &first)]), [Signal::Warning]);
    let hood = ("item gloves\n", "item hood\n  covers hair, neck\n  goes over gown\nitem gloves\n");
    let worn = ("wears gown, gloves", "wears gown, hood, gloves");
    let on = ("  wearer puts on gloves\n", "  wearer puts on hood\n  wearer puts on gloves\n");
    let off = format!("{gown}  wearer takes off hood into waste bin\n");
    assert_eq!(signals(&[hood, worn, on, (gown, &off)]), [Signal::Danger], "a hood over the gown");
    let under = ("item gloves\n", "item under gloves\n  covers hands\nitem gloves\n");
    let over = ("  goes over gown\n", "  goes over gown, under gloves\n");
    let worn = ("wears gown, gloves", "wears under gloves, gown, gloves");
    let on = ("  wearer puts on gown\n", "  wearer puts on under gloves\n  wearer puts on gown\n");
    let off = format!("  wearer takes off under gloves by cuff into waste bin\n{gloves}");
    assert_eq!(signals(&[under, over, worn, on, (gloves, &off)]), [Signal::Danger], "gloves beneath gloves");
}

/// A torn inner glove is changed at once, up to the sleeve that is still on (CDC training modules, 2014, gown, page 9).
#[test]
fn a_torn_glove_is_changed_beneath_the_sleeve() {
    let checks = "  doctor checks inner gloves\n";
    let of = |condition: &str| {
        let changes = format!("{checks}  doctor changes inner gloves{condition}\n");
        times("order covered", &edited("hold inspection", &[(checks, &changes)]))
    };
    assert_eq!((of(", if inner gloves are torn"), of(", if gown is wet"), of("")), (0, 1, 1));
}

#[test]
fn each_mask_that_comes_off_before_the_eyes_is_told() {
    let (goggles, mask) = ("takes off goggles by headband into waste bin", "takes off mask by ties into waste bin");
    let (of_goggles, of_mask) = (format!("  wearer {goggles}\n"), format!("  wearer {mask}\n"));
    let of = |edits: &[(&str, &str)]| told("order eyes", edits);
    let early = format!("{of_mask}{of_goggles}");
    let late = (of_mask.as_str(), "");
    assert_eq!((of(&[]), of(&[late, (&of_goggles, &early)])), (0, 1));
    let twice = format!("{of_mask}  wearer puts on fresh mask\n{early}");
    assert_eq!(of(&[late, (&of_goggles, &twice)]), 2, "at another moment");
    let list = ("goggles, gloves\n  keep", "goggles, gloves\n  buddy wears mask, goggles\n  keep");
    let on =
        ("  wearer puts on goggles\n", "  wearer puts on goggles\n  buddy puts on mask\n  buddy puts on goggles\n");
    let goes =
        ("  wearer goes to procedure room\n", "  wearer goes to procedure room\n  buddy goes to procedure room\n");
    let both = format!("  buddy goes to doorway\n{early}  buddy {mask}\n  buddy {goggles}\n");
    assert_eq!(of(&[list, on, goes, late, (&of_goggles, &both)]), 2, "of either");
    // All that is still on is named.
    let gown = "  wearer takes off gown by ties, rolling it inside out, into waste bin\n";
    let first = format!("{of_mask}{gown}");
    let text = edited("order eyes", &[late, (gown, &first)]);
    let found = check(&text).findings.into_iter().find(|finding| finding.name.to_string() == "order eyes").unwrap();
    assert!(found.message.contains("The goggles and the gown are still on when"), "{}", found.message);
    let text = edited("order eyes", &[late, (&of_goggles, &early)]);
    let found = check(&text).findings.into_iter().find(|finding| finding.name.to_string() == "order eyes").unwrap();
    assert!(found.message.contains("The goggles are still on when"), "{}", found.message);
}

#[test]
fn each_mask_that_comes_off_before_the_garment_is_told() {
    let (gown, mask) = (
        "  wearer takes off gown by ties, rolling it inside out, into waste bin\n",
        "  wearer takes off respirator by straps into waste bin\n",
    );
    let of = |lines: &str| told("order respirator", &[(mask, ""), (gown, lines)]);
    let early = format!("{mask}{gown}");
    assert_eq!((of(&format!("{gown}{mask}")), of(&early)), (0, 1));
    assert_eq!(of(&format!("{mask}  wearer puts on fresh respirator\n{early}")), 2, "at another moment");
}

#[test]
fn what_is_still_on_is_named_as_one_or_many() {
    let (mask, gown) = (
        "  wearer takes off mask by ties into waste bin\n",
        "  wearer takes off gown by ties, rolling it inside out, into waste bin\n",
    );
    let visor = "  wearer takes off visor by headband into waste bin\n";
    let of = |rule: &str, text: &str| {
        let found = check(text).findings.into_iter().filter(|finding| finding.name.to_string() == rule);
        found.map(|finding| finding.message).collect::<Vec<_>>().join("\n")
    };
    let text = edited("order eyes", &[]).replace("goggles", "visor").replacen(mask, "", 1);
    let before = |line: &str| of("order eyes", &text.replacen(line, &format!("{mask}{line}"), 1));
    let (one, two) = (before(visor), before(gown));
    assert!(one.contains("The visor is still on when"), "{one}");
    assert!(two.contains("The visor and the gown are still on when"), "{two}");
    // Bare before the eyes once, and then, with a fresh mask, before the garment.
    let again = format!("{mask}{visor}  wearer puts on fresh mask\n{mask}");
    let early = text.replacen(gown, "", 1).replacen(visor, &format!("{again}{gown}"), 1);
    assert_eq!((times("order eyes", &early), times("order respirator", &early)), (1, 1));
}

/// A mask that comes off from beneath a visor is told by `order eyes`, whatever else it means.
#[test]
fn what_bares_the_mouth_is_told_by_one_rule() {
    let (visor, mask) =
        ("  nurse takes off visor by headband into waste bag\n", "  nurse takes off mask by ties into waste bag\n");
    let rules = ["order eyes", "order covered", "order lingering"];
    let of = |edits: &[(&str, &str)]| {
        let text = edited("drill exposure", edits);
        rules.map(|rule| times(rule, &text))
    };
    let late = (mask, "");
    assert_eq!(of(&[late, (visor, &format!("{mask}{visor}"))]), [1, 0, 0]);
    let stays = ("  nurse goes to corridor\n", "");
    assert_eq!(of(&[(visor, ""), stays]), [1, 0, 0], "what never comes off, too");
    let (goggles, home) = ("  wearer takes off goggles by headband into waste bin\n", "  wearer goes to corridor\n");
    let text = edited("order eyes", &[(goggles, ""), (home, "")]);
    assert_eq!(rules.map(|rule| times(rule, &text)), [1, 0, 0], "of goggles that lie over nothing");
    let (gloves, gown) = (
        "  nurse takes off gloves by cuff into waste bag\n",
        "  nurse takes off gown by ties, rolling it inside out, into waste bag\n",
    );
    let early = (gloves, &*format!("{gown}{gloves}"));
    let alone = [(gown, ""), early, (mask, ""), (visor, ""), stays];
    assert_eq!(of(&alone), [0, 1, 2], "the gown beneath the gloves says nothing of the visor");
}

#[test]
fn every_garment_that_is_still_on_is_named() {
    let (respirator, gown) = (
        "  wearer takes off respirator by straps into waste bin\n",
        "  wearer takes off gown by ties, rolling it inside out, into waste bin\n",
    );
    let off = format!("{respirator}{gown}  wearer takes off apron into waste bin\n");
    let edits = [
        ("item gown", "item apron\n  covers trunk\nitem gown"),
        ("  wearer puts on gown\n", "  wearer puts on gown\n  wearer puts on apron\n"),
        (respirator, ""),
        (gown, &*off),
    ];
    let found = check(&edited("order respirator", &edits)).findings;
    let found = found.iter().find(|finding| finding.name.to_string() == "order respirator").unwrap();
    assert!(found.message.contains(" are still on."), "{}", found.message);
}

#[test]
fn a_pair_that_is_changed_is_taken_from_the_list() {
    let goes = "  nurse goes to room\n";
    let of = |lines: &str| told("kit pairs", &[(goes, &format!("{lines}{goes}"))]);
    assert_eq!((of(""), of("  nurse changes gloves\n"), of("  nurse changes gown\n")), (0, 1, 1));
    let reused = ("  single use\n  goes to waste bag\nitem gloves", "  goes to waste bag\nitem gloves");
    let gown = format!("  nurse takes off gown\n  nurse puts on gown\n{goes}");
    assert_eq!(told("kit pairs", &[reused, (goes, &gown)]), 0, "the same one again");
    assert_eq!(told("kit pairs", &[(goes, &gown)]), 1);
    let fresh = gown.replace("puts on gown", "puts on fresh gown");
    assert_eq!(told("kit pairs", &[reused, (goes, &fresh)]), 1);
}

/// What a line that is read wrongly is to become, in words.
#[test]
fn a_way_out_is_written_for_each_line_that_is_not_right() {
    let of = |line: &str, lines: &str| {
        let found = check(&edited("place ending", &[(line, lines)])).findings.into_iter();
        let found = found.filter(|finding| finding.name.family == "reading");
        found.map(|finding| format!("{}: {}", finding.title, finding.way_out)).collect::<Vec<_>>()
    };
    let gown = "  nurse puts on gown\n";
    let branch = |lines: &str| of(gown, lines);
    let (open, close) = ("  if gown is wet\n", "  end if\n");
    assert_eq!(
        branch(&format!("  otherwise\n{gown}")),
        ["This `otherwise` has no `if`: Write the `if` line above the steps of the first case."]
    );
    assert_eq!(
        branch(&format!("{open}{gown}  otherwise\n{gown}  otherwise\n{gown}{close}")),
        ["A second `otherwise` for one `if`: Leave one out, or put an `if` of its own within the first."]
    );
    assert_eq!(
        branch(&format!("{gown}{close}")),
        ["This `end if` ends nothing: Leave it out, or write the `if` line that it ends."]
    );
    let name = |line: &str| of(gown, line);
    assert_eq!(
        name("  nurse puts on bonnet\n"),
        ["Nothing is called “bonnet”: Declare it with a line such as `item bonnet`, or mend the name."]
    );
    let asked = name("  nurse puts on gown, if yes to lunchtime\n");
    assert!(
        asked[0].ends_with("Declare it with a line such as `ask yes to lunchtime`, or mend the name."),
        "{asked:?}"
    );
    let review = |date: &str| of("review by 1 April 2027\n", &format!("review by {date}\n"));
    assert_eq!(
        review("31 April 2027"),
        ["There is no 31 April 2027: Write a day that exists, such as `30 November 2026`."]
    );
    let words = "Write the day, the month as a word, and the year:";
    assert_eq!(review("2027-04-01"), [format!("Write the date “2027-04-01” in words: {words} `1 April 2027`")]);
    assert_eq!(review("1/4/2027"), [format!("Write the date “1/4/2027” in words: {words} `2 November 2026`")]);
}

#[test]
fn an_exception_holds_on_its_last_day() {
    let of = |day: &str| told("paper lapsed", &[("until 31 October 2027", &format!("until {day} November 2026"))]);
    assert_eq!((of("25"), of("24"), of("23")), (0, 0, 1));
}

/// Cleanings that are too short are told for each cleaner, use and time.
#[test]
fn short_cleanings_alike_are_told_together() {
    let rub = "cleans hands with hand rub for 30 seconds\n";
    let of = |times: &[u8]| {
        let text = times.iter().fold(edited("hygiene short", &[]), |text, seconds| {
            text.replacen(rub, &format!("cleans hands with hand rub for {seconds} seconds.\n"), 1)
        });
        let found = check(&text.replace("seconds.", "seconds")).findings.into_iter();
        let told = found.filter(|finding| finding.name.to_string() == "hygiene short");
        told.map(|finding| finding.related.len()).collect::<Vec<_>>()
    };
    assert_eq!((of(&[30, 30]), of(&[30, 5, 5]), of(&[30, 5, 6])), (vec![], vec![1], vec![0, 0]));
}

#[test]
fn what_comes_off_twice_is_told_whatever_is_bare() {
    let of = |edits: &[(&str, &str)]| told("order absent", edits);
    let (on, off) = ("  wearer puts on goggles\n", "  wearer takes off goggles by headband into waste bin\n");
    assert_eq!((of(&[]), of(&[(off, &format!("{off}{off}"))])), (0, 1));
    assert_eq!(of(&[(on, "")]), 0, "that the eyes are bare is told");
    assert_eq!(of(&[(on, "  wearer puts on goggles, if goggles are supplied\n")]), 1, "in one case");
    let inside = ("  wearer goes to doorway\n", &*format!("{off}  wearer goes to doorway\n"));
    assert_eq!(of(&[inside]), 1, "off already");
    let apron = ("item goggles\n", "item apron\n  covers trunk\nitem goggles\n");
    let never = (off, &*format!("{off}  wearer takes off apron into waste bin\n"));
    assert_eq!(of(&[apron, never, (on, "")]), 1, "what it covers is not bare");
}

#[test]
fn the_order_of_putting_on_is_that_of_its_own_steps() {
    let of = |wish: &str, edits: &[(&str, &str)]| {
        told("house order", &[&[("needs goggles off before gown", wish)], edits].concat())
    };
    let on = "  wearer puts on gown\n";
    let tried = format!("  wearer takes off goggles by headband into waste bin\n{on}");
    assert_eq!(of("needs gown on before goggles", &[(on, &tried)]), 0);
    let lobby = "  wearer goes to lobby\n";
    let fresh = format!("{lobby}  wearer puts on fresh gown\n");
    assert_eq!(of("needs goggles off before gown", &[(lobby, &fresh)]), 0);
}

/// What is told of a policy of the demonstration in which one line says something else.
fn told_of(file: &str, line: &str, instead: &str) -> Vec<String> {
    let (shelf, text) = FolderShelf::open(Utf8Path::new(file)).unwrap_or_else(|why| panic!("{file}: {why}"));
    assert!(text.contains(line), "{line}");
    let checked = session::check(session::read(file, text.replacen(line, instead, 1), &shelf), Day::new(2026, 12, 1));
    checked.findings.iter().map(|finding| finding.name.to_string()).collect()
}

/// A wrong name in a heading or in a check is one mistake, and is told once, though the rest of the policy is played by it. The
/// mistakes are made up; no outside source.
#[test]
fn one_wrong_name_is_told_once() {
    let suite = "policies/assessment-suite.ppe";
    let of = |sequence: &str, place: &str, other: &str| {
        let heading = |place: &str| format!("sequence \"{sequence}\" for High, in {place}\n");
        told_of(suite, &heading(place), &heading(other))
    };
    assert_eq!(of("Helper: taking off", "disrobing room", "robing room"), ["place absent"]);
    assert_eq!(of("Putting on", "robing room", "assessment room"), ["place sequence"]);
    assert_eq!(of("Helper: putting on", "robing room", "assessment room"), ["place sequence"]);
    let (here, there) =
        ("\"Putting on for splash\" for Splash, in corridor", "\"Putting on for splash\" for Splash, in side room");
    assert_eq!(told_of("policies/side-rooms.ppe", here, there), ["place sequence"]);
    let check = "  observer checks wearer\n    look for \"Hair up";
    assert_eq!(told_of(suite, check, &check.replace("wearer", "helper")), ["role mistaken"]);
    let later = "  observer checks helper\n    look for \"Hair up";
    assert_eq!(told_of(suite, later, &later.replace("helper", "wearer")), ["role mistaken"], "as before");
}
