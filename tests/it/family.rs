//! The family of aids as data: what a pack holds, that all aids number the same steps alike, and that a plan, a sign and a
//! choice say what the policy says. The policies are this project's own; each check computes its answer from them anew.

use std::collections::BTreeSet;

use anteroom::aids::plan;
use anteroom::aids::plan::{Aid, AreaMove, Body, FormCell, FormRow, Layout, Row};
use anteroom::policy::{Act, AidKind, Day, Subject};

use crate::policies::{checked, checked_text};

const DEMO: [&str; 3] =
    ["policies/side-rooms.ppe", "policies/negative-pressure-room.ppe", "policies/assessment-suite.ppe"];

fn day() -> Day {
    Day::new(2026, 12, 10).unwrap()
}

/// A policy of the demonstration with other prints.
fn with_prints(file: &str, prints: &str) -> anteroom::session::Checked {
    let text = std::fs::read_to_string(file).unwrap();
    let bare: Vec<&str> = text.lines().take_while(|line| !line.starts_with("print ")).collect();
    let common = std::fs::read_to_string("policies/common.ppe").unwrap();
    let joined = bare.iter().map(|line| if line.starts_with("use ") { common.as_str() } else { line });
    checked_text(&format!("{}\n{prints}", joined.collect::<Vec<_>>().join("\n")), day())
}

fn aids(file: &str, prints: &str) -> Vec<Aid> {
    let plan = plan(&with_prints(file, prints));
    assert!(plan.not_made.is_empty(), "{file}: {:?}", plan.not_made);
    plan.aids
}

#[test]
fn a_pack_of_a_level_holds_each_kind_once_for_all_that_is_of_the_level() {
    let pack = aids("policies/assessment-suite.ppe", "print pack of High\n  on A1\n");
    let count = |kind: &str| pack.iter().filter(|aid| aid.kind == kind).count();
    // Six sequences, four contingencies; the helper has a part in five sequences, the observer in all.
    for (kind, wanted) in [("Poster", 6), ("Event card", 4), ("Door sign", 1), ("Area plan", 1), ("Kit list", 1)] {
        assert_eq!(count(kind), wanted, "{kind}");
    }
    for kind in ["Trolley check", "Entry and exit log", "Competence record", "Observation form", "Incident form"] {
        assert_eq!(count(kind), 1, "{kind}");
    }
    let files: BTreeSet<&str> = pack.iter().map(|aid| aid.file.as_str()).collect();
    assert_eq!(files.len(), pack.len(), "each has a file of its own");
}

/// What a role has a part in is counted here from the steps themselves.
#[test]
fn a_pack_of_a_role_holds_its_cards() {
    for role in ["observer", "helper", "wearer"] {
        let checked = with_prints("policies/assessment-suite.ppe", &format!("print pack of {role}\n"));
        let policy = &checked.reading.policy;
        let id = policy.roles.iter().position(|known| known.name == role).unwrap();
        let takes_part = |steps: &[anteroom::policy::Step]| {
            steps.iter().any(|step| match &step.act {
                Act::Hold(hold) => hold.confirms.iter().any(|(who, _)| who.index() == id),
                _ => step.actor.index() == id,
            })
        };
        let wanted: BTreeSet<&str> =
            policy.sequences.iter().filter(|one| takes_part(&one.steps)).map(|one| one.title.as_str()).collect();
        let plan = plan(&checked);
        let kind = format!("{}{} card", role[..1].to_uppercase(), &role[1..]);
        let printed: BTreeSet<&str> =
            plan.aids.iter().filter(|aid| aid.kind == kind).map(|aid| aid.title.as_str()).collect();
        assert_eq!(printed, wanted, "{role}");
    }
}

