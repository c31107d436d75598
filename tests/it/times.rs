//! How long things take, by what is written: the published check values, and every case tried alone.

use anteroom::findings::{Finding, Signal};
use anteroom::policy::{Act, FactId, Guard, Seconds, Step};
use anteroom::rules::{self, Brief};
use anteroom::session::Checked;
use anteroom::walk::Walk;
use anteroom::walk::telling::fact_words;
use anteroom::walk::times::{read_aloud, times};
use proptest::prelude::*;

use crate::policy::{check, read};

/// A policy of one level; the lines of the level, what is done in the room, and what the wearer has on besides.
fn policy(limit: &str, work: &str, torch: &str) -> String {
    format!(
        "policy \"Ward\"\nhazard stool\nspreads by contact\nplace corridor is clean\nplace room is contaminated\n\
         place doorway is for taking off\nway corridor to room to doorway to corridor\nrole nurse\nrole buddy\nwatches\n\
         cleaner hand rub\nfor hands\ncontainer bin\nfor waste\nstands in doorway\n\
         item gloves\ncovers hands\nsingle use\ngoes to bin\n\
         item torch\nsingle use\ngoes to bin\nruns for 4 hours\n\
         level Contact against contact\nnurse wears gloves{torch}\n{limit}\n\
         sequence \"Putting on\" for Contact, in corridor\nnurse cleans hands with hand rub for 30 seconds\n{}\
         nurse puts on gloves\nnurse goes to room\n{work}\n\
         sequence \"Taking off\" for Contact, in doorway\nnurse goes to doorway\n\
         nurse takes off gloves by cuff into bin\nnurse cleans hands with hand rub for 30 seconds\n{}\
         nurse goes to corridor\n",
        if torch.is_empty() { "" } else { "nurse puts on torch\n" },
        if torch.is_empty() {
            ""
        } else {
            "nurse takes off torch into bin\nnurse cleans hands with hand rub for 30 seconds\n"
        },
    )
}

fn told(checked: &Checked) -> Vec<(String, Vec<String>)> {
    let of_time = checked.findings.iter().filter(|finding| ["time", "reading"].contains(&finding.name.family));
    of_time.map(|finding| (finding.name.to_string(), finding.case.clone())).collect()
}

fn names(checked: &Checked) -> Vec<String> {
    told(checked).into_iter().map(|(name, _)| name).collect()
}

/// T72: 50 minutes of planned wear are over a limit of 45 minutes (Haverkort 2016, Emerging Infectious Diseases 22(2)).
#[test]
fn fifty_planned_minutes_are_over_a_limit_of_forty_five() {
    let of = |minutes: u32| {
        let work = format!("nurse does \"Wash the patient\"\ntakes {minutes} minutes\n");
        names(&check(&policy("stay no longer than 45 minutes", &work, "")))
    };
    assert_eq!(of(50), ["time stay"]);
    assert_eq!(of(46), ["time stay"]);
    assert_eq!(of(45), Vec::<String>::new());
}

/// What others do meanwhile, or what is done elsewhere, is not the wearer's stay; what is done by condition has its case.
#[test]
fn a_stay_is_the_steps_of_one_person_in_the_room() {
    let of = |work: &str| told(&check(&policy("stay no longer than 45 minutes", work, "")));
    assert_eq!(of("buddy does \"Write the notes\"\ntakes 3 hours\n"), []);
    assert_eq!(of("nurse goes to doorway\nnurse does \"Rest\"\ntakes 3 hours\nnurse goes to room\n"), []);
    let apart = "nurse does \"Wash\", if gloves are torn\ntakes 40 minutes\n\
                 nurse does \"Feed\", unless gloves are torn\ntakes 40 minutes\n";
    assert_eq!(of(apart), []);
    let twice = "nurse does \"Look\", if gloves are wet\ntakes 1 minute\n\
                 nurse does \"Wash\", if gloves are torn\ntakes 40 minutes\nnurse does \"Feed\"\ntakes 6 minutes\n";
    assert_eq!(of(twice), [("time stay".to_owned(), vec!["gloves are torn".to_owned()])]);
}

