//! Figures: two editions compared, consequences and all. `cargo bench --no-default-features --bench comparing`.

use anteroom::compare::{Comparison, changed, compare};
use anteroom::policy::Day;
use anteroom::session::{self, Checked, Reading};

mod alone;

use alone::NoShelf;

/// The isolation suite of the tests' samples: 63 steps in five sequences and three drills.
const SUITE: &str = include_str!("../samples/isolation-suite.ppe");

fn main() {
    divan::main();
}

fn read(text: &str) -> Reading {
    session::read("suite.ppe", text, &NoShelf)
}

fn check(text: &str) -> Checked {
    session::check(read(text), Day::new(2026, 12, 2))
}

/// The suite with so many more steps in its taking-off.
fn long(steps: usize) -> String {
    let more: String = (0..steps).map(|at| format!("  wearer does \"Breathe in and out, {at}\"\n")).collect();
    SUITE.replacen("  part \"Arrive\"\n", &format!("  part \"Arrive\"\n{more}"), 1)
}

/// One step in twenty taken out, one in twenty moved, one in twenty reworded.
fn edited(text: &str) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let steps: Vec<usize> = (0..lines.len()).filter(|&at| lines[at].starts_with("  wearer does")).collect();
    for (nth, &at) in steps.iter().enumerate().rev() {
        match nth % 20 {
            3 => drop(lines.remove(at)),
            8 if at + 7 < lines.len() => {
                let line = lines.remove(at);
                lines.insert(at + 5, line);
            }
            13 => lines[at] = lines[at].replace("Breathe", "Slowly breathe"),
            _ => {}
        }
    }
    let careless = lines.join("\n").replace("strength 1000 ppm", "strength 500 ppm");
    careless.replacen(
        "  wearer puts on goggles\n  wearer puts on hood\n",
        "  wearer puts on hood\n  wearer puts on goggles\n",
        1,
    )
}

/// What of the next is reading and checking.
#[divan::bench]
fn check_two_policies_of_60_steps() -> [Checked; 2] {
    [check(divan::black_box(SUITE)), check(&edited(SUITE))]
}

/// From two texts to what a reviewer reads: both are read and checked.
#[divan::bench]
fn compare_two_policies_of_60_steps() -> Comparison {
    let (old, new) = (check(divan::black_box(SUITE)), check(&edited(SUITE)));
    compare(("old", &old), ("new", &new), None, &[])
}

#[divan::bench(sample_count = 10)]
fn compare_two_policies_of_2000_steps(bencher: divan::Bencher) {
    let (old, new) = (long(1937), edited(&long(1937)));
    bencher.bench(|| compare(("old", &check(divan::black_box(&old))), ("new", &check(&new)), None, &[]));
}

/// The worst: nothing of one is in the other.
#[divan::bench(sample_count = 5)]
fn changes_of_2000_steps_that_share_nothing(bencher: divan::Bencher) {
    let old = read(&long(2000)).policy;
    let new = read(&long(2000).replace("Breathe in and out", "Walk round the bed slowly, then back")).policy;
    bencher.bench(|| changed(divan::black_box(&old), divan::black_box(&new)).changes.len());
}

/// The comparison alone, of policies that are read: n log n in the number of steps for edits in proportion.
#[divan::bench(args = [250, 500, 1000, 2000, 4000], sample_count = 10)]
fn changes_of_steps(bencher: divan::Bencher, steps: usize) {
    let text = long(steps);
    let (old, new) = (read(&text).policy, read(&edited(&text)).policy);
    bencher.bench(|| changed(divan::black_box(&old), divan::black_box(&new)).changes.len());
}
