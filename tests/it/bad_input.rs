//! Bad input: a clear message, one for each mistake, and nothing lost. The list is the issue's own; the ways in which
//! files and disks fail are the operating system's (file permissions, tmpfs, resource limits, signals).

use std::fs;
use std::os::unix::fs::PermissionsExt;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

use crate::commands::{run, told, ward};

/// The policy that `start` writes, which has no finding at DANGER or WARNING; faults are put into it one at a time.
fn first_policy(ward: &Path) -> String {
    run(&["start", "."], ward);
    fs::read_to_string(ward.join("first-policy.ppe")).unwrap()
}

fn findings(ward: &Path, file: &str) -> Vec<Value> {
    let (status, out, err) = run(&["check", "--json", file], ward);
    assert!(status == 0 || status == 1, "{err}");
    let report: Value = serde_json::from_str(&out).unwrap();
    report["findings"].as_array().unwrap().clone()
}

/// Writes the first policy with `old` changed to `new`; the one finding that this brings, which must stand on the line
/// of `mark`, the last one that holds it.
fn fault(old: &str, new: &str, mark: &str) -> Value {
    let ward = ward();
    let policy = first_policy(ward.path());
    let before = findings(ward.path(), "first-policy.ppe");
    assert!(policy.contains(old), "the first policy no longer holds “{old}”");
    let faulty = policy.replacen(old, new, 1);
    fs::write(ward.path().join("faulty.ppe"), &faulty).unwrap();
    let after = findings(ward.path(), "faulty.ppe");
    let is_known = |finding: &&Value| {
        before.iter().any(|old| old["name"] == finding["name"] && old["sentence"] == finding["sentence"])
    };
    let new: Vec<&Value> = after.iter().filter(|finding| !is_known(finding)).collect();
    let titles: Vec<&Value> = after.iter().map(|finding| &finding["title"]).collect();
    assert_eq!(new.len(), 1, "one mistake, one message: {titles:?}");
    let line = faulty.lines().enumerate().filter(|(_, line)| line.contains(mark)).last().unwrap().0 + 1;
    assert_eq!(new[0]["line"], line, "{:?}", new[0]);
    new[0].clone()
}

#[test]
fn a_name_declared_twice() {
    let finding = fault("role wearer\n", "role wearer\nrole wearer\n", "role wearer");
    // The second one is the mistake; the first is shown beside it.
    assert_eq!(finding["name"], "reading twice");
}

#[test]
fn a_reference_to_nothing() {
    let finding = fault("puts on gown", "puts on gwon", "gwon");
    assert!(finding["message"].to_string().contains("gwon") || finding["title"].to_string().contains("gwon"));
    assert!(finding["way_out"].to_string().contains("gown"), "{finding}");
}

#[test]
fn a_step_outside_a_sequence() {
    fault("role wearer\n", "role wearer\nwearer checks gloves\n", "wearer checks gloves");
}

#[test]
fn a_hold_that_goes_back_to_nowhere() {
    fault("go back to \"Putting on\"", "go back to \"Puting on\"", "Puting on");
}

#[test]
fn two_otherwise() {
    let branch = "  if gown is soiled\n  wearer checks gown\n  otherwise\n  wearer checks gloves\n  otherwise and once more\n  end if\n";
    let branch = branch.replace(" and once more", "");
    let ward = ward();
    let policy = first_policy(ward.path());
    let step = "  wearer goes to doorway\n";
    let faulty = policy.replacen(step, &format!("{step}{branch}"), 1);
    fs::write(ward.path().join("faulty.ppe"), &faulty).unwrap();
    let lines: Vec<usize> =
        faulty.lines().enumerate().filter(|(_, line)| line.trim() == "otherwise").map(|(at, _)| at + 1).collect();
    let found = findings(ward.path(), "faulty.ppe");
    let at_second = found.iter().filter(|finding| finding["line"] == lines[1]).count();
    assert_eq!(at_second, 1, "{found:?}");
    assert!(found.iter().all(|finding| finding["line"] != lines[0]), "{found:?}");
}

