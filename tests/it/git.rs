//! Git shows and merges policies by what they say: set up, merged, rebased, picked, told, in repositories of real git.
//! What git does with the answers is git's own; which answers it gets is this project's own decision.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::commands::{run, told, ward};

/// A repository with its own home, its own clock and nobody's configuration.
struct Repository {
    folder: tempfile::TempDir,
    program: PathBuf,
}

const NAME: &str = "Türen & Flure.ppe";

impl Repository {
    /// With a policy under a name with blanks and an umlaut, set up by a program of this path.
    fn new(program: &Path) -> Repository {
        let repository = Repository { folder: ward(), program: program.to_path_buf() };
        repository.git(&["init", "-q", "-b", "main"]);
        let (status, out, err) = repository.anteroom(&["git-setup"]);
        assert_eq!((status, err.as_str()), (0, ""), "{out}");
        repository.write(NAME, &policy());
        repository.commit("The first edition");
        repository
    }

    fn ours() -> Repository {
        Repository::new(Path::new(env!("CARGO_BIN_EXE_anteroom")))
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    fn write(&self, name: &str, text: &str) {
        fs::create_dir_all(self.path(name).parent().unwrap()).unwrap();
        fs::write(self.path(name), text).unwrap();
    }

    fn read(&self, name: &str) -> String {
        fs::read_to_string(self.path(name)).unwrap()
    }

    fn calm(&self, command: &mut Command) -> (i32, String, String) {
        command.current_dir(self.folder.path()).env("HOME", self.folder.path()).env("LC_ALL", "C.UTF-8");
        for (key, value) in [
            ("GIT_CONFIG_GLOBAL", "/dev/null"),
            ("GIT_CONFIG_NOSYSTEM", "1"),
            ("GIT_AUTHOR_NAME", "A Nurse"),
            ("GIT_AUTHOR_EMAIL", "nurse@hospital.example"),
            ("GIT_COMMITTER_NAME", "A Nurse"),
            ("GIT_COMMITTER_EMAIL", "nurse@hospital.example"),
            ("GIT_AUTHOR_DATE", "2026-11-02T08:00:00Z"),
            ("GIT_COMMITTER_DATE", "2026-11-02T08:00:00Z"),
            ("GIT_EDITOR", "true"),
            ("GIT_PAGER", "cat"),
        ] {
            command.env(key, value);
        }
        told(command.output().expect("git is installed: tests/setup sees to it"))
    }

    fn try_git(&self, arguments: &[&str]) -> (i32, String, String) {
        self.calm(Command::new("git").args(arguments))
    }

    fn git(&self, arguments: &[&str]) -> String {
        let (status, out, err) = self.try_git(arguments);
        assert_eq!(status, 0, "git {arguments:?}: {out}{err}");
        out
    }

    fn anteroom(&self, arguments: &[&str]) -> (i32, String, String) {
        self.calm(Command::new(&self.program).args(arguments))
    }

    fn commit(&self, message: &str) {
        self.git(&["add", "-A"]);
        self.git(&["commit", "-q", "-m", message]);
    }

    /// Two branches from `main`, each with its changes to the policy; the first is at hand.
    fn branches(&self, ours: &[(&str, &str)], theirs: &[(&str, &str)]) {
        for (branch, changes) in [("theirs", theirs), ("ours", ours)] {
            self.git(&["switch", "-q", "-c", branch, "main"]);
            self.write(NAME, &changed(&policy(), changes));
            self.commit(branch);
        }
    }
}

fn changed(text: &str, changes: &[(&str, &str)]) -> String {
    changes.iter().fold(text.to_string(), |text, (from, to)| {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text.replace(from, to)
    })
}

/// The policy that `start` writes, with two cleanings at the end.
fn policy() -> String {
    let folder = ward();
    run(&["start", "."], folder.path());
    let text = fs::read_to_string(folder.path().join("first-policy.ppe")).unwrap();
    let soap = "  wearer cleans hands with soap and water for 40 seconds\n";
    changed(&text, &[(soap, &format!("  wearer cleans hands with hand rub for 30 seconds\n{soap}"))])
}

const GOWN: (&str, &str) = ("off gown by ties, rolling it inside out, into", "off gown by ties into");
const RUB: (&str, &str) = ("20 seconds\n  wearer takes off gown", "25 seconds\n  wearer takes off gown");

#[test]
fn neighbouring_steps_are_merged_rebased_and_picked() {
    let both = changed(&policy(), &[RUB, GOWN]);
    for how in [&["merge", "-q", "--no-edit", "theirs"][..], &["rebase", "-q", "theirs"], &["cherry-pick", "theirs"]] {
        let repository = Repository::ours();
        repository.branches(&[RUB], &[GOWN]);
        let (status, out, err) = repository.try_git(how);
        assert_eq!(status, 0, "{how:?}: {out}{err}");
        assert_eq!(repository.read(NAME), both, "{how:?}");
        assert_eq!(repository.git(&["status", "--porcelain"]), "", "{how:?}: nothing is left lying about");
        // Git by itself cannot.
        repository.git(&["config", "--local", "--unset", "merge.anteroom.driver"]);
        repository.git(&["switch", "-q", "-C", "again", "main"]);
        repository.write(NAME, &changed(&policy(), &[RUB]));
        repository.commit("again");
        assert_ne!(repository.try_git(&["merge", "-q", "theirs"]).0, 0);
    }
}

#[test]
fn a_conflict_is_marked_told_and_can_be_decided() {
    let repository = Repository::ours();
    repository.branches(&[GOWN], &[("off gown by ties", "off gown by inside"), ("edition 1", "edition 2")]);
    let (status, out, err) = repository.try_git(&["merge", "theirs"]);
    assert_eq!(status, 1, "{out}{err}");
    assert!(out.contains(&format!("CONFLICT (content): Merge conflict in {NAME}")), "{out}");
    assert!(
        err.contains(
            "1 place to decide; all else is merged.\n  Changed on both sides: “wearer takes off gown by ties into"
        ),
        "{err}"
    );
    let block = "<<<<<<< HEAD\n  wearer takes off gown by ties into clinical waste\n=======\n  wearer takes off gown by \
                 inside, rolling it inside out, into clinical waste\n>>>>>>> theirs\n";
    let text = repository.read(NAME);
    let old = "  wearer takes off gown by ties, rolling it inside out, into clinical waste\n";
    assert_eq!(text, changed(&policy(), &[(old, block), ("edition 1", "edition 2")]));
    let (status, out, _) = repository.anteroom(&["check", NAME]);
    assert!(status == 1 && out.contains("<<<<<<< HEAD"), "the file opens, and the mark is told: {out}");
    repository.write(NAME, &changed(&policy(), &[GOWN, ("edition 1", "edition 2")]));
    repository.commit("Decided");
    assert_eq!(repository.git(&["status", "--porcelain"]), "");
}

#[test]
fn a_danger_that_neither_side_had_stops_the_merge_and_says_why() {
    let rub = "  wearer cleans hands with hand rub for 30 seconds\n";
    let soap = "  wearer cleans hands with soap and water for 40 seconds\n";
    let repository = Repository::ours();
    repository.branches(&[(rub, "")], &[(soap, "")]);
    for branch in ["ours", "theirs"] {
        repository.git(&["switch", "-q", branch]);
        let (status, out, _) = repository.anteroom(&["check", NAME]);
        assert_eq!(status, 0, "{branch}: {out}");
    }
    let (status, _, err) = repository.try_git(&["merge", "-q", "ours"]);
    assert_eq!(status, 1, "{err}");
    assert!(err.contains("fit together as text, but not as a procedure"), "{err}");
    assert!(
        err.contains("DANGER in Türen & Flure.ppe") && err.contains("No hand hygiene after the last item"),
        "{err}"
    );
    let statement = "  wearer takes off gown by ties, rolling it inside out, into clinical waste\n";
    let block = format!(
        "<<<<<<< DANGER that neither side had: No hand hygiene after the last item\n{statement}=======\n{statement}>>>>>>> the same, to be put right\n"
    );
    assert_eq!(repository.read(NAME), changed(&policy(), &[(rub, ""), (soap, ""), (statement, &block)]));
    let unmerged = repository.git(&["-c", "core.quotePath=false", "status", "--porcelain"]);
    assert_eq!(unmerged, format!("UU \"{NAME}\"\n"));
}

#[test]
fn a_danger_that_a_side_had_already_stops_nothing() {
    let repository = Repository::ours();
    let last = "  wearer cleans hands with hand rub for 30 seconds\n  wearer cleans hands with soap and water for 40 seconds\n";
    repository.branches(&[(last, "")], &[("edition 1", "edition 2")]);
    assert_eq!(repository.anteroom(&["check", NAME]).0, 1);
    repository.git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(repository.read(NAME), changed(&policy(), &[(last, ""), ("edition 1", "edition 2")]));
}

#[test]
fn a_warning_that_neither_side_had_is_told_and_stops_nothing() {
    let repository = Repository::ours();
    let base = changed(
        &policy(),
        &[(
            "20 seconds\n  wearer takes off gown",
            "20 seconds\n  wearer cleans hands with soap and water for 60 seconds\n  wearer takes off gown",
        )],
    );
    repository.write(NAME, &base);
    repository.commit("Twice");
    let cleanings = [
        "  wearer cleans hands with hand rub for 20 seconds\n  wearer cleans hands with soap",
        "  wearer cleans hands with soap and water for 60 seconds\n",
    ];
    for (branch, from, to) in [("theirs", cleanings[0], "  wearer cleans hands with soap"), ("ours", cleanings[1], "")]
    {
        repository.git(&["switch", "-q", "-c", branch, "main"]);
        repository.write(NAME, &changed(&base, &[(from, to)]));
        repository.commit(branch);
        assert_eq!(repository.anteroom(&["check", NAME]).0, 0, "{branch}");
    }
    let (status, _, err) = repository.try_git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(status, 0, "{err}");
    assert!(
        err.contains("has a WARNING that neither side had:\n  Hands not cleaned after the gloves come off\n"),
        "{err}"
    );
    assert_eq!(repository.anteroom(&["check", NAME]).0, 1);
}

/// Two branches that were merged into one another have two texts that both began with; git merges these first.
#[test]
fn branches_that_crossed_before_are_merged_by_statement_too() {
    let repository = Repository::ours();
    let soap = ("soap and water for 40", "soap and water for 50");
    repository.branches(&[RUB], &[GOWN]);
    repository.git(&["branch", "ours-before", "ours"]);
    repository.git(&["merge", "-q", "--no-edit", "theirs"]);
    repository.git(&["switch", "-q", "theirs"]);
    repository.git(&["merge", "-q", "--no-edit", "ours-before"]);
    repository.write(NAME, &changed(&policy(), &[RUB, GOWN, soap]));
    repository.commit("Soap");
    repository.git(&["switch", "-q", "ours"]);
    repository.write(NAME, &changed(&policy(), &[RUB, GOWN, ("30 seconds", "35 seconds")]));
    repository.commit("Rub");
    let (status, out, err) = repository.try_git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(status, 0, "{out}{err}");
    assert_eq!(repository.read(NAME), changed(&policy(), &[RUB, GOWN, soap, ("30 seconds", "35 seconds")]));
}

/// On a server there is no folder: `git merge-tree` merges all the same.
#[test]
fn a_merge_without_a_folder_is_made_and_says_what_it_could_not_look_at() {
    let repository = Repository::ours();
    let (_, door) = with_kit(&repository);
    for (branch, change) in [("theirs", GOWN), ("ours", RUB)] {
        repository.git(&["switch", "-q", "-c", branch, "main"]);
        repository.write("ward/door.ppe", &changed(&door, &[change]));
        repository.commit(branch);
    }
    repository.git(&["switch", "-q", "--orphan", "empty"]);
    fs::write(repository.path(".git/attributes"), "*.ppe merge=anteroom\n").unwrap();
    let (status, out, err) = repository.try_git(&[
        "-c",
        "core.attributesFile=.git/attributes",
        "merge-tree",
        "--write-tree",
        "ours",
        "theirs",
    ]);
    assert_eq!(status, 0, "{out}{err}");
    assert!(err.contains("uses files that could not be had here: what they say is not looked at."), "{err}");
    let merged = repository.git(&["show", &format!("{}:ward/door.ppe", out.trim())]);
    assert_eq!(merged, changed(&door, &[RUB, GOWN]));
}

#[test]
fn a_policy_renamed_on_one_side_is_merged_under_its_new_name() {
    let repository = Repository::ours();
    repository.branches(&[RUB], &[GOWN]);
    fs::create_dir(repository.path("Räume")).unwrap();
    repository.git(&["mv", NAME, "Räume/Doors and halls.ppe"]);
    repository.commit("Renamed");
    repository.git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(repository.read("Räume/Doors and halls.ppe"), changed(&policy(), &[RUB, GOWN]));
    assert!(!repository.path(NAME).exists());
}

#[test]
fn the_files_that_a_policy_uses_are_read_from_its_folder_and_named() {
    let repository = Repository::ours();
    let text = policy();
    let at = text.find("item gown").unwrap();
    let until = text.find("note Who wears what").unwrap();
    repository.write("ward/kit.ppe", &text[at..until]);
    let uses = format!("{}use \"kit.ppe\"\n\n{}", &text[..at], &text[until..]);
    repository.write("ward/door.ppe", &uses);
    repository.commit("Kit of its own");
    for (branch, change) in [("theirs", GOWN), ("ours", RUB)] {
        repository.git(&["switch", "-q", "-c", branch, "main"]);
        repository.write("ward/door.ppe", &changed(&uses, &[change]));
        repository.commit(branch);
    }
    let (status, _, err) = repository.try_git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(status, 0, "{err}");
    assert!(err.contains("ward/door.ppe is checked with ward/kit.ppe as they are in this folder now."), "{err}");
    assert_eq!(repository.read("ward/door.ppe"), changed(&uses, &[RUB, GOWN]));
}

#[test]
fn a_program_in_a_folder_with_blanks_and_quotes_is_found_and_one_that_has_gone_loses_nothing() {
    let tools = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).unwrap();
    let program = tools.path().join("nurse's own tools/anteroom (new)");
    fs::create_dir_all(program.parent().unwrap()).unwrap();
    fs::hard_link(env!("CARGO_BIN_EXE_anteroom"), &program)
        .or_else(|_| fs::copy(env!("CARGO_BIN_EXE_anteroom"), &program).map(|_| ()))
        .unwrap();
    let repository = Repository::new(&program);
    repository.branches(&[RUB], &[GOWN]);
    repository.git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(repository.read(NAME), changed(&policy(), &[RUB, GOWN]));
    repository.git(&["reset", "-q", "--hard", "HEAD~1"]);
    fs::remove_file(&program).unwrap();
    let (status, out, _) = repository.try_git(&["merge", "theirs"]);
    assert!(status == 1 && out.contains("CONFLICT"), "{out}");
    let text = repository.read(NAME);
    assert!(
        text.contains("<<<<<<<") && text.contains("25 seconds") && text.contains("by ties into"),
        "by lines: {text}"
    );
    repository.git(&["merge", "--abort"]);
    let log = repository.git(&["log", "-p", "-1", "--format="]);
    assert!(log.contains("+  wearer cleans hands with hand rub for 25 seconds"), "{log}");
}

