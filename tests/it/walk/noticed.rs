//! What the walk notices at a step, of whom, and the earlier step that it names with it. The rules are the model's own
//! (`walk::event`); no outside source.

use anteroom::policy::{ItemId, PlaceId, Policy};
use anteroom::walk::{StepRef, What, walk};

use super::policy_of;

const WORLD: &str = "\
policy \"Ward\"
hazard stool
  spreads by contact
place corridor is clean
place dressing room is for putting on
place room is contaminated
place lobby is for taking off
way corridor to dressing room to room to lobby to corridor
role wearer
role helper
  helps wearer
role observer
  watches
cleaner hand rub
  for hands
cleaner wipe
  for surfaces
container bin
  for waste
surface stool
item scrubs
  covers trunk, legs
  worn beneath
item inner gloves
  covers hands
item gown
  covers trunk, arms
  goes over inner gloves
  grip ties
item gloves
  covers hands
  goes over gown
item apron
  covers trunk
item suit
  covers trunk, arms, legs
item boot covers
  covers feet
  goes over suit
item mask
  covers nose, mouth
  grip straps
item goggles
  covers eyes
  grip headband
  reused after wipe
item blower
  reused after wipe
item hood
  covers hair, neck
  goes over mask
  connects to blower
item scissors
level Full against contact
  wearer wears scrubs, inner gloves, gown, gloves, apron, suit, boot covers, mask, goggles, blower, hood
  helper wears inner gloves, apron
  keep skin 2 touches away
";

/// Each as `step: what`, and `after` the earlier step, where the walk names one; only what `words` has words for.
fn noticed(on: &[&str], off: &[&str]) -> Vec<String> {
    noticed_in(WORLD, on, off)
}

fn noticed_in(world: &str, on: &[&str], off: &[&str]) -> Vec<String> {
    let lines = |steps: &[&str]| steps.iter().map(|step| format!("  {step}\n")).collect::<String>();
    let text = format!(
        "{world}sequence \"On\" for Full, in dressing room\n{}sequence \"Off\" for Full, in lobby\n{}",
        lines(on),
        lines(off)
    );
    let policy = policy_of(&text);
    let step = |at: StepRef| policy.steps(at.sequence)[at.step].words.clone();
    let mut told = Vec::new();
    for event in walk(&policy).runs.iter().flat_map(|run| &run.events) {
        let Some(what) = words(&policy, &event.what) else { continue };
        let after = event.earlier.map_or(String::new(), |at| format!(" after {}", step(at)));
        let here = event.step.map_or(String::new(), |at| format!("{}: ", step(at)));
        told.push(format!("{here}{what}{after}"));
    }
    told
}

fn words(policy: &Policy, what: &What) -> Option<String> {
    let item = |id: ItemId| policy.item(id).name.as_str();
    let place = |id: PlaceId| policy.place(id).name.as_str();
    Some(match *what {
        What::Blocked { item: of, by, how } => format!("{} blocked by {}, {how:?}", item(of), item(by)),
        What::Trapped { item: of, by } => format!("{} trapped beneath {}", item(of), item(by)),
        What::AlreadyOn { item: of } => format!("{} on already", item(of)),
        What::NotOn { item: of, was_on } => format!("{} not on{}", item(of), if was_on { " any more" } else { "" }),
        What::GoesOnLate { item: of, over } => format!("{} too late for {}", item(of), item(over)),
        What::LeftHalfOn { item: of } => format!("{} half on", item(of)),
        What::FaceBefore { item: of, still_on } => format!("{} before {}", item(of), item(still_on)),
        What::Gap { glove, sleeve } => format!("{} and {} apart", item(glove), item(sleeve)),
        What::Handles { other } => format!("handles {}", policy.role(other).name),
        What::Elsewhere { other, .. } => format!("{} elsewhere", policy.role(other).name),
        What::NotHere { wanted, .. } => format!("not in {}", place(wanted)),
        What::NoWay { to, .. } => format!("no way to {}", place(to)),
        What::PutOnInContaminated { item: of, .. } => format!("{} on inside", item(of)),
        What::Unchecked { .. } => "unchecked".into(),
        What::HoldAfterEntry { .. } => "held inside".into(),
        What::ConfirmerGone { role, .. } => format!("{} gone", policy.role(role).name),
        What::NearAfterSlip { .. } => "near after a slip".into(),
        What::Shortfall { .. } => "falls short".into(),
        What::UncleanHands { .. } => "unclean hands".into(),
        What::DirtyEntry { item: of, .. } => format!("{} goes along", item(of)),
        What::AfterGloves => "hands after gloves".into(),
        What::BeforeFace { item: of } => format!("hands before {}", item(of)),
        What::UncleanEntry { .. } => "unclean entry".into(),
        _ => return None,
    })
}

