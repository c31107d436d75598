//! Other people's programs, which compute or read the same thing as ours. What they need, `tests/setup` installs; a
//! missing one is a failure, never a test left out.

use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

/// Runs a Python script of `tests/oracles` with the pinned libraries; its standard output, or a failed test.
pub fn python(script: &str, arguments: &[&str], input: &str) -> String {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let python = tests.join(".python/bin/python");
    assert!(python.exists(), "the tests' Python is not there: run bash tests/setup");
    let script = tests.join("oracles").join(script);
    run(Command::new(python).arg("-B").arg(script).args(arguments), input)
}

/// Runs a program that a package of `tests/setup` brings: `pdftotext`, `qpdf`.
pub fn program(name: &str, arguments: &[&str]) -> String {
    run(Command::new(name).args(arguments), "")
}

fn run(command: &mut Command, input: &str) -> String {
    let spawned = command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn();
    let mut child = spawned.unwrap_or_else(|error| panic!("{command:?}: {error}; run bash tests/setup"));
    let mut stdin = child.stdin.take().unwrap();
    let input = input.to_string();
    let writer = std::thread::spawn(move || stdin.write_all(input.as_bytes()));
    let output = child.wait_with_output().unwrap();
    let _ = writer.join().unwrap();
    let told = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{command:?} ended with {}: {told}", output.status);
    String::from_utf8_lossy(&output.stdout).into_owned()
}