#[test]
fn an_if_that_is_never_closed() {
    fault("  wearer goes to doorway\n", "  wearer goes to doorway\n  if gown is soiled\n", "if gown is soiled");
}

#[test]
fn a_date_that_does_not_exist() {
    let ward = ward();
    let policy = first_policy(ward.path());
    let line = policy.lines().find(|line| line.starts_with("review by")).unwrap();
    let finding = fault(line, "review by 30 February 2099", "30 February");
    assert!(
        finding["message"].to_string().contains("30 February 2099")
            || finding["title"].to_string().contains("30 February 2099")
    );
}

#[test]
fn a_unit_that_does_not_fit() {
    fault("for 40 seconds", "for 40 metres", "40 metres");
}

#[test]
fn text_that_is_not_utf_8_an_empty_file_and_50_megabytes() {
    let ward = ward();
    fs::write(ward.path().join("latin.ppe"), b"policy \"H\xf4pital\"\n").unwrap();
    let (status, out, err) = run(&["check", "latin.ppe"], ward.path());
    assert_eq!((status, out.as_str()), (2, ""));
    assert_eq!(
        err,
        "latin.ppe cannot be read: line 1, column 10 holds a letter that is not saved as UTF-8: save the file again as UTF-8.\n"
    );
    fs::write(ward.path().join("empty.ppe"), "").unwrap();
    let found = findings(ward.path(), "empty.ppe");
    assert_eq!(found.len(), 1, "{found:?}");
    fs::File::create(ward.path().join("huge.ppe")).unwrap().set_len(50 * 1024 * 1024).unwrap();
    let (status, _, err) = run(&["check", "huge.ppe"], ward.path());
    assert_eq!(status, 2);
    assert_eq!(err, "huge.ppe cannot be read: it is too large for a policy: 50 MB, where 2 MB is the limit.\n");
}

#[test]
fn one_file_that_cannot_be_read_hides_no_other() {
    let ward = ward();
    first_policy(ward.path());
    fs::create_dir(ward.path().join("folder")).unwrap();
    let (status, out, err) = run(&["check", "folder", "frist-policy.ppe", "first-policy.ppe"], ward.path());
    assert_eq!(status, 2);
    assert!(out.contains("first-policy.ppe, fingerprint "), "{out}");
    assert_eq!(
        err,
        "folder cannot be read: it is a folder: name a policy file in it.\n\
         frist-policy.ppe cannot be read: there is no such file; did you mean “first-policy.ppe”?\n"
    );
    let (_, out, _) = run(&["check", "--json", "folder", "first-policy.ppe"], ward.path());
    let report: Value = serde_json::from_str(&out).unwrap();
    assert_eq!(report["unread"][0]["file"], "folder");
}

/// As somebody with no rights here: root may read everything.
fn as_nobody(arguments: &[&str], ward: &Path) -> Output {
    let program = ward.join("anteroom");
    fs::copy(env!("CARGO_BIN_EXE_anteroom"), &program).unwrap();
    fs::set_permissions(ward, fs::Permissions::from_mode(0o755)).unwrap();
    let is_root = fs::metadata("/proc/self").is_ok_and(|about| std::os::unix::fs::MetadataExt::uid(&about) == 0);
    let mut command = match is_root {
        true => Command::new("setpriv"),
        false => Command::new(&program),
    };
    if is_root {
        command.args(["--reuid", "65534", "--regid", "65534", "--clear-groups"]).arg(&program);
    }
    command.args(arguments).current_dir(ward).stdin(Stdio::null()).output().unwrap()
}

