//! Editions that are frozen, signed and put in force. Signatures are made by ssh-keygen, and whoever of the two takes one
//! takes it in the other's place; hashes by sha256sum; the form of manifests and logs by the library rfc8785 (RFC 8785).

mod signatures;
mod tampering;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use anteroom::faces::archive::Releases;
use anteroom::policy::Day;
use anteroom::release::canonical::{canonical, laid_out};
use anteroom::release::{Manifest, Stage, Step};
use camino::{Utf8Path, Utf8PathBuf};
use proptest::prelude::*;
use serde_json::Value;

use crate::commands::{run, ward};
use crate::oracle::{program, python};
use crate::policies::checked_text;

fn on(day: &str) -> Day {
    Day::from_iso(day).expect("a day")
}

/// What public hospital trusts say of a procedural document's life (review, approval or not, publication, removal, reviewed and
/// unchanged), and ISO 9001 of what is replaced: a row for each stage, a column for each step.
#[test]
fn no_stage_is_left_but_by_its_own_steps() {
    use Stage::{Approved, Draft, InForce, Superseded, UnderReview, Withdrawn};
    let steps =
        [Step::Submit, Step::SendBack, Step::Approve, Step::PutInForce, Step::Supersede, Step::Withdraw, Step::Review];
    let no = None;
    let table = [
        (Draft, [Some(UnderReview), no, no, no, no, Some(Withdrawn), no]),
        (UnderReview, [no, Some(Draft), Some(Approved), no, no, Some(Withdrawn), no]),
        (Approved, [no, no, no, Some(InForce), no, Some(Withdrawn), no]),
        (InForce, [no, no, no, no, Some(Superseded), Some(Withdrawn), Some(InForce)]),
        (Superseded, [no; 7]),
        (Withdrawn, [no; 7]),
    ];
    assert_eq!(table.map(|(stage, _)| stage), Stage::ALL);
    assert_eq!(steps, Step::ALL);
    for (stage, row) in table {
        assert_eq!(steps.map(|step| stage.after(step)), row, "{stage:?}");
    }
}

fn json() -> impl Strategy<Value = Value> {
    let plain = prop_oneof![
        Just(Value::Null),
        any::<bool>().prop_map(Value::from),
        any::<i32>().prop_map(Value::from),
        any::<String>().prop_map(Value::from),
    ];
    plain.prop_recursive(4, 40, 6, |inner| {
        prop_oneof![
            prop::collection::vec(inner.clone(), 0..6).prop_map(Value::from),
            prop::collection::btree_map(any::<String>(), inner, 0..6)
                .prop_map(|members| Value::Object(members.into_iter().collect())),
        ]
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, ..ProptestConfig::default() })]

    #[test]
    fn one_value_has_one_text(values in prop::collection::vec(json(), 20)) {
        let theirs: Vec<String> =
            serde_json::from_str(&python("canonical.py", &[], &serde_json::to_string(&values).unwrap())).unwrap();
        for (value, theirs) in values.iter().zip(theirs) {
            prop_assert_eq!(&canonical(value), &theirs);
            // Laid out for people, it differs in line breaks alone, and no text holds one of its own.
            prop_assert_eq!(laid_out(value).replace('\n', ""), theirs);
        }
    }
}

/// The side rooms of the demonstration, with lines of document control put in the place of others, in a folder of its own.
pub struct Ward {
    folder: tempfile::TempDir,
}