const NOTHING: [&str; 0] = [];

#[test]
fn what_goes_on_beneath_an_edge_that_belongs_over_it_is_late() {
    let gown = "wearer puts on gown: gown too late for gloves after wearer puts on gloves";
    assert_eq!(noticed(&["wearer puts on gloves", "wearer puts on gown"], &[]), [gown]);
    assert_eq!(noticed(&["wearer puts on gown", "wearer puts on gloves"], &[]), NOTHING);
    // Changed, its edge lies where it lay: the glove is in the way of that already.
    let changed = noticed(&["wearer puts on gown", "wearer puts on gloves", "wearer changes gown"], &[]);
    assert_eq!(changed, ["wearer changes gown: gown blocked by gloves, Edge after wearer puts on gloves"]);
    // What is on half has no edge there yet.
    let half = ["wearer puts on gown as far as the waist", "wearer puts on inner gloves"];
    assert_eq!(noticed(&half, &[]), NOTHING);
    let up = [half[0], half[1], "wearer pulls up gown"];
    assert_eq!(noticed(&up, &[]), NOTHING);
}

#[test]
fn what_a_suit_lay_open_for_is_late_when_it_is_pulled_up() {
    let half = "wearer puts on suit as far as the waist";
    let covers = "wearer puts on boot covers";
    let late = "suit too late for boot covers after wearer puts on boot covers";
    assert_eq!(noticed(&[covers, half], &[]), [format!("{half}: {late}")]);
    assert_eq!(noticed(&[half, covers, "wearer pulls up suit"], &[]), NOTHING);
    assert_eq!(noticed(&[covers, half, "wearer pulls up suit"], &[]), [format!("{half}: {late}")]);
}

/// By the step that put on, took off or connected what is in the way; where two steps did, by neither.
#[test]
fn the_step_that_brought_it_about_is_named() {
    let on = ["wearer puts on mask", "wearer puts on blower", "wearer puts on hood", "helper connects hood to blower"];
    let handles = "helper connects hood to blower: handles wearer";
    let off = noticed(&on, &["wearer takes off hood"]);
    let joined = "wearer takes off hood: hood blocked by blower, Connected after helper connects hood to blower";
    assert_eq!(off, [handles, joined]);
    assert_eq!(
        noticed(&on[..3], &["wearer takes off mask by straps"]),
        ["wearer takes off mask by straps: mask blocked by hood, Edge after wearer puts on hood",]
    );
    assert_eq!(
        noticed(
            &["wearer puts on apron", "wearer puts on apron"],
            &["wearer takes off apron", "wearer takes off apron"]
        ),
        [
            "wearer puts on apron: apron on already after wearer puts on apron",
            "wearer takes off apron: apron not on any more after wearer takes off apron",
        ]
    );
}

#[test]
fn the_step_that_took_it_off_is_named_if_there_is_only_one() {
    let on = ["wearer puts on apron", "wearer puts on gloves", "helper puts on apron"];
    let again = "wearer takes off apron: apron not on any more";
    let by = |off: &[&str]| noticed(&on, off).into_iter().filter(|told| told.starts_with(again)).collect::<Vec<_>>();
    let (first, with) = ("helper takes off apron", "wearer takes off gloves, together with apron");
    assert_eq!(by(&[first, with, "wearer takes off apron"]), [format!("{again} after {with}")]);
    assert_eq!(
        by(&[with, "wearer puts on apron", "helper helps wearer take off apron", "wearer takes off apron"]),
        [again]
    );
    assert_eq!(noticed(&on, &["wearer takes off gown"]), ["wearer takes off gown: gown not on"]);
}

