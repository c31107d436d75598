//! What the event of a contingency does, one by one. The rules are the model's own; no outside source.

use anteroom::walk::telling::case_words;
use anteroom::walk::{Event, Walk, What, walk};

use super::policy_of;
use super::procedures::{WARD, plain};

fn is_without_air(drill: &str) -> bool {
    is_without_air_when("BLOWER fails", drill)
}

fn is_without_air_when(event: &str, drill: &str) -> bool {
    let text = plain(&format!(
        "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on BLOWER\n  WEARER goes to room\nsequence \"Taking \
         off\" for Full, in lobby\n  WEARER goes to lobby\n  WEARER takes off BLOWER\ncontingency \"Air fails\" when \
         {event}\n{drill}"
    ));
    let text = text.replace("item BLOWER\n", "item BLOWER\n  runs for 4 hours\n");
    let walked = walk(&policy_of(&WARD.fill(&text)));
    walked.runs[0].events.iter().any(|event| matches!(event.what, What::WithoutAir { .. }))
}

#[test]
fn whoever_stays_or_goes_back_beneath_a_failed_blower_is_without_air() {
    assert!(is_without_air("  WEARER does \"Call the buddy\"\n  then carry on\n"));
    assert!(is_without_air("  WEARER goes to lobby\n  then carry on\n"));
    assert!(!is_without_air("  WEARER goes to lobby\n  then start \"Taking off\"\n"));
    assert!(!is_without_air("  WEARER changes BLOWER\n  then carry on\n"));
    assert!(
        is_without_air_when("BLOWER sputters", "  WEARER does \"Call the buddy\"\n  then carry on\n"),
        "any other word"
    );
    let fresh = "  WEARER takes off BLOWER\n  WEARER puts on fresh BLOWER\n";
    assert!(!is_without_air(&format!("  WEARER goes to lobby\n{fresh}  then carry on\n")));
}

/// A gown is put on, the room is gone into, and the gown comes off in the lobby; the helper comes along in kit, and stays.
fn walked(inside: &str, after: &str) -> Walk {
    let text = plain(&format!(
        "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on GOWN\n  HELPER puts on GOWN\n  WEARER goes to room\n  \
         HELPER goes to room\n{inside}sequence \"Taking off\" for Full, in lobby\n  WEARER goes to lobby\n  WEARER takes off \
         GOWN by ties into bin\n{after}"
    ));
    walk(&policy_of(&WARD.fill(&text)))
}

fn count(walked: &Walk, is_it: impl Fn(&What) -> bool) -> usize {
    walked.runs[0].events.iter().filter(|event| is_it(&event.what)).count()
}

const LAST_RESORT: &str = "sequence \"Last resort\" for Full, in lobby\n";

#[test]
fn what_befalls_nobody_by_name_is_dealt_with_by_whoever_acts_first() {
    let drill =
        "contingency \"Alarm\" when fire alarm sounds\n  HELPER does \"Call the desk\"\n  WEARER goes to lobby\n";
    let walked = walked("", drill);
    let struck: Vec<&str> =
        walked.runs[0].strikes.iter().map(|strike| ["wearer", "helper"][strike.who.index()]).collect();
    assert!(struck.len() > 2 && struck.iter().all(|who| *who == "helper"), "{struck:?}");
}

/// An answer that only a sequence off the main way asks for is kept to the end of it.
#[test]
fn what_a_sequence_of_last_resort_asks_is_asked_once() {
    let resort = format!(
        "{LAST_RESORT}  WEARER puts on MASK, if MASK is supplied\n  WEARER takes off MASK by straps, if MASK is supplied\n\
         contingency \"Tear\" when GOWN is torn\n  WEARER goes to lobby\n  then start \"Last resort\"\n"
    );
    let walked = walked("", &resort);
    assert!(!walked.runs[0].strikes.is_empty());
    assert_eq!(count(&walked, |what| matches!(what, What::NotOn { .. })), 0);
}

/// What is over is not started again: what the contingency says next comes next.
#[test]
fn a_drill_that_starts_what_is_over_goes_on_to_what_it_starts_next() {
    let after = |starts: &str| {
        let text = format!(
            "sequence \"Helper off\" for Full, in lobby\n  HELPER goes to lobby\n  HELPER takes off GOWN by ties into bin\n{LAST_RESORT}  \
             HELPER goes to room\ncontingency \"Tear\" when GOWN is torn\n  HELPER does \"Call the desk\"\n{starts}"
        );
        count(&walked("", &text), |what| matches!(what, What::EndsInside { .. }))
    };
    assert_eq!(after("  then start \"Taking off\"\n  then start \"Helper off\"\n"), 0);
    assert_eq!(after("  then start \"Taking off\"\n  then start \"Last resort\"\n"), 1);
}