#[test]
fn what_a_statement_asks_for_is_not_in_the_pack_again() {
    let prints = "print poster of \"Taking off\"\n  on A0\nprint pack of High\n  on A2\n";
    let checked = with_prints("policies/assessment-suite.ppe", prints);
    let asked = checked.reading.policy.aids_asked();
    let posters: Vec<_> = asked.iter().filter(|print| print.kind == AidKind::Poster).collect();
    assert_eq!(posters.len(), 6);
    assert_eq!(posters.iter().filter(|print| print.paper.word() == "A0").count(), 1, "its own paper");
    let mut subjects: Vec<_> = posters.iter().map(|print| print.subject).collect();
    subjects.dedup();
    assert_eq!(subjects.len(), 6, "none twice");
    assert!(asked.iter().all(|print| print.kind != AidKind::Pack && print.subject != Subject::Policy
        || matches!(print.kind, AidKind::AreaPlan | AidKind::ChoicePoster)));
}

/// Records and forms have a row for each row of the poster, with the same numbers.
#[test]
fn records_number_steps_as_posters_do() {
    for file in DEMO {
        let titles: Vec<String> =
            checked(file, day()).reading.policy.sequences.iter().map(|one| one.title.clone()).collect();
        for title in titles {
            let prints = format!(
                "print poster of \"{title}\"\nprint competence record of \"{title}\"\nprint observation form of \"{title}\"\n"
            );
            let aids = aids(file, &prints);
            let Body::Steps(poster) = &aids[0].body else { panic!("a poster has steps") };
            let wanted: Vec<String> = poster
                .bands
                .iter()
                .flat_map(|band| &band.rows)
                .map(|row| match row {
                    Row::Step(step) => step.number.to_string(),
                    Row::Hold(_) => String::new(),
                })
                .collect();
            for record in &aids[1..] {
                let Body::Form(form) = &record.body else { panic!("a record is a form") };
                let table = form.sections.iter().find(|section| section.title == title).expect("its table");
                let numbers: Vec<String> = table
                    .rows
                    .iter()
                    .filter_map(|row| if let FormRow::Entry(entry) = row { Some(entry.number.clone()) } else { None })
                    .collect();
                assert_eq!(numbers, wanted, "{file}: {} of {title}", record.kind);
                assert_eq!(table.columns[0].holds, FormCell::Words);
            }
        }
    }
}

/// Read in haste by whoever holds it: every step says who acts.
#[test]
fn an_event_card_says_who_acts_at_every_step() {
    for file in DEMO {
        for card in aids(file, "print event card\n") {
            let Body::Steps(steps) = &card.body else { panic!("a card has steps") };
            for row in steps.bands.iter().flat_map(|band| &band.rows) {
                if let Row::Step(step) = row {
                    assert!(!step.who.is_empty(), "{file}: {}: {}", card.title, step.act);
                }
            }
            assert!(!steps.endings.is_empty(), "{file}: {} says how it goes on", card.title);
        }
    }
}

#[test]
fn a_plan_has_the_moves_of_the_ways_and_no_other() {
    for file in DEMO {
        let checked = with_prints(file, "print area plan\n");
        let policy = &checked.reading.policy;
        let name = |index: usize| policy.places[index].name.to_lowercase();
        let pairs = policy.ways.iter().flat_map(|way| way.places.windows(2));
        let wanted: BTreeSet<(String, String)> =
            pairs.map(|pair| (name(pair[0].index()), name(pair[1].index()))).collect();
        let plan = plan(&checked);
        let Body::Area(area) = &plan.aids[0].body else { panic!("a plan") };
        let place = |at: usize| area.places[at].name.to_lowercase();
        let drawn = area.moves.iter().flat_map(|step: &AreaMove| {
            let there = (place(step.from), place(step.to));
            let back = step.both.then(|| (place(step.to), place(step.from)));
            std::iter::once(there).chain(back)
        });
        let drawn: Vec<(String, String)> = drawn.collect();
        assert_eq!(drawn.iter().cloned().collect::<BTreeSet<_>>(), wanted, "{file}");
        assert_eq!(drawn.len(), wanted.len(), "{file}: none twice");
        assert_eq!(area.places.len(), policy.places.len(), "{file}");
    }
}