#[test]
fn the_step_that_joined_the_two_is_named() {
    let on = ["wearer puts on mask", "wearer puts on blower", "helper puts on hood", "wearer puts on hood"];
    let joined = |steps: &[&str]| {
        let told = noticed(&[&on[..], steps].concat(), &["wearer takes off hood"]);
        told.into_iter().find(|told| told.contains("Connected")).unwrap_or_default()
    };
    let after = |step: &str| format!("wearer takes off hood: hood blocked by blower, Connected after {step}");
    let other = "wearer connects mask to blower";
    let (there, back) = ("wearer connects hood to blower", "wearer connects blower to hood");
    assert_eq!(joined(&[other, there]), after(there));
    assert_eq!(joined(&[other, back]), after(back));
    let mask = "wearer takes off hood: hood blocked by mask, Connected after wearer connects hood to mask";
    assert_eq!(joined(&["wearer connects blower to mask", "wearer connects hood to mask"]), mask);
}

#[test]
fn what_is_half_on_or_unchecked_is_told_at_the_door() {
    let on = ["wearer puts on gown", "wearer puts on suit as far as the waist", "wearer goes to room"];
    let half = "wearer goes to room: suit half on after wearer puts on suit as far as the waist";
    let unchecked = "wearer goes to room: unchecked after wearer puts on suit as far as the waist";
    let mut told = noticed(&on, &[]);
    told.sort();
    assert_eq!(told, [half, unchecked]);
    assert_eq!(noticed(&[on[0], on[1], "wearer pulls up suit", "observer checks wearer", on[2]], &[]), NOTHING);
    assert_eq!(noticed(&[on[0], "observer checks gown", on[2]], &[]), NOTHING);
    assert_eq!(noticed(&[on[0], "observer checks helper", on[2]], &[]).len(), 1);
}

/// Of a sleeve and a glove; which of the two went on last is named.
#[test]
fn a_gap_is_told_of_the_later_of_the_two() {
    let on = ["wearer puts on suit", "wearer puts on inner gloves", "wearer goes to room"];
    let gaps = |on: &[&str]| {
        let told = noticed(on, &[]);
        told.into_iter().filter(|told| told.contains("apart")).collect::<Vec<String>>()
    };
    let apart = "inner gloves and suit apart";
    assert_eq!(gaps(&on), [format!("{}: {apart}", on[1])]);
    assert_eq!(gaps(&[on[1], on[0], on[2]]), [format!("{}: {apart}", on[0])]);
    assert_eq!(gaps(&["wearer puts on gown", on[0], "wearer puts on gloves", on[2]]), NOTHING);
    assert_eq!(gaps(&["wearer puts on inner gloves", "wearer puts on gown", on[2]]), NOTHING);
    assert_eq!(gaps(&["wearer puts on apron", on[1], on[2]]), NOTHING, "no sleeve");
    let hands = WORLD.replace("  keep skin", "  keep covered hands\n  keep skin");
    assert!(!noticed_in(&hands, &on, &[]).iter().any(|told| told.contains("apart")), "the arms are not kept covered");
}

/// Whoever acts on what another wears handles that person, wherever the two are; what lies about is nobody.
#[test]
fn whoever_acts_on_what_another_wears_handles_them() {
    let on = ["wearer puts on gown", "wearer puts on goggles", "wearer puts on blower", "wearer puts on hood"];
    let acts = [
        "helper wipes goggles with wipe",
        "helper sprays gown with wipe",
        "helper unties gown",
        "helper switches on blower",
        "helper switches off blower",
        "helper connects hood to blower",
        "helper disconnects hood from blower",
        "helper cuts gown",
        "helper breaks gown",
        "helper helps wearer put on apron",
        "helper helps wearer change gown",
        "helper helps wearer take off goggles by headband",
    ];
    for act in acts {
        let told = noticed(&[&on[..], &[act]].concat(), &[]);
        assert!(told.contains(&format!("{act}: handles wearer")), "{act}: {told:?}");
        let told = noticed(&[&on[..], &["helper goes to room", act]].concat(), &["wearer goes to lobby"]);
        assert!(told.contains(&format!("{act}: wearer elsewhere")), "{act}: {told:?}");
    }
    for act in ["helper cuts gown", "helper wipes goggles with wipe"] {
        assert_eq!(noticed(&[act], &[]), NOTHING, "not on");
    }
    assert_eq!(noticed(&["wearer puts on gown", "wearer cuts gown"], &[]), NOTHING, "oneself");
    // On already, or not on: it is tried all the same.
    let (on_again, off) = ("helper helps wearer put on gown", "helper helps wearer take off apron");
    assert!(noticed(&["wearer puts on gown", on_again], &[]).contains(&format!("{on_again}: handles wearer")));
    assert!(noticed(&["wearer puts on gown", off], &[]).contains(&format!("{off}: handles wearer")));
}