/// Only those who take part in it go to where a sequence of last resort happens.
#[test]
fn a_sequence_of_last_resort_moves_nobody_else() {
    let resort = |who: &str| {
        let text = format!(
            "  HELPER takes off GOWN by ties into bin\n{LAST_RESORT}  WEARER does \"Call for help\"\n  {who} does \"Wait\"\n\
             contingency \"Tear\" when GOWN is torn\n  WEARER does \"Call the desk\"\n  then start \"Last resort\"\n"
        );
        count(&walked("", &text), |what| matches!(what, What::EndsInside { .. }))
    };
    assert_eq!((resort("HELPER"), resort("WEARER")), (0, 1));
}

/// A hold of a drill asks everybody who confirms it, and whoever has gone confirms nothing.
#[test]
fn whoever_is_gone_confirms_no_hold_of_a_drill() {
    let gone = |confirms: &str| {
        let drill = format!(
            "contingency \"Gone\" when HELPER collapses\n  hold \"Ready\"\n    WEARER confirms \"I am ready.\"\n{confirms}  then carry on\n"
        );
        count(&walked("", &drill), |what| *what == What::CannotAct)
    };
    assert_eq!(gone("    HELPER confirms \"Ready.\"\n"), gone("") + 1);
}

/// What the drill has done already asks nobody to act any more.
#[test]
fn whoever_is_gone_is_not_missed_where_all_is_done() {
    let gone = |inside: &str, outside: &str, drill: &str, starts: &str| {
        let text = plain(&format!(
            "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on GOWN\n  WEARER puts on GOGGLES\n  WEARER goes to \
             room\n{inside}sequence \"Taking off\" for Full, in lobby\n  WEARER goes to lobby\n{outside}  WEARER takes off \
             GOGGLES\ncontingency \"Gone\" when HELPER collapses\n{drill}  then start \"{starts}\"\n"
        ));
        count(&walk(&policy_of(&WARD.fill(&text))), |what| *what == What::CannotAct)
    };
    let (on, off) = ("HELPER helps WEARER put on MASK\n", "HELPER helps WEARER take off GOWN by ties\n");
    let nothing = "  WEARER does \"Call the desk\"\n";
    assert_eq!(gone(on, "", nothing, "Putting on"), 1);
    assert_eq!(gone(on, "", "  WEARER puts on MASK\n", "Putting on"), 0);
    assert_eq!(gone("", off, nothing, "Taking off"), 1);
    assert_eq!(gone("", off, "  WEARER takes off GOWN by ties\n", "Taking off"), 0);
}

/// A drill that starts the sequence in which further pairs go on: whoever has gone is missed for each that is not on yet, and for
/// none that is.
#[test]
fn whoever_is_gone_is_missed_for_a_further_pair() {
    let gone = |pairs: usize, before: &str, drill: &str| {
        let text = plain(&format!(
            "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on GOWN\n  WEARER goes to room\n{before}  HELPER \
             helps WEARER put on GLOVES\nsequence \"Taking off\" for Full, in lobby\n  WEARER \
             goes to lobby\n  WEARER takes off GOWN by ties\ncontingency \"Gone\" when HELPER collapses\n{drill}  then \
             start \"Putting on\"\n"
        ));
        let kit = ["GLOVES", "two pairs GLOVES", "three pairs GLOVES"][pairs - 1];
        let text = text.replacen("HOOD, GLOVES", &format!("HOOD, {kit}"), 1);
        let walked = walk(&policy_of(&WARD.fill(&text)));
        let at = |event: &&Event| event.step.map(|at| at.step);
        let missed = walked.runs[0].events.iter().filter(|event| event.what == What::CannotAct);
        missed.filter(|event| at(event) == Some(2 + before.lines().count())).count()
    };
    let (on, nothing) = ("  WEARER puts on GLOVES\n", "  WEARER does \"Call the desk\"\n");
    assert_eq!((gone(1, "", nothing), gone(1, "", on)), (1, 0));
    assert_eq!((gone(2, on, nothing), gone(3, &on.repeat(2), nothing)), (1, 1), "one more than is on");
    assert_eq!(gone(2, on, &on.repeat(2)), 0, "both are on by then");
    assert_eq!(gone(3, on, on), 1, "of three pairs, the third");
}

#[test]
fn whoever_is_gone_is_not_missed_for_what_is_up() {
    let gone = |inside: &str, drill: &str| {
        let text = plain(&format!(
            "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on GOWN\n  WEARER goes to room\n{inside}sequence \
             \"Taking off\" for Full, in lobby\n  WEARER goes to lobby\ncontingency \"Gone\" when HELPER \
             collapses\n{drill}  then start \"Putting on\"\n"
        ));
        let text = text.replacen("item MASK\n", "item suit\n  covers trunk, legs\nitem MASK\n", 1);
        count(&walk(&policy_of(&WARD.fill(&text))), |what| *what == What::CannotAct)
    };
    let nothing = "  WEARER does \"Call the desk\"\n";
    let half = "  WEARER puts on suit as far as the waist\n";
    let up = format!("{half}  HELPER helps WEARER pull up suit\n");
    assert_eq!(gone(&up, nothing), 1);
    assert_eq!(gone(&up, &format!("{half}  WEARER pulls up suit\n")), 0);
}