#[test]
fn what_is_no_text_of_ours_is_merged_line_by_line() {
    let repository = Repository::ours();
    let latin = |text: &str| text.bytes().chain(*b"note caf\xe9\n").collect::<Vec<u8>>();
    fs::write(repository.path(NAME), latin(&policy())).unwrap();
    repository.commit("In old letters");
    for (branch, change) in [("theirs", ("edition 1", "edition 2")), ("ours", GOWN)] {
        repository.git(&["switch", "-q", "-c", branch, "main"]);
        fs::write(repository.path(NAME), latin(&changed(&policy(), &[change]))).unwrap();
        repository.commit(branch);
    }
    let (status, _, err) = repository.try_git(&["merge", "-q", "--no-edit", "theirs"]);
    assert_eq!(status, 0, "{err}");
    assert!(
        err.contains("is merged line by line, and not checked: line ") && err.contains("not saved as UTF-8"),
        "{err}"
    );
    assert_eq!(
        fs::read(repository.path(NAME)).unwrap(),
        latin(&changed(&policy(), &[("edition 1", "edition 2"), GOWN]))
    );
}

#[test]
fn the_log_reads_policies_out_and_layout_is_no_change() {
    let repository = Repository::ours();
    let untidy =
        changed(&policy(), &[GOWN]).replace("  wearer cleans", "• Wearer cleans").replace("seconds\n", "secs.\n");
    repository.write(NAME, &untidy);
    repository.commit("One step, and much layout");
    for show in [&["log", "-p", "-1", "--format="][..], &["show", "--format="]] {
        let told = repository.git(show);
        let lines: Vec<&str> = told.lines().filter(|line| line.starts_with(['+', '-'])).skip(2).collect();
        let old = "-  wearer takes off gown by ties, rolling it inside out, into clinical waste bag";
        assert_eq!(lines, [old, "+  wearer takes off gown by ties into clinical waste bag"], "{told}");
        assert!(told.contains(" sequence \"Taking off\" for Contact, in doorway"), "{told}");
    }
}

