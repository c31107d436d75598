//! Figures: a policy of some 60 steps checked in process; 10,000 lines read. `cargo bench --bench checking`.

use anteroom::policy::Day;
use anteroom::session::{self, Shelf};
use anteroom::syntax;
use anteroom::text::SourceId;

/// The isolation suite of the tests' samples: 63 steps in five sequences and three drills.
const SUITE: &str = include_str!("../samples/isolation-suite.ppe");

struct NoShelf;

impl Shelf for NoShelf {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no such file".into())
    }
}

fn main() {
    divan::main();
}

#[divan::bench]
fn check_a_policy_of_60_steps() -> session::Checked {
    let reading = session::read("suite.ppe", divan::black_box(SUITE), &NoShelf);
    session::check(reading, Day::new(2026, 12, 1))
}

#[divan::bench]
fn read_a_policy_of_60_steps() -> session::Reading {
    session::read("suite.ppe", divan::black_box(SUITE), &NoShelf)
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