impl Ward {
    pub fn new(changes: &[(&str, &str)]) -> Ward {
        let ward = Ward { folder: ward() };
        for file in ["side-rooms.ppe", "common.ppe", "side-rooms.fr.words"] {
            fs::copy(Path::new("policies").join(file), ward.path().join(file)).expect("the demonstration");
        }
        ward.change(changes);
        fs::create_dir(ward.path().join("releases")).expect("made");
        ward
    }

    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    pub fn change(&self, changes: &[(&str, &str)]) {
        let path = self.path().join("side-rooms.ppe");
        let mut text = fs::read_to_string(&path).expect("a policy");
        for (from, to) in changes {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        fs::write(path, text).expect("written");
    }

    /// A key of a kind, in a file of a name.
    pub fn key(&self, name: &str, kind: &[&str]) {
        let path = self.path().join(name);
        program("ssh-keygen", &[&["-q", "-N", "", "-C", "", "-f", path.to_str().unwrap(), "-t"], kind].concat());
    }

    pub fn public(&self, name: &str) -> String {
        fs::read_to_string(self.path().join(format!("{name}.pub"))).expect("a key").trim().to_owned()
    }

    pub fn sign(&self, name: &str, namespace: &str, message: &[u8]) -> Vec<u8> {
        fs::write(self.path().join("message"), message).expect("written");
        let _ = fs::remove_file(self.path().join("message.sig"));
        let (key, message) = (self.path().join(name), self.path().join("message"));
        let paths = [key.to_str().unwrap(), message.to_str().unwrap()];
        program("ssh-keygen", &["-q", "-Y", "sign", "-n", namespace, "-f", paths[0], paths[1]]);
        fs::read(self.path().join("message.sig")).expect("signed")
    }

    /// Everybody who may sign: a name and their key.
    pub fn allow(&self, lines: &[String]) {
        fs::write(self.path().join("releases/allowed-signers"), lines.join("\n") + "\n").expect("written");
    }

    pub fn run(&self, arguments: &[&str]) -> (i32, String, String) {
        run(arguments, self.path())
    }

    /// A step of `anteroom release` that is taken.
    pub fn take(&self, step: &[&str], day: &str) -> String {
        let (status, out, err) = self.run(&[&["release"], step, &["--today", day]].concat());
        assert_eq!((status, err.as_str()), (0, ""), "{step:?}: {out}");
        out
    }

    /// A step that is not taken, and why.
    pub fn refused(&self, step: &[&str], day: &str) -> String {
        let (status, out, err) = self.run(&[&["release"], step, &["--today", day]].concat());
        assert_eq!((status, out.as_str()), (2, ""), "{step:?}: {err}");
        err
    }

    /// Freezes the policy as it is now; the folder of the edition.
    pub fn freeze(&self, day: &str) -> String {
        let out = self.take(&["freeze", "side-rooms.ppe", "--sources-only"], day);
        let told = out.lines().find_map(|line| line.strip_prefix("Frozen in ")).unwrap_or_else(|| panic!("{out}"));
        told.split(',').next().unwrap().to_owned()
    }

    pub fn manifest(&self, edition: &str) -> String {
        fs::read_to_string(self.path().join(edition).join("manifest.json")).expect("a manifest")
    }

    /// One person's signature on an edition, in a file.
    pub fn signature(&self, name: &str, edition: &str) -> String {
        let manifest = self.manifest(edition).into_bytes();
        let file = format!("{name}.sig");
        fs::write(self.path().join(&file), self.sign(name, "anteroom-release", &manifest)).expect("written");
        file
    }

    /// An edition that Ana has signed and that is in force.
    pub fn in_force(&self, submitted: &str, day: &str) -> String {
        let edition = self.freeze(submitted);
        self.take(&["submit", &edition], submitted);
        let signature = self.signature("ana", &edition);
        self.take(&["approve", &edition, &signature], submitted);
        self.take(&["in-force", &edition], day);
        edition
    }

    pub fn releases(&self) -> Releases {
        let folder = Utf8PathBuf::from_path_buf(self.path().join("releases")).expect("a name in UTF-8");
        Releases::read(&folder).expect("releases")
    }
}

/// Ana, with her key, who may sign.
pub fn ward_of_ana(changes: &[(&str, &str)]) -> Ward {
    let ward = Ward::new(changes);
    ward.key("ana", &["ed25519"]);
    ward.allow(&[format!("ana@example.org {}", ward.public("ana"))]);
    ward
}

fn files_beneath(folder: &Path) -> Vec<PathBuf> {
    let mut files = Vec::new();
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() { files.extend(files_beneath(&path)) } else { files.push(path) }
    }
    files.sort();
    files
}

