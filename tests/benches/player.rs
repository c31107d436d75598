//! Figures: the same questions answered by the walk and by the independent player (`tests/oracles/player.py`), as a ratio in
//! one run. `cargo bench --bench player`, after `bash tests/setup`.

use std::io::Write;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use anteroom::faces::shelf::FolderShelf;
use anteroom::policy::Policy;
use anteroom::session;
use anteroom::walk::{self, walk};
use camino::Utf8Path;

const FILES: [&str; 3] =
    ["policies/side-rooms.ppe", "policies/negative-pressure-room.ppe", "policies/assessment-suite.ppe"];

fn policy(file: &str) -> Policy {
    let (shelf, text) = FolderShelf::open(Utf8Path::new(file)).expect("the policy is there");
    session::read(file, text, &shelf).policy
}

/// The middle of several walks, each made until the time is long enough to be measured.
fn walked(policy: &Policy) -> Duration {
    let mut times: Vec<Duration> = (0..15)
        .map(|_| {
            let start = Instant::now();
            for _ in 0..10 {
                std::hint::black_box(walk(std::hint::black_box(policy)));
            }
            start.elapsed() / 10
        })
        .collect();
    times.sort();
    times[times.len() / 2]
}

/// Every case of every level played alone, and every event on an ordinary day, on one processor; how long by its own clock, without the start of Python.
fn played(policy: &Policy) -> Duration {
    let runs: Vec<usize> = walk(policy).runs.iter().map(|run: &walk::Run| run.level.index()).collect();
    let line = serde_json::json!({ "policy": session::exported(policy), "levels": runs }).to_string();
    let mut child = Command::new("tests/.python/bin/python")
        .args(["-B", "tests/oracles/timed.py"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the tests' Python is there: bash tests/setup");
    child.stdin.take().expect("its input").write_all(line.as_bytes()).expect("it reads");
    let output = child.wait_with_output().expect("it ends");
    assert!(output.status.success());
    let seconds: f64 = String::from_utf8_lossy(&output.stdout).trim().parse().expect("seconds");
    Duration::from_secs_f64(seconds)
}

fn main() {
    println!("{:40}{:>14}{:>14}{:>10}", "policy", "walk", "player", "ratio");
    for file in FILES {
        let policy = policy(file);
        let (walk, player) = (walked(&policy), played(&policy));
        let ratio = player.as_secs_f64() / walk.as_secs_f64();
        println!("{file:40}{:>11.3} ms{:>11.0} ms{ratio:>10.0}", walk.as_secs_f64() * 1e3, player.as_secs_f64() * 1e3);
    }
}