#[test]
fn setting_up_keeps_what_is_there_is_done_once_and_can_be_undone() {
    let repository = Repository { folder: ward(), program: env!("CARGO_BIN_EXE_anteroom").into() };
    repository.git(&["init", "-q", "-b", "main"]);
    repository.git(&["config", "merge.other.driver", "true"]);
    let own = b"# ours\r\n*.ppe text eol=lf\r\n*.caf\xe9 binary".to_vec();
    let attributes = repository.path(".gitattributes");
    fs::write(&attributes, &own).unwrap();
    let config = |repository: &Repository| repository.git(&["config", "--local", "--list"]);
    let before = config(&repository);
    fs::create_dir(repository.path("deep")).unwrap();
    let (status, out, _) = repository.anteroom(&["git-setup", "deep"]);
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("Each person who works on the policies runs this once: anteroom git-setup"), "{out}");
    let once = fs::read(&attributes).unwrap();
    assert!(once.starts_with(&own) && once.ends_with(b"\r\n*.ppe diff=anteroom merge=anteroom\r\n"), "{once:?}");
    let set = config(&repository);
    let checked = repository.git(&["check-attr", "diff", "merge", "eol", "--", "deep/a b.ppe"]);
    assert_eq!(checked.matches(": anteroom").count(), 2, "{checked}");
    let (status, out, _) = repository.anteroom(&["git-setup"]);
    assert!(status == 0 && out.contains(".gitattributes says so already."), "{out}");
    assert_eq!((fs::read(&attributes).unwrap(), config(&repository)), (once, set));
    assert_eq!(repository.anteroom(&["git-setup", "--undo"]).0, 0);
    assert_eq!(fs::read(&attributes).unwrap(), [own.as_slice(), b"\r\n"].concat());
    assert_eq!(config(&repository), before);
    assert_eq!(repository.anteroom(&["git-setup", "--undo"]).0, 0, "a second time there is nothing to do");
}