/// sha256sum of coreutils, for every file that the manifest names.
#[test]
fn an_edition_is_frozen_with_the_hash_of_every_file() {
    let ward = Ward::new(&[]);
    let edition = ward.freeze("2026-09-20");
    let folder = ward.path().join(&edition);
    let text = fs::read_to_string(folder.join("manifest.json")).expect("a manifest");
    let manifest = Manifest::read(&text).expect("a manifest");
    let mut sources: Vec<&str> = manifest.sources.iter().map(|source| source.path.as_str()).collect();
    sources.sort_unstable();
    assert_eq!(sources, ["sources/common.ppe", "sources/side-rooms.fr.words", "sources/side-rooms.ppe"]);
    for (path, sha256) in manifest.files() {
        let told = program("sha256sum", &[folder.join(path).to_str().unwrap()]);
        assert_eq!(told.split_whitespace().next(), Some(sha256), "{path}");
        let name = path.strip_prefix("sources/").unwrap();
        assert_eq!(fs::read(folder.join(path)).unwrap(), fs::read(ward.path().join(name)).unwrap(), "{name}");
    }
    // What was frozen is the policy: it is checked like it and bears its fingerprint.
    let (status, out, _) = ward.run(&["check", &format!("{edition}/sources/side-rooms.ppe"), "--today", "2026-10-01"]);
    assert!(status == 0 && out.contains(&format!("fingerprint {}", manifest.fingerprint)), "{out}");
    assert!(edition.ends_with(&format!("edition-3-{}", manifest.fingerprint)), "{edition}");
    assert!(!text.contains(ward.path().to_str().unwrap()), "no path of this computer");
    // The same policy on another computer on the same day: the same bytes.
    let other = Ward::new(&[]);
    let again = other.freeze("2026-09-20");
    assert_eq!(fs::read_to_string(other.path().join(again).join("manifest.json")).unwrap(), text);
    // What is frozen once is not frozen again.
    let (status, _, err) =
        ward.run(&["release", "freeze", "side-rooms.ppe", "--sources-only", "--today", "2026-09-21"]);
    assert!(status == 2 && err.contains("is not frozen: it is frozen already in releases/"), "{err}");
}

#[test]
fn an_edition_goes_from_draft_to_withdrawn_and_the_log_tells_how() {
    let ward = ward_of_ana(&[]);
    let edition = ward.freeze("2026-09-20");
    let refused = |step: &str, more: &[&str], day: &str| ward.refused(&[&[step, &edition], more].concat(), day);
    assert!(
        refused("in-force", &[], "2026-10-01").contains("is a draft, and only an approved edition is put in force")
    );
    let out = ward.take(&["submit", &edition], "2026-09-21");
    assert!(out.contains("ssh-keygen -Y sign -n anteroom-release -f KEY < "), "{out}");
    assert!(refused("submit", &[], "2026-09-21").contains("only a draft is submitted for review"));
    let signature = ward.signature("ana", &edition);
    let before = refused("approve", &[&signature], "2026-09-20");
    assert!(before.contains("lies before the day of the last line of its log, 21 September 2026"), "{before}");
    ward.take(&["approve", &edition, &signature], "2026-09-22");
    let early = refused("in-force", &[], "2026-09-30");
    assert!(early.contains("its own line says that it holds from 1 October 2026"), "{early}");
    ward.take(&["in-force", &edition], "2026-10-01");
    ward.take(&["withdraw", &edition, "--because", "The ward is closed."], "2026-12-01");
    assert!(refused("withdraw", &["--because", "Again."], "2026-12-02").contains("nothing is left of it to withdraw"));
    let log = fs::read_to_string(ward.path().join(&edition).parent().unwrap().join("log.jsonl")).unwrap();
    assert_eq!(python("log.py", &[], &log), "5\n");
    let events: Vec<Value> = log.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    let told: Vec<_> = events.iter().map(|event| (event["event"].as_str(), event["day"].as_str())).collect();
    let expected = [
        ("frozen", "2026-09-20"),
        ("submitted", "2026-09-21"),
        ("signed", "2026-09-22"),
        ("put_in_force", "2026-10-01"),
        ("withdrawn", "2026-12-01"),
    ];
    assert_eq!(told, expected.map(|(event, day)| (Some(event), Some(day))));
    let (status, out, _) = ward.run(&["release", "check", "releases"]);
    assert!(status == 0 && out.contains("Signed by ana@example.org on 22 September 2026, key SHA256:"), "{out}");
    assert!(out.contains(events[4]["hash"].as_str().unwrap()), "{out}");
}