/// T73: at 3 h 50 min a battery of 4 hours holds, at 4 h 10 min it is due (NIOSH 2013-146). The hands are cleaned once,
/// 30 seconds, between glove and torch, and five minutes are a reserve (common practice, no source): so 3 h 54 min 30 s is
/// the longest stay that is left, and 3 h 59 min 30 s the longest that the battery lasts for.
#[test]
fn a_battery_of_four_hours() {
    let of = |stay: &str| {
        let checked = check(&policy(&format!("stay no longer than {stay}"), "", ", torch"));
        let battery = checked.findings.iter().find(|finding| finding.name.to_string() == "time battery");
        battery.map(|finding| finding.signal)
    };
    assert_eq!(of("230 minutes"), None);
    assert_eq!(of("250 minutes"), Some(Signal::Warning));
    assert_eq!(of("14070 seconds"), None);
    assert_eq!(of("14071 seconds"), Some(Signal::Caution));
    assert_eq!(of("14370 seconds"), Some(Signal::Caution));
    assert_eq!(of("14371 seconds"), Some(Signal::Warning));
}

/// A battery runs from when it is switched on, if a step says so, and otherwise from when it goes on, until it is switched off
/// or comes off; only its wearer's own steps outside the room count besides the stay. By what the words mean; no outside
/// source.
#[test]
fn a_battery_runs_while_it_is_on() {
    let of = |before: &str, after: &str| {
        let text = policy("stay no longer than 14070 seconds", "", ", torch")
            .replace("nurse puts on torch\n", &format!("nurse puts on torch\n{before}"))
            .replace("nurse takes off torch into bin\n", &format!("{after}nurse takes off torch into bin\n"));
        let walked = check(&text).walk.times.batteries;
        walked.first().map(|battery| battery.besides.0)
    };
    let minute = "nurse does \"Wait\"\ntakes 1 minute\n";
    assert_eq!(of("", ""), None);
    assert_eq!(of(minute, ""), Some(90), "with the hands that are cleaned after the gloves");
    assert_eq!(of("", minute), Some(90));
    assert_eq!(of(&format!("{minute}nurse switches on torch\n"), ""), None, "not on yet");
    assert_eq!(of(&format!("nurse switches on torch\n{minute}"), ""), Some(90));
    assert_eq!(of("", &format!("nurse switches off torch\n{minute}")), None, "off again");
    assert_eq!(of("", &format!("nurse takes off torch\n{minute}nurse puts on torch\n")), None);
    assert_eq!(of("", "buddy does \"Wait\"\ntakes 1 minute\n"), None, "nobody says that the nurse waits");
    assert_eq!(of(&format!("buddy goes to room\n{minute}"), ""), Some(90), "the nurse goes nowhere by that");
    assert_eq!(of(&format!("nurse goes to room\n{minute}nurse goes to corridor\n"), ""), None, "that is the stay");
    let other = format!("nurse switches on bin\n{minute}nurse switches on torch\n");
    assert_eq!(of(&other, ""), None, "another thing");
    assert_eq!(of(&format!("nurse switches off bin\n{minute}"), ""), Some(90));
    assert_eq!(of(&format!("buddy takes off torch\n{minute}"), ""), Some(90), "somebody else's");
    let early =
        format!("nurse takes off torch\nnurse puts on gloves\n{minute}nurse takes off gloves\nnurse puts on torch\n");
    assert_eq!(of(&early, ""), None, "gloves are no torch");
}