/// Whoever is to confirm has taken off and gone to a clean place, while somebody whom the hold guards has not.
#[test]
fn whoever_has_left_confirms_nothing() {
    let on = ["wearer puts on gown", "helper puts on apron", "wearer goes to room", "helper goes to room"];
    let off = ["wearer goes to lobby", "helper goes to lobby", "helper takes off apron", "helper goes to corridor"];
    let hold = ["hold \"Clear\"", "  helper confirms \"It is so.\""];
    let gone = |off: &[&str]| {
        let told = noticed(&on, off);
        told.iter().filter(|told| told.ends_with("helper gone")).count()
    };
    let last = "wearer takes off gown by ties";
    assert_eq!(gone(&[&off[..], &hold, &[last]].concat()), 1);
    assert_eq!(gone(&[&off[..3], &hold, &[last]].concat()), 0, "still there");
    assert_eq!(gone(&[off[0], off[1], off[3], hold[0], hold[1], last]), 0, "still in kit");
    assert_eq!(gone(&[&off[..], &[last, "wearer goes to corridor"], &hold].concat()), 0, "nobody waits");
    assert_eq!(gone(&[&off[..], &["hold \"Clear\"", "  wearer confirms \"It is so.\"", last]].concat()), 0);
}

/// Only what is named is parted; a thing that is parted from no named one is parted from all.
#[test]
fn what_is_disconnected_is_free() {
    let on = ["wearer puts on mask", "wearer puts on blower", "wearer connects mask to blower"];
    let blocked = |parted: &[&str]| {
        let told = noticed(
            &[&on[..], &["wearer connects mask to hood", "wearer connects goggles to blower"], parted].concat(),
            &["wearer takes off mask by straps"],
        );
        told.iter().filter(|told| told.contains("mask blocked by blower, Connected")).count()
    };
    assert_eq!(blocked(&[]), 1);
    assert_eq!(blocked(&["wearer disconnects mask from blower"]), 0);
    assert_eq!(blocked(&["wearer disconnects blower from mask"]), 0);
    assert_eq!(blocked(&["wearer disconnects mask"]), 0);
    assert_eq!(blocked(&["wearer disconnects blower"]), 0);
    assert_eq!(blocked(&["wearer disconnects mask from hood"]), 1);
    assert_eq!(blocked(&["wearer disconnects goggles from blower"]), 1);
    assert_eq!(blocked(&["wearer disconnects goggles"]), 1);
}

/// Soil that is seen stays until hands are washed: rub is worth nothing on it.
#[test]
fn soil_stays_until_it_is_washed_off() {
    let world = WORLD.replace("  for hands\n", "  for hands\n  not on visible soil\ncleaner soap\n  for hands\n");
    let (look, rub) =
        ("observer does \"Look\", if hands are soiled", "wearer cleans hands with hand rub for 30 seconds");
    let short = |steps: &[&str]| {
        let steps = [&["wearer does \"Look\", if hands are soiled"], steps].concat();
        noticed_in(&world, &steps, &[]).iter().filter(|told| told.ends_with("falls short")).count()
    };
    assert_eq!(short(&[rub]), 1);
    assert_eq!(short(&[rub, look, "wearer cleans hands with hand rub for 40 seconds"]), 2);
    assert_eq!(short(&["wearer cleans hands with soap for 60 seconds", rub]), 0);
}