#[test]
fn the_next_edition_supersedes_the_one_before_it() {
    let ward = ward_of_ana(&[]);
    let third = ward.in_force("2026-09-20", "2026-10-01");
    ward.change(&[
        ("edition 3", "edition 4"),
        ("replaces edition 2", "replaces edition 3"),
        ("in force from 1 October 2026", "in force from 1 February 2027"),
    ]);
    let fourth = ward.in_force("2027-01-10", "2027-02-01");
    let releases = ward.releases();
    let [record] = releases.records.as_slice() else { panic!("one policy, one log: {:?}", releases.records) };
    let stages: Vec<Stage> = record.history.editions.iter().map(|edition| edition.stage).collect();
    assert_eq!(stages, [Stage::Superseded, Stage::InForce]);
    let text = ward.manifest(&fourth);
    let before = program("sha256sum", &[ward.path().join(&third).join("manifest.json").to_str().unwrap()]);
    assert_eq!(Manifest::read(&text).unwrap().previous.as_deref(), before.split_whitespace().next());
    // An older number never takes the place of a higher one.
    ward.change(&[("edition 4", "edition 2"), ("replaces edition 3", "replaces edition 1")]);
    let second = ward.freeze("2027-03-01");
    ward.take(&["submit", &second], "2027-03-01");
    let signature = ward.signature("ana", &second);
    ward.take(&["approve", &second, &signature], "2027-03-01");
    let err = ward.refused(&["in-force", &second], "2027-03-02");
    assert!(err.contains("does not have a higher number than edition 4, which is in force"), "{err}");
}

#[test]
fn two_people_are_two_people() {
    let ward = Ward::new(&[("edition 3", "edition 3\napproval needs two people")]);
    for name in ["ana", "ana-at-home", "ben"] {
        ward.key(name, &["ed25519"]);
    }
    let of = |person: &str, key: &str| format!("{person} {}", ward.public(key));
    let lines = [
        of("ana@example.org", "ana"),
        of("Ana@Example.org,head@example.org", "ana-at-home"),
        of("ben@example.org", "ben"),
    ];
    ward.allow(&lines);
    let edition = ward.freeze("2026-09-20");
    ward.take(&["submit", &edition], "2026-09-21");
    let approve = |name: &str| {
        let signature = ward.signature(name, &edition);
        ward.run(&["release", "approve", &edition, &signature, "--today", "2026-09-22"])
    };
    let (status, out, _) = approve("ana");
    assert!(status == 0 && out.contains("One more person is to sign it."), "{out}");
    for same in ["ana", "ana-at-home"] {
        let (status, _, err) = approve(same);
        assert!(status == 2 && err.contains("has signed already, and one person counts once"), "{same}: {err}");
    }
    assert!(ward.refused(&["in-force", &edition], "2026-10-01").contains("is under review"));
    // Sent back, a signature no longer counts.
    ward.take(&["send-back", &edition, "--because", "Not everybody had read it."], "2026-09-23");
    ward.take(&["submit", &edition], "2026-09-24");
    assert!(approve_on(&ward, "ben", &edition, "2026-09-25").contains("One more person is to sign it."));
    assert!(approve_on(&ward, "ana-at-home", &edition, "2026-09-25").contains("edition 3 is approved."));
    ward.take(&["in-force", &edition], "2026-10-01");
    assert_eq!(ward.run(&["release", "check"]).0, 0);
    // By other allowed signers, the two are one after all.
    ward.allow(&[&lines[..], &[of("ben@example.org", "ana")]].concat());
    let (status, out, _) = ward.run(&["release", "check"]);
    assert!(status == 1 && out.contains("the same person has signed twice"), "{out}");
}

fn approve_on(ward: &Ward, name: &str, edition: &str, day: &str) -> String {
    let signature = ward.signature(name, edition);
    ward.take(&["approve", edition, &signature], day)
}