#[test]
fn setting_up_says_what_is_in_its_way() {
    let repository = Repository { folder: ward(), program: env!("CARGO_BIN_EXE_anteroom").into() };
    let (status, _, err) = repository.anteroom(&["git-setup"]);
    assert_eq!((status, err.as_str()), (2, "Git is not set up in .: this folder is in no git repository.\n"));
    let (_, _, err) = repository.anteroom(&["git-setup", "nowhere"]);
    assert_eq!(err, "Git is not set up in nowhere: there is no folder nowhere.\n");
    repository.git(&["init", "-q", "-b", "main"]);
    repository.write(".gitattributes", "*.ppe merge=binary\n");
    let (status, out, _) = repository.anteroom(&["git-setup"]);
    assert!(status == 0 && out.contains("left as it is, since it says otherwise: merge is binary."), "{out}");
    assert_eq!(repository.read(".gitattributes"), "*.ppe merge=binary\n");
    fs::remove_file(repository.path(".gitattributes")).unwrap();
    repository.anteroom(&["git-setup"]);
    repository.anteroom(&["git-setup", "--undo"]);
    assert!(!repository.path(".gitattributes").exists(), "a file that this command made goes again");
    let (_, _, err) = told(
        Command::new(&repository.program)
            .arg("git-setup")
            .env("PATH", "/nowhere")
            .current_dir(repository.folder.path())
            .output()
            .unwrap(),
    );
    assert_eq!(err, "Git is not set up in .: the program git is not on this computer, or is not found.\n");
}

