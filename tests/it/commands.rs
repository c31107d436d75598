//! Each command through the built program, as a person gives it.
//! What a shell, a manual reader and a JSON Schema validator make of it is asked of those programs themselves.

use std::fs;
use std::path::Path;
use std::process::{Command, Output, Stdio};

pub fn anteroom(arguments: &[&str], folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_anteroom"));
    command.args(arguments).current_dir(folder).stdin(Stdio::null()).env_remove("NO_COLOR").env("TERM", "xterm");
    command
}

/// Exit status, standard output and standard error.
pub fn run(arguments: &[&str], folder: &Path) -> (i32, String, String) {
    told(anteroom(arguments, folder).output().unwrap())
}

pub fn told(output: Output) -> (i32, String, String) {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).unwrap();
    (output.status.code().unwrap_or(-1), text(&output.stdout), text(&output.stderr))
}

pub fn ward() -> tempfile::TempDir {
    tempfile::tempdir().unwrap()
}

#[test]
fn start_writes_a_policy_once_and_never_over_another() {
    let ward = ward();
    let (status, out, _) = run(&["start", "new/ward"], ward.path());
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("anteroom check new/ward/first-policy.ppe"), "{out}");
    let written = ward.path().join("new/ward/first-policy.ppe");
    assert!(!fs::read_to_string(&written).unwrap().contains('{'), "the dates are filled in");
    fs::write(&written, "mine").unwrap();
    let (status, _, err) = run(&["start", "new/ward"], ward.path());
    assert_eq!(status, 2);
    assert_eq!(
        err,
        "new/ward/first-policy.ppe is not written: there is a file of that name already, and it is left as it is.\n"
    );
    assert_eq!(fs::read_to_string(&written).unwrap(), "mine");
}

#[test]
fn explain_lists_by_family_prints_a_page_and_guesses_a_wrong_name() {
    let ward = ward();
    let (status, list, _) = run(&["explain"], ward.path());
    assert_eq!(status, 0);
    for rule in anteroom::rules::ALL {
        let line = list.lines().find(|line| line.trim_start().starts_with(&rule.name().to_string()));
        assert!(line.is_some_and(|line| line.contains(rule.signal().word())), "{} is not listed", rule.name());
    }
    let (status, page, _) = run(&["explain", "order", "covered"], ward.path());
    assert_eq!(status, 0);
    assert!(
        page.starts_with("order covered (DANGER, law)\n") && !page.contains("```") && !page.contains("**"),
        "{page}"
    );
    assert!(page.contains("  >   wearer takes off gown by ties"), "the line with the fault is marked: {page}");
    let (_, same, _) = run(&["explain", "Order-Covered"], ward.path());
    assert_eq!(page, same);
    let (status, family, _) = run(&["explain", "touch"], ward.path());
    assert!(status == 0 && family.contains("touch near") && !family.contains("order covered"), "{family}");
    let (status, _, err) = run(&["explain", "order", "coverd"], ward.path());
    assert_eq!(status, 2);
    assert!(err.starts_with("There is no finding called “order coverd”. Did you mean “order covered”?\n"), "{err}");
}

#[test]
fn completions_are_understood_by_the_shell() {
    let ward = ward();
    let (status, script, _) = run(&["completions", "bash"], ward.path());
    assert_eq!(status, 0);
    fs::write(ward.path().join("completions"), &script).unwrap();
    let asked = "source ./completions; COMP_WORDS=(anteroom expl); COMP_CWORD=1; _anteroom anteroom expl anteroom; \
                 echo ${COMPREPLY[@]}";
    let answer = Command::new("bash").args(["-c", asked]).current_dir(ward.path()).output().unwrap();
    assert_eq!(String::from_utf8_lossy(&answer.stdout), "explain\n");
}

#[test]
fn the_manual_has_a_page_for_each_command() {
    let ward = ward();
    let (status, out, _) = run(&["manual", "man"], ward.path());
    assert_eq!(status, 0, "{out}");
    for page in ["anteroom", "anteroom-start", "anteroom-explain", "anteroom-manual"] {
        let text = fs::read_to_string(ward.path().join("man").join(format!("{page}.1"))).unwrap();
        assert!(text.contains(".TH"), "{page} is not in the form of a manual page");
    }
}

#[test]
fn words_that_mean_nothing_are_answered_plainly() {
    let ward = ward();
    let answers: [(&[&str], &str); 4] = [
        (&["explian"], "There is no command “explian”. Did you mean “explain”?\n"),
        (&["start"], "Something is missing: <FOLDER>.\n"),
        (&["completions", "bsh"], "“bsh” does not go with <SHELL>. Did you mean “bash”? Known: bash,"),
        (&["explain", "--loud"], "“--loud” means nothing here."),
    ];
    for (arguments, answer) in answers {
        let (status, out, err) = run(arguments, ward.path());
        assert_eq!((status, out.as_str()), (2, ""), "{arguments:?}");
        assert!(err.starts_with(answer), "{arguments:?}: {err}");
        assert!(err.ends_with("For help: anteroom --help\n"), "{err}");
    }
}

#[test]
fn a_reader_that_leaves_early_is_no_fault() {
    let program = env!("CARGO_BIN_EXE_anteroom");
    let command = format!("set -o pipefail; {program} completions bash | head -c 1; echo ${{PIPESTATUS[0]}}");
    let answer = Command::new("bash").args(["-c", &command]).output().unwrap();
    assert!(String::from_utf8_lossy(&answer.stdout).ends_with("0\n"), "{answer:?}");
    assert_eq!(String::from_utf8_lossy(&answer.stderr), "");
}

#[test]
fn an_answer_that_nobody_gets_is_a_run_that_failed() {
    let ward = ward();
    let full = fs::File::create("/dev/full").unwrap();
    let output = anteroom(&["schema"], ward.path()).stdout(full).output().unwrap();
    let (status, _, err) = told(output);
    assert_eq!((status, err.as_str()), (2, "The answer cannot be written: the disk is full.\n"));
}