/// “Reviewed, unchanged”: the version stays and the review date moves (a version-control note of a public body).
#[test]
fn a_review_without_a_change_moves_the_review_date_and_nothing_else() {
    let ward = ward_of_ana(&[]);
    let edition = ward.in_force("2026-09-20", "2026-10-01");
    let before: Vec<_> =
        files_beneath(&ward.path().join(&edition)).iter().map(|file| fs::read(file).unwrap()).collect();
    let status = |more: &[&str]| {
        let asked = [&["status", "--json", "--today", "2027-12-01", "side-rooms.ppe"], more].concat();
        serde_json::from_str::<Value>(&ward.run(&asked).1).expect("JSON")["policies"][0].clone()
    };
    let reviewed = ["reviewed", &edition, "--by", "Infection Control Committee", "--review-by"];
    assert!(ward.refused(&[&reviewed[..], &["2027-09-15"]].concat(), "2027-09-15").contains("is to lie after the day"));
    ward.take(&[&reviewed[..], &["2028-09-30"]].concat(), "2027-09-15");
    let after: Vec<_> = files_beneath(&ward.path().join(&edition)).iter().map(|file| fs::read(file).unwrap()).collect();
    assert_eq!(before, after);
    let (alone, known) = (status(&[]), status(&["--releases", "releases"]));
    for field in ["fingerprint", "edition", "title"] {
        assert_eq!(alone[field], known[field]);
    }
    assert_eq!((&alone["review"]["by"], &alone["state"]), (&"2027-09-30".into(), &"draft".into()));
    assert_eq!((&known["review"]["by"], &known["state"]), (&"2028-09-30".into(), &"in_force".into()));
    assert_eq!(known["release"]["reviewed_on"], "2027-09-15");
    assert!(known["disagreements"].as_array().is_some_and(Vec::is_empty), "{known}");
    // A copy on the wall: its own policy calls it overdue, and only the log that is named says otherwise.
    let asked = |more: &[&str]| {
        let print = known["fingerprint"].as_str().unwrap();
        ward.run(&[&["verify", print, "--in", ".", "--today", "2027-12-01"], more].concat())
    };
    assert!(asked(&[]).1.starts_with("DRAFT: "));
    let (ended, out, _) = asked(&["--releases", "releases"]);
    assert!(ended == 0 && out.starts_with("IN FORCE: "), "{out}");
}

/// What is printed follows the same date, and the log never changes a word of the policy's own.
#[test]
fn what_is_printed_bears_the_date_of_the_log_it_is_given() {
    let ward = ward_of_ana(&[]);
    let edition = ward.in_force("2026-09-20", "2026-10-01");
    ward.take(&["reviewed", &edition, "--by", "Ana", "--review-by", "2028-09-30"], "2027-09-15");
    let moved = ward.releases().records[0].history.editions[0].reviewed.as_ref().map(|reviewed| reviewed.review_by);
    let file = Utf8PathBuf::from_path_buf(ward.path().join("side-rooms.ppe")).unwrap();
    let plan = |review_moved: Option<Day>| {
        let (shelf, text) = anteroom::faces::shelf::FolderShelf::open(&file).unwrap();
        let mut reading = anteroom::session::read(file.as_str(), text, &shelf);
        reading.review_moved = review_moved;
        let plan = anteroom::aids::plan(&anteroom::session::check(reading, Some(on("2027-12-01"))));
        let control = plan.aids[0].control.clone();
        (control.review, control.fingerprint, control.edition, plan.aids[0].marking.is_some())
    };
    let (with, without) = (plan(moved), plan(None));
    assert!(with.0.contains("30 September 2028") && without.0.contains("30 September 2027"), "{with:?}");
    assert_eq!((&with.1, &with.2), (&without.1, &without.2));
    assert_eq!((with.3, without.3), (false, true), "without the log, the date has passed");
}