#[test]
fn the_difference_is_told_by_meaning_and_its_lines_on_demand() {
    let repository = Repository::ours();
    repository.write(NAME, &changed(&policy(), &[RUB]));
    let told = repository.git(&["diff"]);
    assert!(told.starts_with(&format!("{NAME}: what changed in meaning\n")), "{told}");
    assert!(told.contains("25 seconds") && !told.contains("@@"), "{told}");
    assert!(told.contains("Local codes, the manufacturers' instructions"), "{told}");
    let staged_or_not = [&["diff", "HEAD"][..], &["diff", "HEAD", "--", NAME]];
    staged_or_not
        .iter()
        .for_each(|how| assert_eq!(repository.git(how), told.replace(&format!("Before: :{NAME}"), "Before: HEAD")));
    let lines = repository.git(&["diff", "--no-ext-diff"]);
    assert!(lines.contains("+  wearer cleans hands with alcohol hand rub for 25 seconds"), "read out: {lines}");
    let lines = repository.git(&["diff", "--no-ext-diff", "--no-textconv"]);
    assert!(lines.contains("+  wearer cleans hands with hand rub for 25 seconds"), "as written: {lines}");
    repository.commit("More seconds");
    let between = repository.git(&["diff", "HEAD~1", "HEAD"]);
    assert!(between.contains("25 seconds") && between.contains("what changed in meaning"), "{between}");
    // A new policy has nothing to be compared with.
    repository.write("new.ppe", &policy());
    repository.git(&["add", "-A"]);
    let new = repository.git(&["diff", "--cached"]);
    assert!(new.contains("@@") && new.contains("+policy \"EXAMPLE: contact precautions\""), "{new}");
}