#[test]
fn a_file_and_a_folder_without_permission() {
    let ward = ward();
    first_policy(ward.path());
    let locked = ward.path().join("locked.ppe");
    fs::copy(ward.path().join("first-policy.ppe"), &locked).unwrap();
    fs::set_permissions(&locked, fs::Permissions::from_mode(0o000)).unwrap();
    let (status, _, err) = told(as_nobody(&["check", "locked.ppe"], ward.path()));
    assert_eq!((status, err.as_str()), (2, "locked.ppe cannot be read: you have no permission to read it.\n"));
    fs::create_dir(ward.path().join("shut")).unwrap();
    fs::set_permissions(ward.path().join("shut"), fs::Permissions::from_mode(0o555)).unwrap();
    let (status, out, err) = told(as_nobody(&["print", "first-policy.ppe", "--out", "shut"], ward.path()));
    assert_eq!((status, out.as_str()), (2, ""), "nothing is done before the folder is known to be open");
    assert_eq!(err, "Nothing is printed: shut cannot be written to: you have no permission to write there.\n");
    let (status, _, err) = told(as_nobody(&["print", "first-policy.ppe", "--out", "first-policy.ppe"], ward.path()));
    assert_eq!(status, 2);
    assert_eq!(err, "Nothing is printed: first-policy.ppe cannot be written to: a file of that name is in the way.\n");
}

#[test]
fn tidy_leaves_a_file_that_it_may_not_change() {
    let ward = ward();
    let untidy = first_policy(ward.path()).replace("  covers", "covers");
    fs::write(ward.path().join("first-policy.ppe"), &untidy).unwrap();
    fs::set_permissions(ward.path().join("first-policy.ppe"), fs::Permissions::from_mode(0o444)).unwrap();
    let (status, _, err) = told(as_nobody(&["tidy", "first-policy.ppe"], ward.path()));
    assert_eq!(status, 2, "{err}");
    assert_eq!(fs::read_to_string(ward.path().join("first-policy.ppe")).unwrap(), untidy);
}

#[test]
fn a_file_in_pieces_of_every_kind_never_breaks_the_program() {
    let ward = ward();
    let policy = first_policy(ward.path());
    let odd = [
        policy.replace('\n', "\r\n"),
        policy.replace('\n', "\r"),
        policy.replace(' ', "\u{a0}"),
        policy.replace('"', "“"),
        policy.chars().rev().collect(),
        format!("{policy}\0\0\0"),
        "\u{202e}".repeat(1000),
        "\"".repeat(10_000),
        "if gown is soiled\n".repeat(2_000),
        "use \"odd.ppe\"\n".repeat(100),
        "wearer takes off ".repeat(20_000),
        ",\n".repeat(50_000),
    ];
    for (at, text) in odd.iter().enumerate() {
        fs::write(ward.path().join("odd.ppe"), text).unwrap();
        let (status, out, err) = run(&["check", "odd.ppe"], ward.path());
        assert!(status == 0 || status == 1, "text {at}: {status}, {err}");
        assert!(!out.is_empty(), "text {at} is answered");
    }
}

#[test]
fn a_procedure_built_to_explode_is_answered_and_said_not_to_be_played() {
    let ward = ward();
    let policy = first_policy(ward.path());
    let step = "  wearer goes to doorway\n";
    let within: String = (0..24).map(|at| format!("  if gown is torn in place {at}\n")).collect();
    let nested = format!("{step}{within}  wearer checks gown\n{}", "  end if\n".repeat(24));
    let long = format!("{step}{}", "  wearer checks gown\n".repeat(5_000));
    let drill = "  wearer cleans hands with soap and water for 40 seconds\n".repeat(3);
    let drills: String =
        (0..1_000).map(|at| format!("contingency \"Tear {at}\" when gown is torn\n{drill}  then carry on\n")).collect();
    let drills = format!("{drills}sequence \"After all\" for Contact, in doorway\n{step}");
    for (text, must) in
        [(nested, "Looked at:"), (long, "it has more than 4000 steps"), (drills, "contingencies lead to more")]
    {
        fs::write(ward.path().join("large.ppe"), policy.replacen(step, &text, 1)).unwrap();
        let (status, out, err) = run(&["check", "large.ppe"], ward.path());
        assert!(status == 0 || status == 1, "{err}");
        assert!(out.contains(must), "{out}");
    }
}

#[cfg(feature = "typeset")]
mod printing {
    use std::time::Duration;

    use super::*;
    use crate::commands::anteroom;

