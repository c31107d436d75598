//! Figures: our printing beside the same typesetter as the Python package `typst` has it, with the same templates and data,
//! turn by turn in one run. `cargo bench --bench beside`; needs `bash tests/setup`.
//!
//! The package is given the finished faces and only sets them. Ours is timed twice: setting the same faces, and the whole of its
//! work, from policies that are read, checked and divided. Each turn is a process of its own.

use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::Instant;

use anteroom::aids::plan::{Aid, PrintPlan};
use anteroom::faces::shelf::FolderShelf;
use anteroom::policy::Day;
use anteroom::typeset::project::ready;
use anteroom::typeset::typeset_all;
use anteroom::{aids, session};
use camino::Utf8Path;

#[path = "alone.rs"]
mod alone;
#[path = "handing_over.rs"]
mod handing_over;

use handing_over::hand_over;

const ROOT: &str = env!("CARGO_MANIFEST_DIR");
const POLICIES: [&str; 6] = [
    "policies/side-rooms.ppe",
    "policies/negative-pressure-room.ppe",
    "policies/assessment-suite.ppe",
    "tests/samples/side-room.ppe",
    "tests/samples/isolation-suite.ppe",
    "tests/samples/transfer-team.ppe",
];
const PACK: usize = 200;
const TURNS: usize = 7;

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        ["pack", threads, aids] => set_pack(number(threads), number(aids)),
        ["faces", threads, aids] => set_faces(number(threads), number(aids)),
        _ => compare(),
    }
}

fn number(word: &str) -> usize {
    word.parse().expect("a number")
}

/// The plans of so many aids of the demonstration and the samples, no two alike: each round of policies is another ward's.
fn plans(aids: usize) -> impl Iterator<Item = PrintPlan> {
    let mut left = aids;
    let rounds = (1..).flat_map(|round| POLICIES.map(|policy| (round, policy)));
    rounds.map_while(move |(round, policy)| {
        let path = Utf8Path::new(ROOT).join(policy);
        let (shelf, text) = FolderShelf::open(&path).expect("the policy is there");
        let text = text.replacen("policy \"", &format!("policy \"Ward {round}. "), 1);
        let reading = session::read(policy, text, &shelf);
        let mut plan = aids::plan(&session::check(reading, Day::new(2026, 12, 1)));
        plan.aids.truncate(left);
        left -= plan.aids.len();
        (!plan.aids.is_empty()).then_some(plan)
    })
}

/// A process of its own: says how long it took from the first policy read to the last aid set, in ms, and the most memory that
/// it ever held, in kB. Policies go one after another, and PDFs are let go, as in a run that writes them.
fn set_pack(threads: usize, aids: usize) {
    let began = Instant::now();
    let set = |plan: PrintPlan| typeset_all(&plan, threads, &|_, set| set.expect("it can be set").pdf.len());
    let bytes: usize = plans(aids).flat_map(set).sum();
    let took = began.elapsed().as_secs_f64() * 1e3;
    assert!(bytes > 0);
    println!("{took} {}", peak());
}

/// A process of its own: the same of the setting alone, of aids that were divided before the clock began.
fn set_faces(threads: usize, aids: usize) {
    let aids: Vec<Aid> = plans(aids).flat_map(|plan| plan.aids).collect();
    let ready_aids: Vec<_> = aids.iter().map(|aid| ready(aid).expect("it can be divided")).collect();
    let (next, bytes) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let began = Instant::now();
    let work = || {
        while let Some(aid) = ready_aids.get(next.fetch_add(1, Ordering::Relaxed)) {
            bytes.fetch_add(aid.set().expect("it can be set").len(), Ordering::Relaxed);
        }
    };
    std::thread::scope(|scope| {
        let thread = || std::thread::Builder::new().stack_size(16 << 20).spawn_scoped(scope, work);
        (0..threads).for_each(|_| _ = thread().expect("a thread"));
    });
    let took = began.elapsed().as_secs_f64() * 1e3;
    assert!(bytes.into_inner() > 0);
    println!("{took} {}", peak());
}

fn peak() -> usize {
    let status = std::fs::read_to_string("/proc/self/status").expect("Linux");
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).expect("Linux");
    line.trim().trim_end_matches(" kB").parse().expect("a number")
}

fn compare() {
    let folder = tempfile::tempdir().expect("a folder");
    one_poster(&folder.path().join("two"), "A3");
    one_poster(&folder.path().join("one"), "A2");
    a_pack(folder.path());
    many();
}