#[test]
fn where_log_and_policy_do_not_say_the_same_it_is_told() {
    let ward = ward_of_ana(&[]);
    let edition = ward.freeze("2026-09-20");
    let told = |day: &str| {
        let (status, out, _) = ward.run(&["status", ".", "--releases", "releases", "--today", day]);
        (status, out)
    };
    let (status, out) = told("2026-10-05");
    assert!(
        status == 1 && out.contains("The policy says in force from 1 October 2026; by the log it is a draft."),
        "{out}"
    );
    assert!(out.contains("approved it on 7 September 2026; by the log it is a draft."), "{out}");
    assert_eq!(out.matches("side-rooms.ppe, fingerprint").count(), 1, "the frozen copy is none of the policies: {out}");
    ward.take(&["submit", &edition], "2026-09-21");
    let (_, out) = told("2026-09-22");
    assert!(out.contains("under review since 21 September 2026; 0 of 1 people have signed."), "{out}");
    let signature = ward.signature("ana", &edition);
    ward.take(&["approve", &edition, &signature], "2026-09-22");
    ward.take(&["in-force", &edition], "2026-10-01");
    assert_eq!(told("2026-10-05").0, 0);
    ward.take(&["withdraw", &edition, "--because", "Closed."], "2026-12-01");
    let (status, out) = told("2026-12-02");
    let said = "By the log it is withdrawn since 1 December 2026; the policy has no line that says so.";
    assert!(status == 1 && out.contains(said) && out.contains("IN FORCE"), "neither wins: {out}");
    let print = ward.releases().records[0].history.editions[0].fingerprint.clone();
    let (status, out, _) = ward.run(&["verify", &print, "--today", "2026-12-02", "--releases", "releases"]);
    assert!(
        status == 1 && out.starts_with("UNKNOWN: ") && out.contains("By the log of releases it is withdrawn"),
        "{out}"
    );
    let checked = |day: &str| ward.run(&["check", "side-rooms.ppe", "--releases", "releases", "--today", day]).1;
    assert!(checked("2026-12-02").contains(said));
    ward.change(&[("edition 3", "edition 3\nwithdrawn on 1 June 2027")]);
    let later = "By the log it is withdrawn since 1 December 2026; the policy says from 1 June 2027.\n";
    assert!(checked("2026-12-02").contains(later) && told("2026-12-02").0 == 1);
    ward.change(&[("withdrawn on 1 June 2027", "withdrawn on 1 December 2026")]);
    let (_, out) = told("2026-12-02");
    assert!(!out.contains("; the policy"), "the line does not change the fingerprint, and both agree now: {out}");
    let over = "\nIt no longer holds: it was withdrawn on 1 December 2026.\n";
    assert!(checked("2026-12-02").contains(over) && !checked("2026-11-30").contains("no longer holds"));
    // A text that was never frozen.
    let other = ward_of_ana(&[]);
    other.in_force("2026-09-20", "2026-10-01");
    other.change(&[("edition 3", "edition 3\nlink \"https://example.org/side-rooms\"")]);
    let (_, out, _) = other.run(&["status", "side-rooms.ppe", "--releases", "releases", "--today", "2026-10-05"]);
    assert!(out.contains("No edition of this text is frozen; by the log edition 3 is in force, fingerprint "), "{out}");
}

#[test]
fn a_draft_can_be_reviewed_and_not_approved() {
    let ward = ward_of_ana(&[("approved by \"Infection Control Committee\" on 7 September 2026\n", "")]);
    let (status, out, err) =
        ward.run(&["release", "freeze", "side-rooms.ppe", "--sources-only", "--today", "2026-09-20"]);
    assert!(status == 1 && out.contains("It is a draft, to be reviewed and not approved."), "{out}{err}");
    let record = ward.releases().records[0].clone();
    let edition = format!("releases/{}/{}", record.folder.file_name().unwrap(), record.history.editions[0].folder);
    ward.take(&["submit", &edition], "2026-09-21");
    let signature = ward.signature("ana", &edition);
    let err = ward.refused(&["approve", &edition, &signature], "2026-09-22");
    assert!(err.contains("it is frozen as a draft. Nobody has approved this edition."), "{err}");
}

/// The sentence changes the fingerprint of the policy that says it, and of no other.
#[test]
fn how_many_people_are_to_approve_is_said_in_the_policy() {
    let (plain, file) = (fs::read_to_string("policies/faulty/kit.ppe").unwrap(), "policy \"Ward\"\nsite \"East\"\n");
    let needs = |line: &str| checked_text(&format!("{file}{line}{plain}"), on("2026-10-01"));
    assert_eq!(needs("").reading.policy.paper.approval_needs, None);
    let two = needs("approval needs two people\n");
    assert_eq!(two.reading.policy.paper.approval_needs, Some(2));
    assert_eq!(two.fingerprint, needs("approval needs 2 people\n").fingerprint);
    assert_ne!(two.fingerprint, needs("").fingerprint);
    assert_ne!(two.fingerprint, needs("approval needs three people\n").fingerprint);
    assert_eq!(needs("approval needs one person\n").reading.policy.paper.approval_needs, Some(1));
}