/// Where the stay alone is too long for it, the battery runs out in every case. The reserve of five minutes is the project's
/// own (common practice, no source).
#[test]
fn a_battery_that_the_stay_outlasts_runs_out_in_every_case() {
    let of = |seconds: u32, work: &str| {
        let limit = format!("stay no longer than {seconds} seconds");
        check(&policy(&limit, work, ", torch")).walk.times.batteries.first().map(|battery| battery.case.len())
    };
    let off = "nurse switches off torch\n";
    assert_eq!((of(14_100, off), of(14_101, off)), (None, Some(0)));
    let rest = "nurse goes to doorway\nnurse does \"Rest\", if gloves are wet\ntakes 1 minute\nnurse goes to room\n";
    assert_eq!((of(14_060, rest), of(14_100, rest), of(14_101, rest)), (Some(1), Some(0), Some(0)));
    let told = told(&check(&policy("stay no longer than 14060 seconds", rest, ", torch")));
    assert!(told.contains(&("time battery".to_owned(), vec!["gloves are wet".to_owned()])), "{told:?}");
}

/// What somebody does, or has done to them or to what they wear, is their time; the finding stands at the first of it in the
/// room that takes any. By what the words mean; no outside source.
#[test]
fn a_stay_is_told_at_the_first_step_of_it_that_takes_time() {
    let of = |work: &str| {
        let checked = check(
            &policy("stay no longer than 10 minutes", work, "")
                .replace("container bin", "cleaner wipe\nfor surfaces\ncontainer bin"),
        );
        let stay = checked.findings.iter().find(|finding| finding.name.to_string() == "time stay");
        stay.map(|finding| finding.sentence.clone())
    };
    let long = "nurse does \"Feed\"\ntakes 11 minutes\n";
    assert_eq!(of(&format!("nurse does \"Look\"\n{long}")).as_deref(), Some("nurse does \"Feed\""));
    assert_eq!(of(&format!("buddy does \"Wait\"\ntakes 1 minute\n{long}")).as_deref(), Some("nurse does \"Feed\""));
    assert_eq!(of("buddy checks nurse\ntakes 11 minutes\n").as_deref(), Some("buddy checks nurse"));
    let wiped = "buddy wipes gloves with wipe for 11 minutes";
    assert_eq!(of(&format!("{wiped}\n")).as_deref(), Some(wiped));
    assert_eq!(of("buddy checks bin\ntakes 11 minutes\n"), None);
    assert_eq!(
        of(&format!("buddy goes to doorway\n{long}")).as_deref(),
        Some("nurse does \"Feed\""),
        "the nurse stays"
    );
}

/// Check value 55: 9 steps to the next hold are few enough, 10 are not (A Checklist for Checklists, 2010).
#[test]
fn nine_steps_to_the_next_hold_and_ten() {
    let of = |steps: usize, card: &str| {
        let work: String = (0..steps).map(|at| format!("nurse does \"Thing {at}\"\n")).collect();
        let work = format!("hold \"In\"\nbuddy confirms \"In.\"\n{work}hold \"Done\"\nbuddy confirms \"Done.\"\n");
        names(&check(&format!("{}print {card} of \"Putting on\"\non A5\n", policy("", &work, ""))))
    };
    assert_eq!(of(9, "observer card"), Vec::<String>::new());
    assert_eq!(of(10, "observer card"), ["time budget"]);
    assert_eq!(of(10, "wearer card"), Vec::<String>::new());
    // The heading of a part is a pause, too.
    let parts = |before: usize, after: usize| {
        let steps = |count: usize| "nurse does \"It\"\n".repeat(count);
        let hold = |title: &str| format!("hold \"{title}\"\nbuddy confirms \"Yes.\"\n");
        let work = format!("{}{}part \"More\"\n{}{}", hold("In"), steps(before), steps(after), hold("Done"));
        names(&check(&format!("{}print observer card of \"Putting on\"\non A5\n", policy("", &work, ""))))
    };
    assert_eq!((parts(9, 9).len(), parts(9, 10).len(), parts(10, 9).len()), (0, 1, 1));
}

