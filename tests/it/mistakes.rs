//! Single mistakes in good procedures: every step left out, every two steps the wrong way round, every other part, person,
//! place, cleaner, time, strength and container. The checker finds each, or the independent player
//! (`tests/oracles/mistakes.py`) computes why it does no harm. None that the player calls harmful may slip through.
//!
//! `ANTEROOM_MISTAKES=all` makes all mistakes in more policies, or in those whose name holds another word than `all`, and has
//! the player judge the found ones, too, with `ANTEROOM_MISTAKES_ODD` things at once unlike an ordinary day.

use std::collections::BTreeMap;

use anteroom::faces::shelf::FolderShelf;
use anteroom::findings::{Finding, Signal};
use anteroom::policy::Day;
use anteroom::session::{self, Checked, Shelf};
use camino::Utf8Path;
use serde_json::{Value, json};

use crate::independent::asked;
use crate::oracle::python;

mod changes;
mod table;

use changes::{Kind, Mistake};
use table::{Outcome, Table};

/// A policy, and how many of its mistakes are made in the ordinary test run: one in so many; none where it is left out.
const GOOD: [(&str, Option<usize>); 18] = [
    ("policies/side-rooms.ppe", Some(1)),
    ("policies/negative-pressure-room.ppe", Some(1)),
    ("policies/assessment-suite.ppe", Some(17)),
    ("tests/published/d11.ppe", Some(1)),
    ("tests/published/d5.ppe", Some(17)),
    ("tests/published/d22.ppe", Some(17)),
    ("tests/published/d4.ppe", None),
    ("tests/published/d7.ppe", None),
    ("tests/published/d9.ppe", None),
    ("tests/published/d10.ppe", None),
    ("tests/published/d12.ppe", None),
    ("tests/published/d13.ppe", None),
    ("tests/published/d14.ppe", None),
    ("tests/published/d15.ppe", None),
    ("tests/published/d21.ppe", None),
    ("tests/samples/isolation-suite.ppe", None),
    ("tests/samples/side-room.ppe", None),
    ("tests/samples/transfer-team.ppe", None),
];

/// A policy's folder in which one file has other words.
struct Changed<'a> {
    shelf: FolderShelf,
    mistake: &'a Mistake,
}

impl Shelf for Changed<'_> {
    fn fetch(&self, from: &str, written: &str) -> Result<(String, String), String> {
        let (name, text) = self.shelf.fetch(from, written)?;
        let text = if name == self.mistake.file { self.mistake.text.clone() } else { text };
        Ok((name, text))
    }
}

fn today() -> Option<Day> {
    Day::new(2026, 12, 1)
}

fn open(file: &str) -> (FolderShelf, String) {
    FolderShelf::open(Utf8Path::new(file)).unwrap_or_else(|why| panic!("{file}: {why}"))
}

fn good(file: &str) -> Checked {
    let (shelf, text) = open(file);
    session::check(session::read(file, text, &shelf), today())
}

fn faulty(file: &str, mistake: &Mistake) -> Checked {
    let (shelf, text) = open(file);
    let text = if mistake.file == file { mistake.text.clone() } else { text };
    session::check(session::read(file, text, &Changed { shelf, mistake }), today())
}

/// What is told of a finding, but for where it stands.
fn told(finding: &Finding) -> (Signal, String, &str, &[String]) {
    (finding.signal, finding.name.to_string(), &finding.title, &finding.case)
}

/// Whether the checker tells of a mistake: a new DANGER or WARNING; or a new CAUTION, each of which stands at the line that
/// is changed or at one that no longer agrees with it.
fn finds(good: &Checked, faulty: &Checked) -> bool {
    let mut known: Vec<_> = good.findings.iter().map(told).collect();
    let is_new = |finding: &&Finding| {
        let here = told(finding);
        known.iter().position(|each| *each == here).map(|at| known.swap_remove(at)).is_none()
    };
    faulty.findings.iter().filter(is_new).any(|finding| finding.signal <= Signal::Caution)
}

/// A mistake made, and what is known of it so far.
struct Made {
    mistake: Mistake,
    is_found: bool,
    exported: Value,
}

/// Makes mistakes and checks each, on two threads.
fn made(file: &str, good: &Checked, mistakes: Vec<Mistake>) -> Vec<Made> {
    let make = |mistakes: &[Mistake]| -> Vec<Made> {
        let made = mistakes.iter().filter_map(|mistake| {
            let faulty = faulty(file, mistake);
            // Words that say the same as before are no mistake.
            (faulty.fingerprint != good.fingerprint).then(|| Made {
                mistake: mistake.clone(),
                is_found: finds(good, &faulty),
                exported: session::exported(&faulty.reading.policy),
            })
        });
        made.collect()
    };
    let (first, second) = mistakes.split_at(mistakes.len() / 2);
    std::thread::scope(|threads| {
        let second = threads.spawn(|| make(second));
        let mut all = make(first);
        all.extend(second.join().expect("a policy that can be checked"));
        all
    })
}

fn judged(good: &Checked, made: &[&Made], odd: u64) -> Vec<Value> {
    let faulty: Vec<&Value> = made.iter().map(|made| &made.exported).collect();
    let line = json!({ "good": session::exported(&good.reading.policy), "faulty": faulty, "odd": odd });
    let told = python("mistakes.py", &[], &format!("{line}\n"));
    let verdicts: Vec<Value> = told.lines().map(|line| serde_json::from_str(line).expect("a verdict a line")).collect();
    assert_eq!(verdicts.len(), made.len(), "every mistake is judged");
    verdicts
}

/// Makes the mistakes in one policy, and enters each in the table.
fn examine(file: &str, every: usize, all: bool, odd: u64, table: &mut Table) {
    let good = good(file);
    let mistakes: Vec<Mistake> = changes::mistakes(&good.reading).into_iter().step_by(every).collect();
    let made = made(file, &good, mistakes);
    let to_judge: Vec<&Made> = made.iter().filter(|made| all || !made.is_found).collect();
    for (made, verdict) in to_judge.iter().zip(judged(&good, &to_judge, odd)) {
        table.enter(file, &made.mistake, Outcome::of(made.is_found, made.mistake.in_drill, &verdict), &verdict);
    }
    if !all {
        for made in made.iter().filter(|made| made.is_found) {
            table.enter(file, &made.mistake, Outcome::Found, &Value::Null);
        }
    }
}

#[test]
fn every_single_mistake_is_found_or_does_no_harm() {
    let wanted = std::env::var("ANTEROOM_MISTAKES").ok();
    let odd = asked("ANTEROOM_MISTAKES_ODD", 1);
    let mut table = Table::default();
    for (file, every) in GOOD {
        match (&wanted, every) {
            (Some(word), _) if word == "all" || file.contains(word) => examine(file, 1, true, odd, &mut table),
            (None, Some(every)) => examine(file, every, false, odd, &mut table),
            _ => {}
        }
    }
    println!("{table}");
    assert!(table.missed.is_empty(), "{} mistakes slip through:\n{}", table.missed.len(), table.missed.join("\n"));
    let found: BTreeMap<Kind, usize> = table.found_by_kind();
    for kind in Kind::ALL.into_iter().filter(|_| wanted.is_none()) {
        assert!(found.get(&kind).is_some_and(|&found| found > 0), "no mistake of the kind {kind:?} is found at all");
    }
}