#[test]
fn nothing_is_written_where_something_is_refused() {
    let ward = Ward::new(&[]);
    let edition = ward.freeze("2026-09-20");
    ward.take(&["submit", &edition], "2026-09-21");
    ward.key("ana", &["ed25519"]);
    let signature = ward.signature("ana", &edition);
    let before = files_beneath(&ward.path().join("releases"));
    let err = ward.refused(&["approve", &edition, &signature], "2026-09-22");
    assert!(err.contains("releases/allowed-signers cannot be used: there is no such file."), "{err}");
    assert_eq!(files_beneath(&ward.path().join("releases")), before);
    for (lines, why) in [
        ("ana@example.org ssh-ed25519 AAAA\n", "its line 1 is not understood: its key is not understood"),
        ("# Nobody.\n", "stands in no line of the allowed signers"),
    ] {
        fs::write(ward.path().join("signers"), lines).unwrap();
        let err = ward.refused(&["approve", &edition, &signature, "--signers", "signers"], "2026-09-22");
        assert!(err.contains(why), "{err}");
        assert_eq!(files_beneath(&ward.path().join("releases")), before);
    }
    let nowhere =
        [("submit", "nowhere", "there is no such folder"), ("submit", "releases", "no log beside it tells of it")];
    for (step, edition, why) in nowhere {
        assert!(ward.refused(&[step, edition], "2026-09-22").contains(why), "{edition}");
    }
    let (status, _, err) = ward.run(&["release", "check", "nowhere"]);
    assert!(status == 2 && err.starts_with("nowhere cannot be looked into"), "{err}");
    let (status, _, err) = ward.run(&["release", "freeze", "common.ppe", "--sources-only"]);
    assert!(status == 2 && err.starts_with("common.ppe holds what policies share"), "{err}");
}

/// The aids are printed in the same run and their bytes are those of the manifest.
#[cfg(feature = "typeset")]
#[test]
fn the_aids_are_frozen_as_they_will_hang() {
    let ward = Ward::new(&[
        ("read from 2 metres", "read from 1.5 metres"),
        ("read from 1.5 metres\n  laminated", "read from 1 metre\n  laminated"),
    ]);
    // The words in French are those of this text, too.
    let print = Manifest::read(&ward.manifest(&ward.freeze("2026-09-19"))).unwrap().fingerprint;
    let words = ward.path().join("side-rooms.fr.words");
    let text = fs::read_to_string(&words).unwrap();
    let stale = text.lines().find(|line| line.starts_with("of fingerprint")).expect("a fingerprint");
    fs::write(&words, text.replacen(stale, &format!("of fingerprint {print}"), 1)).unwrap();
    fs::remove_dir_all(ward.path().join("releases")).unwrap();
    ward.take(&["freeze", "side-rooms.ppe", "--language", "fr"], "2026-09-20");
    let releases = ward.releases();
    let record = &releases.records[0];
    let folder = record.folder.join(&record.history.editions[0].folder);
    let manifest = Manifest::read(&fs::read_to_string(folder.join("manifest.json")).unwrap()).unwrap();
    assert!(manifest.prints.len() > 20, "{:?}", manifest.prints);
    for print in &manifest.prints {
        let told = program("sha256sum", &[folder.join(&print.path).as_str()]);
        assert_eq!(told.split_whitespace().next(), Some(print.sha256.as_str()), "{}", print.path);
        // They hold from 1 October; printed as on that day, they are marked with nothing. Nobody has approved the words in French.
        let is_french = print.path.starts_with("prints/fr/");
        assert_eq!(print.marked.as_deref(), is_french.then_some("DRAFT"), "{}", print.path);
    }
    let poster = manifest.prints.iter().find(|print| print.path.starts_with("prints/poster") && print.marked.is_none());
    let text = program("pdftotext", &[folder.join(&poster.expect("a poster").path).as_str(), "-"]);
    assert!(text.contains("1 October 2026") && !text.contains("NOT YET IN FORCE"), "{text}");
    assert_eq!(ward.run(&["release", "check"]).0, 0);
}

pub fn verify(folder: &Path, principal: &str, moment: &str, message: &[u8], signature: &[u8]) -> bool {
    fs::write(folder.join("verified.sig"), signature).expect("written");
    let time = format!("verify-time={moment}");
    let arguments =
        ["-Y", "verify", "-f", "allowed", "-I", principal, "-n", "anteroom-release", "-s", "verified.sig", "-O", &time];
    let mut asked = Command::new("ssh-keygen");
    asked.args(arguments).current_dir(folder).env("TZ", "UTC").stdin(Stdio::piped());
    let mut child =
        asked.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("ssh-keygen: run bash tests/setup");
    let mut stdin = child.stdin.take().expect("a pipe");
    let _ = std::io::Write::write_all(&mut stdin, message);
    drop(stdin);
    child.wait().expect("ended").success()
}

pub fn utf8(path: &Path) -> &Utf8Path {
    Utf8Path::from_path(path).expect("a name in UTF-8")
}