/// A hold that happens only in some cases is a pause only there; a pause holds up everybody, whoever confirms it; steps of
/// which only one happens are not read one after the other. By the same checklist.
#[test]
fn a_hold_is_a_pause_where_it_happens() {
    let of = |middle: &str| {
        let steps =
            |from: usize| -> String { (from..from + 5).map(|at| format!("nurse does \"Thing {at}\"\n")).collect() };
        let hold = |title: &str| format!("hold \"{title}\"\nbuddy confirms \"Yes.\"\n");
        let work = format!("{}{}{middle}{}{}", hold("In"), steps(0), steps(5), hold("Done"));
        told(&check(&format!("{}print observer card of \"Putting on\"\non A5\n", policy("", &work, ""))))
    };
    let found =
        |case: &[&str]| ("time budget".to_owned(), case.iter().map(|fact| fact.to_string()).collect::<Vec<_>>());
    assert_eq!(of(""), [found(&[])]);
    assert_eq!(of("hold \"Half\"\nbuddy confirms \"Yes.\"\n"), []);
    let sometimes = "if gloves are wet\nhold \"Half\"\nbuddy confirms \"Yes.\"\nend if\n";
    assert_eq!(of(sometimes), [found(&["gloves are not wet"])]);
    let either = "if gloves are wet\nhold \"Half\"\nbuddy confirms \"Yes.\"\notherwise\n\
                  hold \"Middle\"\nbuddy confirms \"Yes.\"\nend if\n";
    assert_eq!(of(either), []);
    let four: String = (10..14).map(|at| format!("nurse does \"Thing {at}\"\n")).collect();
    assert_eq!(of(&format!("{four}{either}{four}")), [], "nine, and nine more");
}

/// 150 words a minute: from memory; common practice, no source.
#[test]
fn reading_aloud_is_reckoned_at_150_words_a_minute() {
    assert_eq!(read_aloud(["word ".repeat(150).as_str()].into_iter()), Seconds(60));
    assert_eq!(read_aloud(["Pinch – – – and peel."].into_iter()), Seconds(2), "three words in 1.2 seconds, rounded up");
    assert_eq!(read_aloud([].into_iter()), Seconds(0));
    let of = |words: usize, card: &str| {
        let work = format!("nurse does \"It\"\ntakes 10 seconds\nsay \"{}\"\n", "word ".repeat(words).trim_end());
        check(&format!("{}print {card} of \"Putting on\"\non A5\n", policy("", &work, "")))
    };
    assert_eq!(names(&of(25, "observer card")), Vec::<String>::new());
    assert_eq!(names(&of(26, "observer card")), ["time aloud"]);
    assert_eq!(names(&of(26, "poster")), Vec::<String>::new());
    // The figure of the card is that of the words that it prints: 100 words more are 40 seconds more.
    let of_card = |words: usize| of(words, "observer card").examined.timings[0].read_aloud_seconds.unwrap().0;
    assert_eq!(of_card(125) - of_card(25), 40);
    assert_eq!(of(25, "poster").examined.timings[0].read_aloud_seconds, None);
    let told = of(25, "observer card").examined.looked_at;
    assert!(told.iter().any(|sentence| sentence.contains("at 150 words a minute: “Putting on” ")), "{told:?}");
}

/// A cleaner that has to stay wet for 2 minutes takes 2 minutes: by what the words mean; no outside source.
#[test]
fn a_step_takes_as_long_as_its_cleaning() {
    let of = |step: &str| {
        let wipe = "cleaner wipe\nfor surfaces\nwet for 2 minutes\nsurface rail\nstands in doorway\n";
        let text = policy("", "", "")
            .replace("nurse takes off gloves", &format!("nurse wipes rail with wipe{step}\nnurse takes off gloves"));
        let checked = check(&text.replacen("container bin", &format!("{wipe}container bin"), 1));
        let hygiene = checked.findings.iter().filter(|finding| finding.name.to_string() == "hygiene short").count();
        (names(&checked), hygiene)
    };
    assert_eq!(of(""), (vec![], 0));
    assert_eq!(of("\ntakes 2 minutes"), (vec![], 0));
    assert_eq!(of("\ntakes 119 seconds"), (vec!["time wet".to_owned()], 0));
    assert_eq!(of(" for 3 minutes\ntakes 2 minutes"), (vec!["time wet".to_owned()], 0));
    assert_eq!(of(" for 1 minute\ntakes 1 minute"), (vec![], 1), "told once, as a cleaning that is too short");
}

