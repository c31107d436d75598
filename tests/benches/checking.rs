//! Figures: the samples, policies of many conditions, of 2,000 steps, and many policies checked in process; 10,000 lines
//! read; where 500 policies in a folder stand. `cargo bench --bench checking`.

use anteroom::faces::shelf::FolderShelf;
use anteroom::policy::Day;
use anteroom::session::{self, Checked};
use anteroom::syntax;
use anteroom::text::SourceId;
use camino::Utf8Path;

mod alone;

use alone::NoShelf;

/// The isolation suite of the tests' samples: 63 steps in five sequences and three drills.
const SUITE: &str = include_str!("../samples/isolation-suite.ppe");
const SIDE_ROOM: &str = include_str!("../samples/side-room.ppe");

fn main() {
    divan::main();
}

fn check(text: &str) -> Checked {
    let reading = session::read("suite.ppe", divan::black_box(text), &NoShelf);
    session::check(reading, Day::new(2026, 12, 1))
}

/// With the files that it uses, which are read anew each time.
#[divan::bench(args = ["side-room", "isolation-suite", "transfer-team"])]
fn check_a_sample(name: &str) -> Checked {
    let file = format!("tests/samples/{name}.ppe");
    let (shelf, text) = FolderShelf::open(Utf8Path::new(&file)).expect("the sample is there");
    session::check(session::read(&file, text, &shelf), Day::new(2026, 12, 1))
}

#[divan::bench]
fn read_a_policy_of_60_steps() -> session::Reading {
    session::read("suite.ppe", divan::black_box(SUITE), &NoShelf)
}

/// The suite with so many conditions in its taking-off. Every fourth is asked again two steps later, together with the one
/// before it, so that answers hang together.
fn conditions(count: usize) -> String {
    let mut steps = String::new();
    for at in 0..count {
        steps += &format!("  wearer cleans hands with hand rub for 20 seconds, if coverall is torn in place {at}\n");
        if at % 4 == 3 {
            let before = at - 1;
            steps += "  observer checks wearer\n";
            steps += &format!(
                "  helper wipes coverall with chlorine wipe for 1 minute, if coverall is torn in place {before} and coverall is torn in place {at}\n"
            );
        }
    }
    with_steps(&steps)
}

/// The suite with more steps before its apron comes off.
fn with_steps(steps: &str) -> String {
    let apron = "  wearer takes off apron";
    assert!(SUITE.contains(apron));
    SUITE.replacen(apron, &format!("{steps}{apron}"), 1)
}

#[divan::bench(args = [0, 5, 10, 20, 40], sample_count = 20)]
fn check_so_many_conditions(bencher: divan::Bencher, count: usize) {
    let text = conditions(count);
    bencher.bench(|| {
        let checked = check(&text);
        assert!(checked.reading.problems.is_empty() && checked.walk.runs.iter().all(|run| !run.gave_up));
        checked
    });
}

/// As long as the player takes: half of the steps clean, wipe and check.
#[divan::bench(sample_count = 10)]
fn check_2000_steps(bencher: divan::Bencher) {
    let some = "  wearer cleans hands with hand rub for 30 seconds\n  observer checks wearer\n\
        helper wipes coverall with chlorine wipe for 1 minute\n  helper cleans hands with hand rub for 30 seconds\n";
    let text = with_steps(&some.repeat(480));
    bencher.bench(|| {
        let checked = check(&text);
        assert!(checked.walk.runs.iter().all(|run| !run.gave_up && run.reached.len() > 1_900));
        checked
    });
}

/// 500 policies, each with a title of its own, on so many threads: half of them side rooms, half suites.
#[divan::bench(args = [1, 2], sample_count = 5)]
fn check_500_policies(bencher: divan::Bencher, threads: usize) {
    let text = |at: usize| [SIDE_ROOM, SUITE][at % 2].replacen("policy \"", &format!("policy \"{at}: "), 1);
    let texts: Vec<String> = (0..500).map(text).collect();
    bencher.bench(|| {
        std::thread::scope(|scope| {
            let shares: Vec<_> = texts
                .chunks(texts.len().div_ceil(threads))
                .map(|share| scope.spawn(|| share.iter().map(|text| check(text).findings.len()).sum::<usize>()))
                .collect();
            shares.into_iter().map(|share| share.join().expect("a policy that can be checked")).sum::<usize>()
        })
    });
}

/// 500 policies in a folder, half of them side rooms, half suites, by the program itself.
#[divan::bench(sample_count = 5)]
fn status_of_500_policies(bencher: divan::Bencher) {
    let folder = tempfile::tempdir().expect("a folder");
    for at in 0..500 {
        let text = [SIDE_ROOM, SUITE][at % 2].replacen("policy \"", &format!("policy \"{at}: "), 1);
        std::fs::write(folder.path().join(format!("{at}.ppe")), text).expect("written");
    }
    bencher.bench(|| {
        let mut status = std::process::Command::new(env!("CARGO_BIN_EXE_anteroom"));
        let told = status.args(["status", ".", "--today", "2026-12-01"]).current_dir(folder.path()).output();
        let told = told.expect("the program runs").stdout;
        assert!(told.starts_with(b"On 1 December 2026, 500 policies"));
        told
    });
}

/// The suite with its sequences again and again under other titles, up to 10,000 lines.
fn ten_thousand_lines() -> String {
    let mut text = SUITE.to_string();
    let start = SUITE.find("sequence \"Putting on\"").expect("the suite has its sequence");
    let end = SUITE.find("contingency ").expect("the suite has its drills");
    for copy in 1.. {
        let lines = text.lines().count();
        if lines >= 10_000 {
            return text.lines().take(10_000).collect::<Vec<_>>().join("\n");
        }
        text.push_str(&SUITE[start..end].replace("sequence \"", &format!("sequence \"Copy {copy}: ")));
    }
    text
}

#[divan::bench]
fn parse_10_000_lines(bencher: divan::Bencher) {
    let text = ten_thousand_lines();
    bencher.bench(|| {
        let text = divan::black_box(&text);
        syntax::parse(SourceId(0), text, &syntax::declarations(text))
    });
}