/// A figure that the level asks for is enough; one touch less is not.
#[test]
fn a_margin_that_is_kept_is_enough() {
    let worth = |touches: u32| {
        let lines = |what: &str| {
            format!("  for {what}\n  worth {touches} {}\n", if touches == 1 { "touch" } else { "touches" })
        };
        let world = WORLD.replace("  for hands\n", &lines("hands")).replace("  for surfaces\n", &lines("surfaces"));
        let world = world.replace("  keep skin", "  keep covered hands, eyes\n  keep skin");
        let on = ["wearer puts on gloves", "wearer puts on goggles", "wearer goes to room"];
        let off = [
            "wearer goes to lobby",
            "wearer cleans hands with hand rub for 30 seconds",
            "wearer puts on apron",
            "wearer takes off gloves by cuff",
            "wearer wipes goggles with wipe",
            "wearer goes to corridor",
        ];
        let told = noticed_in(&world, &on, &off);
        let count = |what: &str| told.iter().filter(|told| told.ends_with(what)).count();
        (count("unclean hands"), count("goggles goes along"))
    };
    assert_eq!((worth(1), worth(2)), ((1, 1), (0, 0)));
}

/// Played again after a hold was not confirmed: what is done already is passed over, and nobody has to be there for it.
#[test]
fn what_is_done_is_passed_over_the_second_time() {
    let helped = "helper helps wearer put on apron";
    let hold = ["hold \"Ready\"", "  wearer confirms \"It is so.\"", "  if not, go back to \"On\""];
    let away = "helper goes to room";
    let elsewhere = |told: Vec<String>| told.iter().filter(|told| told.ends_with("elsewhere")).count();
    assert_eq!(elsewhere(noticed(&[&["wearer goes to dressing room", helped, away], &hold[..]].concat(), &[])), 0);
    assert_eq!(elsewhere(noticed(&["wearer goes to dressing room", away, helped], &[])), 1);
    let pulled =
        ["wearer goes to dressing room", "wearer puts on suit as far as the waist", "helper helps wearer pull up suit"];
    assert_eq!(elsewhere(noticed(&[&pulled[..], &[away], &hold[..]].concat(), &[])), 0);
    assert_eq!(elsewhere(noticed(&[pulled[0], pulled[1], away, pulled[2]], &[])), 1);
    let (off, hold) = ("helper helps wearer take off apron", [hold[0], hold[1], "  if not, go back to \"Off\""]);
    let on = ["wearer puts on apron", "wearer goes to lobby", "helper goes to lobby"];
    assert_eq!(elsewhere(noticed(&on, &[&[off, away], &hold[..]].concat())), 0);
    assert_eq!(elsewhere(noticed(&on, &[away, off])), 1);
}

/// It concerns whoever's skin it is, whoever acts.
#[test]
fn skin_that_comes_near_is_its_owners() {
    let world = WORLD.replace("  keep skin 2", "  keep covered trunk, arms, hands\n  keep skin 3");
    let text = format!(
        "{world}sequence \"On\" for Full, in dressing room\n  wearer puts on gown\n  wearer goes to room\n  helper goes to lobby\n\
         sequence \"Off\" for Full, in lobby\n  wearer goes to lobby\n  helper helps wearer take off gown by front\n"
    );
    let policy = policy_of(&text);
    let of_helper =
        |event: &&anteroom::walk::Event| event.actor.index() == 1 && matches!(event.what, What::Near { .. });
    let walked = walk(&policy);
    let near: Vec<usize> = walked.runs[0].events.iter().filter(of_helper).map(|event| event.who.index()).collect();
    assert!(!near.is_empty() && near.iter().all(|&who| who == 0), "{near:?}");
}

/// What an earlier slip has left on the hands comes near in a step that cannot slip itself.
#[test]
fn a_slip_is_told_where_it_comes_near() {
    let of = |touches: u32| {
        let asks =
            format!("  keep covered hands, nose, mouth\n  even after one slip keep face {touches} touches away\n");
        let world = WORLD.replace("  keep skin 2 touches away\n", &asks);
        let on = ["wearer puts on gloves", "wearer puts on mask", "wearer goes to room"];
        let off = ["wearer goes to lobby", "wearer takes off mask by straps", "wearer takes off gloves by cuff"];
        let told = noticed_in(&world, &on, &[&off[..], &["wearer puts on fresh mask"]].concat());
        told.iter().filter(|told| *told == "wearer puts on fresh mask: near after a slip").count()
    };
    // By one slip one touch to the hands, one more to the inside of the mask, and one to the mouth.
    assert_eq!((of(3), of(4)), (0, 2), "nose and mouth");
}