#[test]
fn a_policy_in_conflict_is_not_compared() {
    let repository = Repository::ours();
    repository.branches(&[GOWN], &[("off gown by ties", "off gown by inside")]);
    assert_eq!(repository.try_git(&["merge", "-q", "theirs"]).0, 1);
    assert!(
        repository
            .git(&["diff"])
            .contains("++<<<<<<< HEAD\n +  wearer takes off gown by ties into clinical waste bag\n")
    );
    let told = repository.git(&["diff", "--cached"]);
    assert!(told.starts_with(&format!("{NAME} is not merged yet: there are marks in it to decide.\n")), "{told}");
}

/// A policy with its kit in a file of its own: `ward/door.ppe`, `ward/kit.ppe`.
fn with_kit(repository: &Repository) -> (String, String) {
    let text = policy();
    let (at, until) = (text.find("item gown").unwrap(), text.find("note Who wears what").unwrap());
    let (kit, door) = (text[at..until].to_string(), format!("{}use \"kit.ppe\"\n\n{}", &text[..at], &text[until..]));
    repository.write("ward/kit.ppe", &kit);
    repository.write("ward/door.ppe", &door);
    repository.commit("Kit of its own");
    (kit, door)
}

#[test]
fn two_points_of_a_history_are_compared_with_the_files_of_their_time() {
    let repository = Repository::ours();
    let (kit, door) = with_kit(&repository);
    // The kit changes, and the policy's own file does not.
    repository.write(
        "ward/kit.ppe",
        &changed(&kit, &[("item gloves\n  covers hands\n", "item gloves\n  covers hands, arms\n")]),
    );
    repository.commit("Longer gloves");
    repository.write("ward/door.ppe", &changed(&door, &[GOWN]));
    let compare = |old: &str, new: &str| repository.anteroom(&["compare", old, new]);
    let (status, out, err) = compare("HEAD~1:ward/door.ppe", "HEAD:ward/door.ppe");
    assert_eq!((status, err.as_str()), (1, ""), "{out}");
    assert!(out.contains("gloves") && out.contains("HEAD~1:ward/door.ppe"), "{out}");
    assert_eq!(compare("HEAD:ward/door.ppe", "HEAD:ward/door.ppe").0, 0, "nothing changed");
    let (status, out, _) = compare("HEAD:ward", "ward");
    assert!(status == 1 && out.contains("gown"), "folders, and the folder now: {out}");
    // Git does not say which commit it compares with: what was taken is told, and how to choose.
    let told = repository.git(&["diff", "HEAD~1", "--", "ward/door.ppe"]);
    assert!(told.contains("Files that it uses: before as they are staged; after as in the folder."), "{told}");
    assert!(told.contains("anteroom compare 'HEAD~1:ward/door.ppe' 'ward/door.ppe'"), "{told}");
    // From a folder within, as people see it from there.
    let mut here = Command::new(&repository.program);
    let (status, out, err) = told_in(&repository, here.args(["compare", "HEAD:door.ppe", "door.ppe"]), "ward");
    assert_eq!((status, err.as_str()), (1, ""), "{out}");
    let (status, _, _) = told_in(
        &repository,
        Command::new(&repository.program).args(["compare", "HEAD:./door.ppe", "HEAD:../ward/door.ppe"]),
        "ward",
    );
    assert_eq!(status, 0);
}