#[test]
fn the_report_says_what_was_added_up_and_what_was_not() {
    let work = "nurse does \"Wash\", if gloves are wet\ntakes 4 minutes\n";
    let examined = check(&policy("stay no longer than 45 minutes", work, "")).examined;
    let looked = "Time, as far as it is written: “Putting on” 30 seconds to 4 minutes 30 seconds where gloves are wet and “Taking off” 30 seconds.";
    assert!(examined.looked_at.iter().any(|sentence| sentence == looked), "{:?}", examined.looked_at);
    let unknown = "How long 5 steps and holds take: no line says it, and each counts as no time.";
    assert!(examined.not_looked_at.iter().any(|sentence| sentence == unknown), "{:?}", examined.not_looked_at);
}

/// Steps that turn on up to six things that are found, each for so many seconds.
fn some_work() -> impl Strategy<Value = String> {
    let step = (0..6_usize, 0..6_usize, 0..4_usize, 0..90_u32);
    proptest::collection::vec(step, 1..12).prop_map(|steps| {
        let state = |at: usize| ["wet", "torn", "soiled", "loose", "stiff", "short"][at];
        let line = |(one, two, shape, seconds): (usize, usize, usize, u32)| {
            let when = match shape {
                0 => String::new(),
                1 => format!(", if gloves are {}", state(one)),
                2 => format!(", unless gloves are {}", state(one)),
                _ => format!(", if gloves are {} and gloves are {}", state(one), state(two)),
            };
            format!(
                "nurse does \"It\"{when}\n{}",
                if seconds > 0 { format!("takes {seconds} seconds\n") } else { String::new() }
            )
        };
        steps.into_iter().map(line).collect()
    })
}

fn happens(guard: &Guard, answers: usize) -> bool {
    let holds = |fact: FactId| answers >> fact.index() & 1 == 1;
    guard.any.iter().any(|all| all.iter().all(|literal| holds(literal.fact) == literal.holds))
}

/// As many as are asked for, else so many.
fn cases(usual: u32) -> u32 {
    if std::env::var_os("PROPTEST_CASES").is_some() { ProptestConfig::default().cases } else { usual }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(60), failure_persistence: None, ..ProptestConfig::default() })]

    /// Independent: each combination of what is found, added up by itself.
    #[test]
    fn shortest_and_longest_are_those_of_every_case(work in some_work()) {
        let checked = check(&policy("stay no longer than 1 minutes", &work, ""));
        let policy = &checked.reading.policy;
        prop_assert!(checked.reading.problems.is_empty(), "{:?}", checked.reading.problems);
        let takes = |step: &Step| step.prompts.takes.map_or(0, |time| time.0);
        let cases = || 0..1_usize << policy.facts.len();
        let sum = |steps: &[Step], case: usize| -> u32 {
            steps.iter().filter(|step| happens(&step.guard, case)).map(takes).sum()
        };
        let steps = &policy.sequences[0].steps;
        let duration = checked.walk.times.sequences[0].as_ref().unwrap();
        let hands = 30;
        prop_assert_eq!(duration.shortest, Seconds(hands + cases().map(|case| sum(steps, case)).min().unwrap()));
        prop_assert_eq!(duration.longest, Seconds(hands + cases().map(|case| sum(steps, case)).max().unwrap()));
        let longest = cases().map(|case| sum(steps, case)).max().unwrap();
        let stays = &checked.walk.times.stays;
        prop_assert_eq!(stays.len(), usize::from(longest > 60));
        for stay in stays {
            prop_assert_eq!(stay.takes, Seconds(longest));
            let within = |case: &usize| stay.case.iter().all(|(fact, holds)| (case >> fact.index() & 1 == 1) == *holds);
            let over = |case: usize| sum(steps, case) > 60;
            prop_assert!(cases().filter(within).all(over), "whatever else is found");
            for fact in stay.case.keys() {
                let others = |case: &usize| within(case) || within(&(case ^ (1 << fact.index())));
                prop_assert!(!cases().filter(others).all(over), "each answer of the case matters");
            }
        }
    }
}

