//! Texts broken by hand and by machine: whatever is done to a policy, it is read, checked and tidied, soon and without a
//! panic. A bounded and repeatable part of what `bash tests/fuzz/run` does under libFuzzer; no outside source.

use std::time::{Duration, Instant};

use anteroom::policy::Day;
use anteroom::policy::meaning::meaning;
use anteroom::session::{self, Shelf};
use anteroom::text::misleading::misleads;

#[path = "../fuzz/text_changes.rs"]
pub mod text_changes;

use crate::merge::{MARKS, merged};
use text_changes::{Dice, changed_often};

/// For each text and as many seeds; `ANTEROOM_FUZZ` asks for more.
const TIMES: u64 = 3;
/// Far more than any of these takes, in a build that is not optimised and beside other tests.
const LONGEST: Duration = Duration::from_secs(20);

struct NoShelf;

impl Shelf for NoShelf {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no such file".into())
    }
}

fn texts() -> Vec<(String, String)> {
    let mut files = Vec::new();
    for folder in ["policies", "policies/editions", "tests/samples", "tests/published", "policies/faulty"] {
        let found = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        files.extend(found.filter(|path| path.extension().is_some_and(|ending| ending == "ppe")));
    }
    files.sort();
    files.into_iter().map(|path| (path.display().to_string(), std::fs::read_to_string(&path).unwrap())).collect()
}

/// Panics with the text where the program breaks on it.
fn survives(name: &str, text: &str) {
    let start = Instant::now();
    let answered = std::panic::catch_unwind(|| {
        let reading = session::read("ward.ppe", text, &NoShelf);
        let tidied = session::tidy(&reading);
        let again = session::read("ward.ppe", tidied.as_str(), &NoShelf);
        assert_eq!(session::tidy(&again), tidied, "tidying twice changes nothing");
        // Letters that mislead are told, and tidying leaves them out of names.
        if !text.chars().any(|c| misleads(c).is_some()) {
            let (before, after) = (meaning(&reading.policy), meaning(&again.policy));
            let differs: Vec<&str> = before.lines().filter(|line| !after.lines().any(|other| other == *line)).collect();
            assert!(before == after, "tidying changes what is meant: {differs:#?}");
        }
        let checked = session::check(reading, Day::new(2026, 12, 1));
        assert!(!checked.walk.runs.iter().any(|run| run.is_doubtful()), "each thing noticed is replayed");
    });
    assert!(answered.is_ok(), "{name} breaks the program:\n{text}");
    assert!(start.elapsed() < LONGEST, "{name} takes {:?}:\n{text}", start.elapsed());
}

#[test]
fn broken_texts_never_break_the_program() {
    let texts = texts();
    assert!(texts.len() > 60, "the policies are looked for in the wrong place");
    let times = crate::independent::asked("ANTEROOM_FUZZ", TIMES);
    for seed in 1..=times {
        for (at, (name, text)) in texts.iter().enumerate() {
            let mut dice = Dice(seed << 32 | at as u64);
            let other = &texts[dice.below(texts.len())].1;
            let changes = 1 + dice.below(12);
            let broken = changed_often(text, other, changes, &mut dice);
            survives(&format!("{name}, seed {seed}"), &broken);
        }
    }
}

/// A line that ends with a comma goes on in the next: words without quotes, too, are one line once they have them.
#[test]
fn words_that_go_on_in_the_next_line_are_one_line_once_quoted() {
    let text = "policy \"A\"\nsequence \"S\" for L, in x\n  part airborne,\n  wearer checks gown\n";
    survives("a part over two lines", text);
    let tidied = session::tidy(&session::read("ward.ppe", text, &NoShelf));
    assert!(tidied.contains("part \"airborne, wearer checks gown\"\n"), "{tidied}");
}

/// Two people break the same text, each in their own way.
#[test]
fn texts_broken_by_two_hands_are_merged_and_alike_in_both_directions() {
    let texts = texts();
    for seed in 1..=crate::independent::asked("ANTEROOM_FUZZ", 1) {
        for (at, (name, base)) in texts.iter().enumerate() {
            let mut dice = Dice(seed << 33 | at as u64);
            let other = &texts[dice.below(texts.len())].1;
            let mut broken = || changed_often(base, other, 1 + dice.below(12), &mut dice);
            let (ours, theirs) = (broken(), broken());
            let start = Instant::now();
            let (one, mirrored) = (merged(base, &ours, &theirs), merged(base, &theirs, &ours));
            assert!(start.elapsed() < LONGEST, "{name}, seed {seed}: {:?}", start.elapsed());
            assert_eq!(one.is_clean(), mirrored.is_clean(), "{name}, seed {seed}");
            assert!(!one.is_clean() || one.text(&MARKS) == mirrored.text(&MARKS), "{name}, seed {seed}");
            assert_eq!(merged(base, &ours, base).text(&MARKS), ours, "{name}, seed {seed}");
        }
    }
}