fn told_in(repository: &Repository, command: &mut Command, folder: &str) -> (i32, String, String) {
    told(command.current_dir(repository.path(folder)).env("GIT_CONFIG_GLOBAL", "/dev/null").output().unwrap())
}

#[test]
fn what_cannot_be_had_from_a_history_is_refused_in_words() {
    let repository = Repository::ours();
    with_kit(&repository);
    repository.write("ward/lost.ppe", "use \"../kit.ppe\"\n");
    repository.write("ward/caf.ppe", "policy \"A\"\n");
    fs::write(repository.path("ward/caf.ppe"), b"policy \"caf\xe9\"\n").unwrap();
    std::os::unix::fs::symlink("door.ppe", repository.path("ward/link.ppe")).unwrap();
    fs::write(repository.path("ward/huge.ppe"), "note x\n".repeat(400_000)).unwrap();
    repository.commit("Odd ones");
    fs::write(repository.path("odd:name.ppe"), policy()).unwrap();
    for (word, why) in [
        ("HEAD~9:ward/door.ppe", "the history has no point called HEAD~9."),
        ("--help:ward/door.ppe", "the history has no point called --help."),
        ("HEAD:ward/none.ppe", "there was no such file."),
        ("HEAD:../outside.ppe", "it lies outside the repository."),
        ("HEAD:/etc/passwd", "it lies outside the repository."),
        (
            "HEAD:ward/caf.ppe",
            "line 1, column 12 holds a letter that is not saved as UTF-8: save the file again as UTF-8.",
        ),
        ("HEAD:ward/link.ppe", "it was a link to another file then, and links are not followed."),
        ("HEAD:ward/huge.ppe", "it is too large for a policy: 2.7 MB, where 2 MB is the limit."),
    ] {
        let (status, out, err) = repository.anteroom(&["compare", "--", word, "odd:name.ppe"]);
        assert_eq!((status, out.as_str(), err.as_str()), (2, "", format!("{word} cannot be read: {why}\n").as_str()));
    }
    // A file that is there wins over a point of a history; what a policy may not use now, it might not use then.
    assert_eq!(repository.anteroom(&["compare", "odd:name.ppe", "odd:name.ppe"]).0, 0);
    let (_, out, _) = repository.anteroom(&["compare", "HEAD:ward/lost.ppe", "HEAD:ward/door.ppe"]);
    assert!(out.contains("One place of the old edition is not understood"), "{out}");
}