    /// Every PDF of the folder, by name.
    fn pdfs(folder: &Path) -> Vec<(String, Vec<u8>)> {
        let mut files: Vec<(String, Vec<u8>)> = fs::read_dir(folder)
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), fs::read(&path).unwrap()))
            .collect();
        files.sort();
        files
    }

    #[test]
    fn a_disk_that_is_full_in_the_middle_leaves_the_old_pdf_whole() {
        let ward = ward();
        first_policy(ward.path());
        let (status, _, err) = run(&["print", "first-policy.ppe", "--out", "before"], ward.path());
        assert_eq!(status, 0, "{err}");
        let old = b"%PDF-1.7 the old one".to_vec();
        let name = pdfs(&ward.path().join("before"))[0].0.clone();
        let program = env!("CARGO_BIN_EXE_anteroom");
        // A file system of a few pages, which takes the old file and not the whole of a new one.
        let script = format!(
            "mount -t tmpfs -o size=16k none small && cp old.pdf small/{name} && \
             {program} print first-policy.ppe --out small; status=$?; mkdir after; cp -a small/. after; exit $status"
        );
        fs::create_dir(ward.path().join("small")).unwrap();
        fs::write(ward.path().join("old.pdf"), &old).unwrap();
        let output =
            Command::new("unshare").args(["-rm", "bash", "-c", &script]).current_dir(ward.path()).output().unwrap();
        let (status, _, err) = told(output);
        assert_eq!(status, 2, "{err}");
        assert!(err.contains("is not written: the disk is full."), "{err}");
        assert_eq!(pdfs(&ward.path().join("after")), [(name, old)], "the old file is whole and nothing else is left");
    }

    #[test]
    fn a_file_larger_than_allowed_leaves_nothing_half_written() {
        let ward = ward();
        first_policy(ward.path());
        let program = env!("CARGO_BIN_EXE_anteroom");
        let script = format!("trap '' XFSZ; ulimit -f 4; exec {program} print first-policy.ppe");
        let output = Command::new("bash").args(["-c", &script]).current_dir(ward.path()).output().unwrap();
        let (status, _, err) = told(output);
        assert_eq!(status, 2, "{err}");
        assert!(err.contains("the file is larger than this computer allows"), "{err}");
        assert!(pdfs(&ward.path().join("out")).is_empty());
    }

    #[test]
    fn ctrl_c_leaves_whole_files_and_no_litter() {
        let ward = ward();
        let policy = first_policy(ward.path());
        let prints = "print poster of \"Taking off\"\n  on A3\n  read from 1.5 metres\n".repeat(30);
        fs::write(ward.path().join("many.ppe"), format!("{policy}{prints}")).unwrap();
        run(&["print", "many.ppe", "--out", "whole"], ward.path());
        let whole = pdfs(&ward.path().join("whole"));
        assert!(whole.len() > 10);
        let mut stopped = 0;
        for wait in [0, 20, 40, 80, 160, 320, 640, 1280] {
            let _ = fs::remove_dir_all(ward.path().join("out"));
            let mut child = anteroom(&["print", "many.ppe"], ward.path())
                .stdout(Stdio::null())
                .stderr(Stdio::null())
                .spawn()
                .unwrap();
            std::thread::sleep(Duration::from_millis(wait));
            let id = child.id().to_string();
            let _ = Command::new("kill").args(["-INT", &id]).status().unwrap();
            let status = child.wait().unwrap();
            stopped += usize::from(status.code() == Some(130));
            for (name, bytes) in pdfs_if_there(&ward.path().join("out")) {
                let same = whole.iter().any(|(known, known_bytes)| *known == name && *known_bytes == bytes);
                assert!(same, "{name} is not whole after {wait} ms");
            }
        }
        assert!(stopped > 0, "the program was never stopped in the middle");
    }

    fn pdfs_if_there(folder: &Path) -> Vec<(String, Vec<u8>)> {
        if folder.exists() { pdfs(folder) } else { Vec::new() }
    }
}

/// What cannot be read of document control is told as that, and not as missing too.
#[test]
fn an_edition_that_cannot_be_read() {
    let finding = fault("edition 1\n", "edition three point one\n", "edition three");
    assert_eq!(finding["name"], "reading line");
    let finding = fault("review by ", "review by the end of ", "review by");
    assert_eq!(finding["name"], "reading line");
}