/// Whoever reads the poster from the top and stops at the first line that fits comes to the level that the policy gives,
/// whatever the answers.
#[test]
fn a_choice_read_from_the_top_gives_the_policys_level() {
    for file in ["tests/samples/transfer-team.ppe", "policies/side-rooms.ppe", "tests/samples/side-room.ppe"] {
        let checked = with_prints(file, "print choice poster\n");
        let policy = &checked.reading.policy;
        let choice = policy.choice.as_ref().expect("a choice");
        let plan = plan(&checked);
        let Body::Choice(poster) = &plan.aids[0].body else { panic!("a choice") };
        for answers in 0..1u32 << choice.questions.len() {
            let says_yes = |words: &str| {
                choice.questions.iter().position(|one| one.words == words).map(|at| answers >> at & 1 == 1)
            };
            let row = poster.rows.iter().find(|row| {
                row.asked.iter().all(|one| says_yes(&one.words).expect("one of its questions") == one.is_yes)
            });
            let line = choice.line_for(|id| answers >> id.index() & 1 == 1);
            let wanted = line.map(|line| policy.level(choice.verdicts[line].level).name.clone());
            assert_eq!(row.map(|row| row.level.clone()), wanted, "{file}: {answers:b}");
        }
    }
}

/// In the order of putting on, which is counted here from the steps.
#[test]
fn a_sign_shows_what_goes_on_in_its_order() {
    for file in DEMO {
        let checked = with_prints(file, "print door sign\n");
        let policy = &checked.reading.policy;
        for aid in plan(&checked).aids.iter().filter(|aid| aid.layout == Layout::DoorSign) {
            let Body::Sign(sign) = &aid.body else { panic!("a sign") };
            let level = policy.levels.iter().position(|level| aid.title == format!("{} kit", level.name)).unwrap();
            for kit in &sign.wear {
                let role = policy.roles.iter().position(|role| role.name.eq_ignore_ascii_case(&kit.role)).unwrap();
                let put_on =
                    policy.sequences.iter().filter(|one| one.level.index() == level).flat_map(|one| &one.steps);
                let put_on: Vec<String> = put_on
                    .filter_map(|step| match step.act {
                        Act::PutOn { wearer, item, .. } if wearer.index() == role => {
                            Some(policy.item(item).name.clone())
                        }
                        _ => None,
                    })
                    .collect();
                let shown: Vec<usize> = kit
                    .items
                    .iter()
                    .filter_map(|item| put_on.iter().position(|name| item.name.eq_ignore_ascii_case(name)))
                    .collect();
                assert!(shown.len() > 1 && shown.is_sorted(), "{file}: {}: {shown:?}", kit.role);
            }
            assert!(!sign.ask.is_empty(), "{file}: nobody to ask");
        }
    }
}

#[test]
fn what_cannot_be_made_says_why() {
    let plan = plan(&with_prints("policies/negative-pressure-room.ppe", "print choice poster\nprint review sheet\n"));
    let why = plan.not_made.join("\n");
    for wanted in ["no choice of level", "anteroom compare OLD NEW --out FOLDER"] {
        assert!(why.contains(wanted), "{wanted}: {why}");
    }
    assert_eq!(plan.not_made.len(), 2);
}

/// An event card is of a contingency: asked of a sequence, the line is told with a right one beside it.
#[test]
fn an_event_card_of_a_sequence_is_told() {
    let checked = with_prints("policies/negative-pressure-room.ppe", "print event card of \"Taking off\"\n");
    let told = checked.findings.iter().find(|finding| finding.name.to_string() == "reading line").expect("it is told");
    assert!(told.way_out.contains("print event card of"), "{}", told.way_out);
    let named = with_prints("policies/negative-pressure-room.ppe", "print event card of \"A glove tears\"\n");
    assert_eq!(plan(&named).aids.len(), 1);
}
