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
    // What only git calls is not offered.
    for (word, offered) in [("expl", "explain\n"), ("git-", "git-setup\n")] {
        let asked = format!(
            "source ./completions; COMP_WORDS=(anteroom {word}); COMP_CWORD=1; _anteroom anteroom {word} anteroom; \
             echo ${{COMPREPLY[@]}}"
        );
        let answer = Command::new("bash").args(["-c", &asked]).current_dir(ward.path()).output().unwrap();
        assert_eq!(String::from_utf8_lossy(&answer.stdout), offered);
    }
}

#[test]
fn the_manual_has_a_page_for_each_command() {
    let ward = ward();
    let (status, out, _) = run(&["manual", "man"], ward.path());
    assert_eq!(status, 0, "{out}");
    for page in ["anteroom", "anteroom-start", "anteroom-explain", "anteroom-manual", "anteroom-release-freeze"] {
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

/// The policy that `start` writes, changed so that a glove which lies over the sleeve comes off after the gown,
/// and nothing cleans the hands at the end.
fn gown_before_gloves(ward: &Path) -> String {
    run(&["start", "."], ward);
    let policy = fs::read_to_string(ward.join("first-policy.ppe")).unwrap();
    let gloves = "  wearer takes off gloves by cuff into clinical waste\n    caution \"The outside of the gloves is contaminated.\"\n";
    let gown = "  wearer takes off gown by ties, rolling it inside out, into clinical waste\n";
    assert!(policy.contains(gloves) && policy.contains(gown));
    let policy = policy.replace(gown, "GLOVES").replace(gloves, gown).replace("GLOVES", gloves);
    let policy = policy.replace("  wearer cleans hands with soap and water for 40 seconds\n", "");
    fs::write(ward.join("gown-first.ppe"), &policy).unwrap();
    policy
}

#[test]
fn check_finds_nothing_grave_in_the_first_policy() {
    let ward = ward();
    run(&["start", "."], ward.path());
    let (status, out, err) = run(&["check", "first-policy.ppe"], ward.path());
    assert_eq!((status, err.as_str()), (0, ""), "{out}");
    assert!(out.contains("Local codes, the manufacturers' instructions"), "{out}");
    assert!(out.contains("Looked at:") && out.contains("Not looked at:"), "{out}");
    let lower = out.to_lowercase();
    assert!(!lower.contains("safe") && !lower.contains("no errors"), "{out}");
}

#[test]
fn check_tells_what_it_finds_and_where() {
    let ward = ward();
    let policy = gown_before_gloves(ward.path());
    let (status, out, _) = run(&["check", "gown-first.ppe"], ward.path());
    assert_eq!(status, 1);
    let line = 1 + policy.lines().position(|line| line.contains("takes off gown")).unwrap();
    assert!(out.contains(&format!("WARNING in gown-first.ppe, line {line}, column 3: ")), "{out}");
    assert!(out.contains("To read more: anteroom explain order covered"), "{out}");
    assert!(out.contains("DANGER in gown-first.ppe") && out.contains("1 at DANGER and 1 at WARNING"), "{out}");
    assert!(!out.contains(['│', '╭', '\u{1b}']), "plain sentences where it is no terminal: {out}");
}

#[test]
fn check_says_the_same_as_json_by_its_published_schema() {
    let ward = ward();
    gown_before_gloves(ward.path());
    let (status, json, _) = run(
        &["check", "--json", "--today", "2026-12-01", "gown-first.ppe", "first-policy.ppe", "none.ppe"],
        ward.path(),
    );
    assert_eq!(status, 2, "one of the files is not there");
    let (_, schema, _) = run(&["schema"], ward.path());
    let schema_file = ward.path().join("schema.json");
    fs::write(&schema_file, schema).unwrap();
    // The reference implementation of JSON Schema 2020-12 in Python.
    assert_eq!(crate::oracle::python("schema.py", &[schema_file.to_str().unwrap()], &json), "valid\n");
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let finding =
        report["findings"].as_array().unwrap().iter().find(|finding| finding["name"] == "order covered").unwrap();
    assert_eq!(
        (&finding["signal"], &finding["file"], &finding["column"]),
        (&"WARNING".into(), &"gown-first.ppe".into(), &3.into())
    );
    assert_eq!(report["policies"][0]["today"], "2026-12-01");
    assert_eq!(report["unread"][0]["file"], "none.ppe");
    for field in
        ["title", "message", "way_out", "case", "chain", "related", "source", "sentence", "end_line", "end_column"]
    {
        assert!(!finding[field].is_null() || field == "source", "{field} is missing");
    }
    // The schema has teeth: a report without its findings is none.
    let mut broken = report.clone();
    broken.as_object_mut().unwrap().remove("findings");
    let verdict = crate::oracle::python("schema.py", &[schema_file.to_str().unwrap()], &broken.to_string());
    assert!(verdict.contains("findings"), "{verdict}");
}

#[test]
fn check_compares_dates_with_the_day_it_is_given() {
    let ward = ward();
    run(&["start", "."], ward.path());
    let names = |today: &str| {
        let (_, json, _) = run(&["check", "--json", "--today", today, "first-policy.ppe"], ward.path());
        let report: serde_json::Value = serde_json::from_str(&json).unwrap();
        let names = report["findings"].as_array().unwrap().iter().map(|finding| finding["name"].to_string());
        names.collect::<Vec<_>>()
    };
    let late = names("2099-01-01");
    assert!(late.iter().any(|name| name.contains("paper ")), "the review date has passed: {late:?}");
    assert_ne!(late, names(&jiff::ZonedDateTime::now().date().to_string()));
}

#[test]
fn check_of_two_policies_tells_a_shared_fault_once() {
    let ward = ward();
    run(&["start", "."], ward.path());
    let policy = fs::read_to_string(ward.path().join("first-policy.ppe")).unwrap();
    fs::write(ward.path().join("shared.ppe"), "wobbly line of shared items\n").unwrap();
    for name in ["a.ppe", "b.ppe"] {
        fs::write(ward.path().join(name), format!("{policy}use \"shared.ppe\"\n")).unwrap();
    }
    let (_, json, _) = run(&["check", "--json", "a.ppe", "b.ppe"], ward.path());
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let shared = report["findings"].as_array().unwrap().iter().filter(|finding| finding["file"] == "shared.ppe");
    assert_eq!(shared.count(), 1, "{json}");
}

#[test]
fn tidy_lays_out_and_says_what_is_not_tidy() {
    let ward = ward();
    run(&["start", "."], ward.path());
    let file = ward.path().join("first-policy.ppe");
    let tidy = fs::read_to_string(&file).unwrap();
    assert_eq!(run(&["tidy", "--check", "first-policy.ppe"], ward.path()).0, 0, "the first policy is tidy");
    let untidy = tidy.replace("  covers hands", "covers    HANDS").replace('\n', "\r\n");
    fs::write(&file, &untidy).unwrap();
    let (status, out, _) = run(&["tidy", "--check", "first-policy.ppe"], ward.path());
    assert_eq!(status, 1);
    assert_eq!(out, "first-policy.ppe is not tidy. To lay it out: anteroom tidy first-policy.ppe\n");
    assert_eq!(fs::read_to_string(&file).unwrap(), untidy, "--check changes nothing");
    let (status, out, _) = run(&["tidy", "first-policy.ppe"], ward.path());
    assert_eq!((status, out.as_str()), (0, "first-policy.ppe is laid out anew.\n"));
    assert_eq!(fs::read_to_string(&file).unwrap(), tidy);
    let names = fs::read_dir(ward.path()).unwrap().count();
    assert_eq!(names, 1, "nothing else is left in the folder");
}

#[test]
fn a_person_gets_pictures_on_a_terminal_and_plain_sentences_on_request() {
    let ward = ward();
    gown_before_gloves(ward.path());
    // script(1) of util-linux gives the program a terminal of its own.
    let on_terminal = |command: &str, no_colour: bool| {
        let mut script = Command::new("script");
        let command = format!("{} {command}", env!("CARGO_BIN_EXE_anteroom"));
        script.args(["-qec", &command, "/dev/null"]).current_dir(ward.path()).stdin(Stdio::null()).env("TERM", "xterm");
        script.env_remove("NO_COLOR").env("COLUMNS", "90");
        if no_colour {
            script.env("NO_COLOR", "1");
        }
        let (status, out, _) = told(script.output().unwrap());
        (status, out.replace("\r\n", "\n"))
    };
    let (status, drawn) = on_terminal("check gown-first.ppe", false);
    assert_eq!(status, 1);
    assert!(drawn.contains("╭") && drawn.contains("\u{1b}[") && drawn.contains(" DANGER "), "{drawn}");
    let (_, grey) = on_terminal("check gown-first.ppe", true);
    assert!(grey.contains("╭") && !grey.contains('\u{1b}'), "{grey}");
    assert!(grey.lines().all(|line| line.chars().count() <= 90), "nothing runs over the edge: {grey}");
    let (_, plain) = on_terminal("check --plain gown-first.ppe", false);
    assert!(!plain.contains(['╭', '\u{1b}']), "{plain}");
}

#[test]
fn a_breakdown_is_told_as_the_programs_own_fault() {
    let told = anteroom::faces::cli::own_fault("panicked at src/walk/play.rs:1:1:\nindex out of range");
    assert!(told.contains("This is a fault of the program, not of your policy"), "{told}");
    assert!(told.contains("Please send your policy file") && told.contains("src/walk/play.rs:1:1"), "{told}");
}