/// Steps and holds that turn on up to six things that are found.
fn some_cards() -> impl Strategy<Value = String> {
    let line = (0..6_usize, 0..6_usize, 0..4_usize, 0..8_usize);
    proptest::collection::vec(line, 8..30).prop_map(|lines| {
        let state = |at: usize| ["wet", "torn", "soiled", "loose", "stiff", "short"][at];
        let line = |(at, (one, two, shape, kind)): (usize, (usize, usize, usize, usize))| {
            let when = match shape {
                0 => "if gloves are cold".to_owned(),
                1 => format!("if gloves are {}", state(one)),
                2 => format!("unless gloves are {}", state(one)),
                _ => format!("if gloves are {} and gloves are {}", state(one), state(two)),
            };
            let hold = format!("hold \"Hold {at}\"\nbuddy confirms \"Yes.\"\nend if\n");
            match (kind, shape) {
                (0, 2) => format!("if gloves are {}\nnurse does \"It\"\notherwise\n{hold}", state(one)),
                (0, 1..) => format!("{when}\n{hold}"),
                (_, 0) => "nurse does \"It\"\n".to_owned(),
                _ => format!("nurse does \"It\", {when}\n"),
            }
        };
        lines.into_iter().enumerate().map(line).collect()
    })
}

/// The longest row of steps that happen without a hold that happens, in one case.
fn longest_row(steps: &[Step], case: usize) -> usize {
    let (mut row, mut longest) = (0, 0);
    for step in steps.iter().filter(|step| happens(&step.guard, case)) {
        row = if matches!(step.act, Act::Hold(_)) { 0 } else { row + 1 };
        longest = longest.max(row);
    }
    longest
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(60), failure_persistence: None, ..ProptestConfig::default() })]

    /// Independent: each combination of what is found, its steps counted by itself. By the same checklist.
    #[test]
    fn the_longest_row_is_that_of_every_case(work in some_cards()) {
        let hold = "hold \"In\"\nbuddy confirms \"In.\"\n";
        let card = "print observer card of \"Putting on\"\non A5\n";
        let checked = check(&format!("{}{card}", policy("", &format!("{hold}{work}"), "")));
        let policy = &checked.reading.policy;
        prop_assert!(checked.reading.problems.is_empty(), "{:?}", checked.reading.problems);
        let steps = &policy.sequences[0].steps;
        let all = 0..1_usize << policy.facts.len();
        let longest = all.clone().map(|case| longest_row(steps, case)).max().unwrap();
        let found: Vec<&Finding> =
            checked.findings.iter().filter(|finding| finding.name.to_string() == "time budget").collect();
        prop_assert_eq!(found.len(), usize::from(longest > 9));
        for finding in found {
            prop_assert!(finding.message.contains(&format!("reads {longest} here")), "{longest}: {}", finding.message);
            let told = |case: usize| (0..policy.facts.len()).map(move |fact| {
                fact_words(&policy.facts[fact], case >> fact & 1 == 1)
            });
            let keeps = |case: usize, names: &[String]| names.iter().all(|name| told(case).any(|words| words == *name));
            let too_many = |names: &[String]| all.clone().filter(|&case| keeps(case, names)).all(|case| longest_row(steps, case) > 9);
            prop_assert!(too_many(&finding.case), "whatever else is found: {:?}", finding.case);
            for left_out in 0..finding.case.len() {
                let fewer = [&finding.case[..left_out], &finding.case[left_out + 1..]].concat();
                prop_assert!(!too_many(&fewer), "each answer of the case matters: {:?}", finding.case);
            }
        }
    }
}