/// So many contingencies that the play gives up: the bound is the project's own.
#[test]
fn a_hundred_contingencies_are_played_and_no_more() {
    let of = |count: usize| {
        let drills: Vec<String> = (0..count)
            .map(|number| format!("contingency \"Alarm {number}\" when alarm {number} sounds\n  WEARER goes to lobby\n  then carry on\n"))
            .collect();
        walked("", &drills.concat()).runs[0].gave_up
    };
    assert_eq!((of(100), of(101)), (false, true));
}

/// What befalls nobody by name befalls whoever is in kit and has met the hazard.
#[test]
fn an_alarm_finds_those_in_kit_who_have_met_the_hazard() {
    let drill = "contingency \"Alarm\" when fire alarm sounds\n  WEARER goes to lobby\n  then carry on\n";
    let walked = walked("", drill);
    let after: Vec<(usize, usize)> = walked.runs[0]
        .strikes
        .iter()
        .filter_map(|strike| strike.after.map(|at| (at.sequence.index(), at.step)))
        .collect();
    assert!(after.contains(&(0, 2)) && after.contains(&(1, 0)), "{after:?}");
    assert!(after.iter().all(|&at| at >= (0, 2)), "before the room: {after:?}");
    assert!(!after.contains(&(1, 1)), "out of kit: {after:?}");
}

/// What a hold that was not confirmed has played again, or starts instead, is played by people in whatever they have on by
/// then: here only then are the goggles on that get soiled, and are closed by a bare hand.
#[test]
fn an_event_finds_people_where_a_hold_was_not_confirmed() {
    let of = |waiting: &str, way: &str, resort: &str| {
        let policy = policy_of(&WARD.fill(&plain(&format!(
            "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on GOWN\n  WEARER goes to room\n  WEARER goes to \
             lobby\nsequence \"Waiting\" for Full, in lobby\n{waiting}  hold \"Ready\"\n    WATCHER confirms \"It fits.\"\n    if \
             not, {way}\n{LAST_RESORT}{resort}contingency \"Splash\" when GOGGLES are soiled\n  WATCHER does \"Call the \
             desk\"\n  then start \"Waiting\"\n"
        ))));
        let walked = walk(&policy);
        let bare = walked.runs[0].events.iter().find(|event| matches!(event.what, What::BareHand { .. }));
        let told = bare.map(|event| case_words(&policy, &event.case));
        let again = walked.runs[0].strikes.iter().filter(|strike| strike.again.is_some());
        (told, again.filter_map(|strike| strike.after.map(|at| at.step)).collect::<Vec<usize>>())
    };
    let look = "  WEARER does \"Look\"\n";
    let (put_on, close) = ("  WEARER puts on GOGGLES\n", "  WEARER closes GOGGLES\n");
    let told = |played: &str| {
        let why = "since the hold “Ready” was not confirmed";
        Some(vec![format!("“Splash” happens to the wearer after step 1 of {played} {why}")])
    };
    let again = of(&format!("{look}{close}{put_on}"), "go back to \"Waiting\"", look);
    assert_eq!(again, (told("“Waiting”, played again"), vec![0, 1, 2]));
    let resort = format!("{look}{close}");
    let started = of(put_on, "start \"Last resort\"", &resort);
    assert_eq!(started, (told("“Last resort”, started"), vec![0, 1]));
    assert_eq!(of(look, "start \"Last resort\"", &resort), (None, vec![]), "never on");
}

/// What an event there starts is gone on with, not begun anew: 40 conditions before the hold are asked no second time, and none
/// has to be remembered.
#[test]
fn what_is_started_where_a_hold_was_not_confirmed_is_gone_on_with() {
    let of = |conditions: usize| {
        let before: String = (0..conditions)
            .map(|at| format!("  WEARER cleans hands with hand rub for 20 seconds, if GOWN is torn in place {at}\n"))
            .collect();
        let drill = "contingency \"Alarm\" when fire alarm sounds\n  WEARER does \"Call the desk\"\n  then start \"Taking \
             off\"\n";
        let text = plain(&format!(
            "sequence \"Putting on\" for Full, in dressing room\n  WEARER puts on GOWN\n  WEARER goes to room\nsequence \"Taking \
             off\" for Full, in lobby\n  WEARER goes to lobby\n{before}  hold \"Ready\"\n    WATCHER confirms \"It is so.\"\n    if \
             not, start \"Last resort\"\n  WEARER takes off GOWN by ties into bin\n{LAST_RESORT}  WEARER does \"Wait\"\n{drill}"
        ));
        let run = walk(&policy_of(&WARD.fill(&text))).runs.remove(0);
        let again = run.strikes.iter().filter(|strike| strike.again.is_some()).count();
        (run.gave_up, again, run.steps_played)
    };
    let ((gave_up, again, steps), (.., few)) = (of(40), of(4));
    assert_eq!((gave_up, again), (false, 1));
    assert!(steps < 30 * few, "{steps} steps for 40 conditions, {few} for 4");
}