/// Two pairs that go on one after the other, and a hold between them or after both that is not confirmed.
#[test]
fn pairs_are_counted_across_a_hold_that_fails() {
    let world = WORLD.replace("wearer wears scrubs, inner gloves, gown, gloves", "wearer wears gown, two pairs gloves");
    let (on, off) = ("wearer puts on gloves", "wearer takes off gloves by cuff");
    let hold = |back: &str| {
        [
            "hold \"Ready\"".to_owned(),
            "  wearer confirms \"Yes.\"".to_owned(),
            format!("  if not, go back to \"{back}\""),
        ]
    };
    let of = |steps: &[&str], off: &[&str]| {
        let told = noticed_in(&world, steps, off);
        told.into_iter().filter(|told| told.contains("on already") || told.contains("not on")).collect::<Vec<_>>()
    };
    let again = hold("On");
    let again = again.each_ref().map(String::as_str);
    let both = [off, off];
    assert_eq!(
        of(&[&["wearer puts on mask", on], &again[..], &[on]].concat(), &both),
        NOTHING,
        "one, and one after the hold"
    );
    assert_eq!(of(&[&[on, on], &again[..]].concat(), &both), NOTHING);
    // The second comes off in the part that is done again, and goes on again.
    let part = hold("Second");
    let part = part.each_ref().map(String::as_str);
    let second = ["part \"Second\"", off, "wearer puts on fresh gloves"];
    assert_eq!(of(&[&["wearer puts on mask", on, on], &second[..], &part[..]].concat(), &both), NOTHING);
    assert_eq!(of(&[on, on, on], &both), [format!("{on}: gloves on already after {on}")]);
}

#[test]
fn what_is_late_is_told_once_though_it_is_pulled_up_later() {
    let (gloves, half, up) =
        ("wearer puts on gloves", "wearer puts on gown as far as the waist", "wearer pulls up gown");
    assert_eq!(noticed(&[gloves, half, up], &[]), [format!("{half}: gown too late for gloves after {gloves}")]);
    assert_eq!(noticed(&[half, gloves, up], &[]), [format!("{up}: gown too late for gloves after {gloves}")]);
}

/// Whoever neither helps nor watches has met the hazard, whether or not a step sends them to it; others only by a step.
#[test]
fn a_mask_comes_off_too_early_only_of_whoever_has_met_the_hazard() {
    let early = |who: &str, goes: &[&str]| {
        let on = [format!("{who} puts on mask"), format!("{who} puts on goggles")];
        let off = [format!("{who} takes off mask by straps"), format!("{who} takes off goggles by headband")];
        let (on, off) = (on.each_ref().map(String::as_str), off.each_ref().map(String::as_str));
        let told = noticed(&[&on[..], goes].concat(), &off);
        told.iter().filter(|told| told.ends_with("mask before goggles")).count()
    };
    assert_eq!((early("wearer", &[]), early("wearer", &["wearer goes to room"])), (1, 1));
    assert_eq!((early("helper", &["wearer goes to room"]), early("helper", &["helper goes to room"])), (0, 1));
}

/// A policy of these steps; more sequences may follow.
fn policy_with(on: &[&str], off: &[&str], more: &str) -> Policy {
    let lines = |steps: &[&str]| steps.iter().map(|step| format!("  {step}\n")).collect::<String>();
    let (on, off) = (lines(on), lines(off));
    let world = WORLD.replace("surface stool\n", "surface stool\n  starts contaminated\n");
    policy_of(&format!(
        "{world}sequence \"On\" for Full, in dressing room\n{on}sequence \"Off\" for Full, in lobby\n{off}{more}"
    ))
}