/// Forty conditions cost about forty times one where each is forgotten once it has been asked; where all are asked again
/// at the end the report says that it stopped. No outside source for the shapes.
#[test]
fn many_conditions_are_no_burden_or_are_said_to_be_too_many() {
    let line = |at: usize| format!("nurse does \"It\", if gloves are state{}\ntakes 1 minute\n", letters(at));
    let apart: String = (0..40).map(line).collect();
    let checked = check(&policy("stay no longer than 40 minutes", &apart, ""));
    assert_eq!(names(&checked), Vec::<String>::new());
    let duration = checked.walk.times.sequences[0].as_ref().unwrap();
    assert_eq!((duration.shortest, duration.longest), (Seconds(30), Seconds(30 + 40 * 60)));
    let over = check(&policy("stay no longer than 38 minutes", &apart, ""));
    assert_eq!(told(&over).len(), 1);
    assert_eq!(over.walk.times.stays[0].case.len(), 39, "one of forty may be left out");
    let again: String = (0..40).chain(0..40).map(line).collect();
    let checked = check(&policy("stay no longer than 40 minutes", &again, ""));
    assert!(checked.walk.times.gave_up);
    let unseen = &checked.examined.not_looked_at;
    assert!(unseen.iter().any(|sentence| sentence.starts_with("Time to its end")), "{unseen:?}");
    assert!(
        anteroom::session::draft_reasons(&checked)
            .iter()
            .any(|reason| reason.sentence().contains("did not come to its end"))
    );
}

/// 160 conditions, each by itself, each asked twice one after the other, and each with its opposite: the answers that are named
/// are as many as make ten steps, or all of which the time depends. By what the words mean; no outside source.
#[test]
fn a_hundred_and_sixty_conditions_are_answered_in_full() {
    let of = |line: &dyn Fn(usize) -> String| {
        let lines: String = (0..160).map(line).collect();
        let card = "print observer card of \"Putting on\"\non A5\n";
        let policy = read(&format!("{}{card}", policy("stay no longer than 100 minutes", &lines, ""))).policy;
        let walk = Walk { times: times(&policy), ..Walk::default() };
        let case = |name: &str| {
            let rule = rules::ALL.iter().find(|rule| rule.name().to_string() == name).unwrap();
            let mut findings = Vec::new();
            rule.inspect(&Brief { problems: &[], policy: &policy, walk: &walk, today: None }, &mut findings);
            findings.first().map(|finding| finding.case.len())
        };
        assert!(!walk.times.gave_up);
        let longest = walk.times.sequences[0].as_ref().unwrap();
        (case("time budget"), case("time stay"), longest.longest.0, longest.longest_when.len())
    };
    let step =
        |when: &str, at: usize| format!("nurse does \"It\", {when} gloves are state{}\ntakes 1 minute\n", letters(at));
    // Cleaning hands, the gloves and the way to the room are steps, too: seven more are too many.
    assert_eq!(of(&|at| step("if", at)), (Some(7), Some(101), 30 + 160 * 60, 160));
    assert_eq!(of(&|at| step("if", at).repeat(2)), (Some(4), Some(51), 30 + 320 * 60, 160));
    assert_eq!(of(&|at| step("if", at) + &step("unless", at)), (Some(0), Some(0), 30 + 160 * 60, 0));
    let hold = |at: usize| {
        format!("if gloves are state{}\nhold \"Hold {at}\"\nbuddy confirms \"Yes.\"\nend if\n", letters(at))
    };
    // Ten in a row, with no hold among them.
    assert_eq!(of(&|at| step("unless", at) + &hold(at)), (Some(10), Some(101), 30 + 160 * 60, 160));
}

fn letters(at: usize) -> String {
    [at / 26, at % 26].iter().map(|&letter| (b'a' + letter as u8) as char).collect()
}

/// The line that leads out of the room is unread: how long the stay is cannot be told, and is not.
#[test]
fn nothing_is_told_of_a_stay_whose_end_is_unread() {
    let work = "nurse does \"Wash\"\ntakes 44 minutes\nnurse wanders off towards doorway\nnurse does \"Rest\"\ntakes 10 minutes\n";
    let checked = check(&policy("stay no longer than 45 minutes", work, ""));
    assert!(names(&checked).iter().all(|name| name.starts_with("reading")), "{:?}", names(&checked));
    let right = check(&policy("stay no longer than 45 minutes", &work.replace("wanders off towards", "goes to"), ""));
    assert_eq!(names(&right), Vec::<String>::new());
}