/// One poster from a cold process, check, dividing and writing included: on two sheets of A3, and what one sheet would hold is
/// tried; or on one of A2.
fn one_poster(folder: &Path, paper: &str) {
    std::fs::create_dir_all(folder).expect("a folder");
    let text = std::fs::read_to_string(Path::new(ROOT).join("tests/samples/side-room.ppe")).expect("the sample");
    let text: Vec<&str> = text.lines().take_while(|line| !line.starts_with("print wearer card")).collect();
    let text = text.join("\n").replace("on A3", &format!("on {paper}"));
    let policy = folder.join("poster.ppe");
    std::fs::write(&policy, &text).expect("a file");
    let reading = session::read("poster.ppe", text, &alone::NoShelf);
    let mut plan = aids::plan(&session::check(reading, Day::new(2026, 12, 1)));
    plan.aids.truncate(1);
    hand_over(&plan, &folder.join("poster"));
    let out = folder.join("out");
    // A copy, as an installed program is one, like the package: what the linker has just written begins more slowly.
    let program = folder.join("anteroom");
    std::fs::copy(env!("CARGO_BIN_EXE_anteroom"), &program).expect("a copy");
    let mut ours = Command::new(&program);
    ours.arg("print").arg(&policy).arg("--out").arg(&out).args(["--today", "2026-12-01"]);
    let mut theirs = python();
    theirs.arg("cold").arg(folder.join("poster/0000"));
    let time = |command: &mut Command| {
        let began = Instant::now();
        command.output().expect("it runs");
        began.elapsed().as_secs_f64() * 1e3
    };
    let (mut one, mut other) = (Vec::new(), Vec::new());
    for _ in 0..9 * TURNS {
        one.push(time(&mut ours));
        other.push(time(&mut theirs));
    }
    tell(&format!("one {paper} poster, cold process"), &mut one, &mut other);
    assert!(out.join("poster-taking-off-after-splash.pdf").exists(), "ours made a poster");
    assert!(folder.join("poster/0000/set.pdf").exists(), "theirs made a poster");
}

fn a_pack(folder: &Path) {
    let folder = folder.join("pack");
    let aids = plans(PACK).flat_map(|plan| plan.aids).collect();
    hand_over(&PrintPlan { aids, not_made: Vec::new() }, &folder);
    let ways = ["compiler", "shared", "plain"];
    let (mut alone, mut ours, mut faces) = (Vec::new(), Vec::new(), Vec::new());
    let mut theirs = vec![Vec::new(); ways.len()];
    for _ in 0..TURNS {
        alone.push(figures(us("pack", "0", PACK))[0]);
        ours.push(figures(us("pack", "0,1", PACK))[0]);
        faces.push(figures(us("faces", "0,1", PACK))[0]);
        for (way, times) in ways.iter().zip(&mut theirs) {
            let mut command = python();
            command.arg("pack").arg(&folder).args([way, "2"]);
            times.push(figures(command)[0]);
        }
    }
    for (way, times) in ways.iter().zip(&mut theirs) {
        tell(&format!("{PACK} aids, setting alone, two processors, “{way}”"), &mut faces, times);
        tell(&format!("{PACK} aids, all of the work, two processors, “{way}”"), &mut ours, times);
    }
    tell(&format!("{PACK} aids, two processors against one"), &mut ours, &mut alone);
}

/// Memory that many aids take.
fn many() {
    for aids in [30, PACK, 3000] {
        let [took, peak] = figures(us("pack", "0,1", aids))[..] else { panic!("two figures") };
        println!("{aids} aids: {:.1} MB at most, {:.1} ms an aid", peak / 1e3, took / aids as f64);
    }
}

/// A process of our own on these processors, with two threads for each, as the program has.
fn us(what: &str, processors: &str, aids: usize) -> Command {
    let mut command = Command::new("taskset");
    command.args(["-c", processors]).arg(std::env::current_exe().expect("this program")).arg(what);
    command.arg((2 * processors.split(',').count()).to_string()).arg(aids.to_string());
    command
}

fn python() -> Command {
    let mut command = Command::new(Path::new(ROOT).join("tests/.python/bin/python"));
    command.arg(Path::new(ROOT).join("tests/oracles/set_again.py"));
    command
}

/// The figures that a process prints.
fn figures(mut command: Command) -> Vec<f64> {
    let output = command.output().expect("it runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let text = String::from_utf8_lossy(&output.stdout);
    text.split_whitespace().map(|word| word.parse().expect("a number")).collect()
}

fn middle(times: &mut [f64]) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

fn tell(what: &str, ours: &mut [f64], theirs: &mut [f64]) {
    let (one, other) = (middle(ours), middle(theirs));
    println!(
        "{what}: {one:.1} ms against {other:.1} ms, {:.2} (best {:.1} and {:.1})",
        one / other,
        ours[0],
        theirs[0]
    );
}