/// On an ordinary day everything is supplied, whole and clean, and nothing is torn, wet or soiled: what is worn then is what
/// the rules of kit look at.
#[test]
fn an_ordinary_day_is_one_on_which_nothing_is_amiss() {
    let worn = |condition: &str| {
        let policy = policy_with(&[&format!("wearer puts on goggles, {condition}")], &["wearer goes to lobby"], "");
        !walk(&policy).runs[0].spells.is_empty()
    };
    for ordinary in ["if goggles are supplied", "if gown is whole", "if gown is dry", "if hands are clean to see"] {
        assert!(worn(ordinary), "{ordinary}");
        assert!(!worn(&ordinary.replace("if", "unless")), "{ordinary}");
    }
    for odd in ["if gown is torn", "if gown is wet", "if hands are visibly soiled"] {
        assert!(!worn(odd), "{odd}");
        assert!(worn(&odd.replace("if", "unless")), "{odd}");
    }
}

/// A hold that is not confirmed leads back: what goes wrong the second time is told, of that case.
#[test]
fn what_goes_wrong_after_a_hold_that_fails_is_told() {
    let failing = |policy: &Policy, is_it: &dyn Fn(&What) -> bool| -> Vec<usize> {
        let events = &walk(policy).runs[0].events;
        events.iter().filter(|event| is_it(&event.what)).map(|event| event.case.failing.len()).collect()
    };
    let part = ["wearer goes to lobby", "part \"Stool\"", "wearer folds stool", "wearer takes off gloves by cuff"];
    let off = [&part[..], &["hold \"Done\"", "  wearer confirms \"Yes.\"", "  if not, go back to \"Stool\""]].concat();
    let bare = |what: &What| matches!(what, What::BareHand { .. });
    let on = ["wearer puts on gloves", "wearer goes to room"];
    assert_eq!(failing(&policy_with(&on, &off, ""), &bare), [1], "a bare hand on it the second time");
    assert_eq!(failing(&policy_with(&on, &part, ""), &bare), Vec::<usize>::new());
}

/// An answer holds to the end, however often it is asked for, and is named once in a case.
#[test]
fn a_question_is_answered_once() {
    let both = "wearer does \"Wait\", if gown is wet and gloves are torn";
    let of = |on: &str, off: &str| {
        let policy = policy_with(&[on, "wearer goes to room"], &["wearer goes to lobby", both, off], "");
        let run = walk(&policy).runs.remove(0);
        assert!(!run.is_doubtful());
        let not_on = run.events.iter().filter(|event| matches!(event.what, What::NotOn { .. }));
        not_on.map(|event| event.case.facts.iter().map(|&(_, holds)| holds).collect()).collect::<Vec<Vec<bool>>>()
    };
    let off = "wearer takes off goggles by headband";
    let (when, unless) = (format!("{off}, if gown is wet"), "wearer puts on goggles, unless gown is wet");
    assert_eq!(of("wearer puts on goggles, if gown is wet", &when), Vec::<Vec<bool>>::new());
    assert_eq!(of(unless, off), [[true]], "in the case that it is wet");
    assert_eq!(of(unless, &when), [[true]]);
}

/// Each answer and each hold that can fail doubles the cases.
#[test]
fn cases_are_counted() {
    let hold = ["hold \"Ready\"", "  wearer confirms \"Yes.\"", "  if not, go back to \"On\""];
    let steps = ["wearer puts on goggles, if gown is wet", "wearer puts on apron, if gown is torn"];
    let of = |on: &[&str]| walk(&policy_with(on, &["wearer goes to lobby"], "")).runs[0].cases;
    assert_eq!((of(&steps[..1]), of(&steps), of(&hold)), (2, 4, 2));
    assert_eq!((of(&[&steps[..], &hold].concat()), of(&["wearer goes to room"])), (8, 1));
}

/// Through a tear the outside is one touch from the hand; off by the cuff, the inside of a whole glove is two.
#[test]
fn a_torn_glove_leaves_less_between_the_hazard_and_the_hand() {
    let unclean = |event: &str| {
        let drill = format!(
            "contingency \"Event\" when gloves {event}\n  wearer goes to lobby\n  wearer takes off gloves by cuff\n  \
             wearer puts on mask\n  then start \"Off\"\n"
        );
        let on = ["wearer puts on gloves", "wearer goes to room"];
        let policy = policy_with(&on, &["wearer goes to lobby", "wearer takes off gloves by cuff"], &drill);
        let events = &walk(&policy).runs[0].events;
        events.iter().filter(|event| matches!(event.what, What::UncleanHands { .. })).count()
    };
    assert_eq!((unclean("are torn"), unclean("slip")), (1, 0));
}
