//! The demo policies: the good ones have nothing found, and of the faulty ones each has its fault found and nothing else
//! told. No outside source: the faults are this project's own; what is wrong stands in each first line, in plain words.

use std::collections::{BTreeMap, BTreeSet};

use anteroom::policy::Day;
use anteroom::session::Checked;

use crate::policies::checked;

const FOLDER: &str = "policies/faulty";

/// Every name that is told of a file, at any signal word. Where more than one is told, each follows from the one fault.
#[rustfmt::skip]
const FOUND: &[(&str, &[&str])] = &[
    ("choice-decides-nothing",            &["choice unasked"]),
    ("choice-in-a-circle",                &["choice circle"]),
    ("choice-lower-for-more-risk",        &["choice lower"]),
    ("choice-never-reached",              &["choice unreachable"]),
    ("choice-no-level",                   &["choice none"]),
    ("choice-two-lines-fit",              &["choice several"]),
    ("cover-bare-when-not-supplied",      &["cover bare"]),
    ("cover-eyes-bare",                   &["cover bare"]),
    ("cover-gap-at-the-wrist",            &["cover gap"]),
    ("cover-gloves-beneath-the-sleeve",    &["cover cuff"]),
    ("drill-does-not-end",                &["drill open"]),
    ("drill-leaves-in-kit",               &["drill unfinished"]),
    ("drill-missing",                     &["drill missing"]),
    ("drill-never-entered",               &["drill never"]),
    ("drill-nobody-is-told",               &["drill exposure"]),
    ("drill-tear-not-washed",             &["drill unclean"]),
    ("hold-cannot-fail",                  &["hold certain"]),
    ("hold-confirms-oneself",             &["hold oneself"]),
    ("hold-inner-gloves-unseen",           &["hold inspection"]),
    ("hold-looks-at-the-bin",              &["hold inspection"]),
    ("hold-missing",                      &["hold absent"]),
    ("hold-too-late",                     &["hold late"]),
    ("house-boots-after-the-gloves",       &["house last"]),
    ("house-cuffs-taped",                  &["house taping"]),
    ("house-gloves-unchecked",             &["house checked"]),
    ("house-goggles-after-the-gown",      &["house order"]),
    ("hygiene-after-the-way-out",         &["hygiene leaving"]),
    ("hygiene-between-gown-and-face",     &["hygiene face"]),
    ("hygiene-not-last",                  &["hygiene last"]),
    ("hygiene-rub-on-gloves",              &["hygiene gloved"]),
    ("hygiene-rub-on-soil",               &["hygiene soiled"]),
    ("hygiene-too-short",                 &["hygiene short"]),
    ("kit",                               &[]),
    ("kit-never-used",                    &["kit unused"]),
    ("kit-no-eye-protection",             &["kit route"]),
    ("kit-no-respirator",                 &["kit route"]),
    ("kit-no-seal-check",                 &["kit seal"]),
    ("kit-not-listed",                    &["kit unlisted"]),
    ("kit-part-of-another-item",          &["kit part"]),
    ("kit-seal-taken-for-a-gap",           &["kit seal"]),
    ("order-beneath-the-suit",            &["order covered"]),
    ("order-hood-still-connected",        &["order connected"]),
    ("order-mask-before-goggles",         &["order eyes"]),
    ("order-never-taken-off",             &["order lingering"]),
    ("order-not-on",                      &["order absent"]),
    ("order-on-twice",                    &["order repeated"]),
    ("paper-exception-lapsed",            &["hygiene face", "paper lapsed"]),
    ("paper-nobody-answers",              &["paper approval", "paper owner", "paper undated"]),
    ("paper-review-passed",               &["paper review"]),
    ("paper-source-never-cited",          &["paper uncited"]),
    ("place-against-the-way",             &["place way"]),
    ("place-among-the-bins-at-the-end",    &["place ending"]),
    ("place-clean-corridor-in-kit",       &["place leaving", "waste elsewhere"]),
    ("place-dressing-among-the-bins",      &["place shared"]),
    ("place-dressing-in-the-room",        &["place donning"]),
    ("place-heading-of-another-room",      &["place heading"]),
    ("place-respirator-off-inside",       &["cover bare", "place respirator"]),
    ("reading-back-to-nowhere",           &["reading title"]),
    ("reading-circle",                    &["reading circle"]),
    ("reading-circle-back",               &["reading again", "reading circle"]),
    ("reading-declared-twice",            &["reading twice"]),
    ("reading-helps-oneself",              &["reading oneself"]),
    ("reading-look-alike",                &["reading lookalike"]),
    ("reading-no-such-day",               &["reading date"]),
    ("reading-open-branch",               &["reading branch"]),
    ("reading-picture",                   &["reading picture"]),
    ("reading-step-astray",               &["reading astray"]),
    ("reading-unit",                      &["reading unit"]),
    ("reading-unknown-name",              &["reading name"]),
    ("reading-unreadable-line",           &["reading line"]),
    ("role-checks-the-wrong-person",       &["role mistaken"]),
    ("role-helper-stays-dressed",         &["role stranded"]),
    ("role-helper-unchecked",              &["role unready"]),
    ("role-helper-without-kit",           &["role unkitted"]),
    ("role-nobody-watches",                &["role observer"]),
    ("role-not-there",                    &["place absent"]),
    ("role-observer-touches",             &["role watcher"]),
    ("time-battery-too-short",            &["time battery"]),
    ("time-stay-too-long",                &["time stay"]),
    ("time-too-many-steps",               &["time budget"]),
    ("time-wipe-cut-short",                &["time wet"]),
    ("time-words-too-long",                &["time aloud"]),
    ("touch-bare-hand-on-the-suit",       &["order covered", "touch barehand"]),
    ("touch-front-of-the-gown",           &["touch barehand"]),
    ("touch-gown-not-rolled",              &["touch rolling"]),
    ("touch-mask-by-its-front",           &["touch front"]),
    ("touch-unclean-hand",                &["touch unclean"]),
    ("waste-bag-too-small",                &["waste small"]),
    ("waste-container-elsewhere",         &["waste elsewhere"]),
    ("waste-ends-nowhere",                &["waste nowhere"]),
    ("waste-reusable-into-waste",         &["waste reusable"]),
    ("waste-sharp-into-a-bag",            &["waste sharps"]),
];

#[test]
fn each_fault_is_found_and_nothing_else() {
    let table: BTreeMap<&str, &[&str]> = FOUND.iter().copied().collect();
    let mut wrong = Vec::new();
    for name in files() {
        let checked = checked_file(&name);
        let told: BTreeSet<String> = checked.findings.iter().map(|finding| finding.name.to_string()).collect();
        let wanted: BTreeSet<String> =
            table.get(name.as_str()).copied().unwrap_or_default().iter().map(|name| name.to_string()).collect();
        if told != wanted {
            wrong.push(format!("{name}: told {told:?}, wanted {wanted:?}"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// Every family has a fault in the folder, and every fault says what must be found.
#[test]
fn the_folder_covers_every_family_in_plain_words() {
    let files = files();
    let families = anteroom::rules::ALL.iter().map(|rule| rule.name().family).collect::<BTreeSet<_>>();
    let shown: BTreeSet<&str> =
        FOUND.iter().flat_map(|(_, names)| names.iter()).filter_map(|name| name.split(' ').next()).collect();
    assert!(families.is_subset(&shown), "no faulty policy shows {:?}", families.difference(&shown));
    for name in &files {
        let text = std::fs::read_to_string(format!("{FOLDER}/{name}.ppe")).unwrap();
        let first = text.lines().next().unwrap_or_default();
        let wanted = if FOUND.iter().any(|(file, names)| file == name && !names.is_empty()) {
            "note What must be found: "
        } else {
            "note "
        };
        assert!(first.starts_with(wanted), "{name}: {first}");
    }
    let rows: Vec<&str> = FOUND.iter().map(|(name, _)| *name).collect();
    assert_eq!(rows, files, "the table and the folder hold the same files");
}

/// The demo hospital's own policies are as the project would have them: nothing is told at any signal word.
#[test]
fn the_good_policies_have_nothing_found() {
    for name in ["side-rooms", "negative-pressure-room", "assessment-suite"] {
        let checked = checked(&format!("policies/{name}.ppe"), Day::new(2026, 12, 2).unwrap());
        let told: Vec<String> =
            checked.findings.iter().map(|finding| format!("{}: {}", finding.name, finding.sentence)).collect();
        assert_eq!(told, Vec::<String>::new(), "{name}");
        assert!(checked.reading.problems.is_empty(), "{name}: {:?}", checked.reading.problems);
    }
}

/// Most of these policies have no drills: each is to show its one fault.
pub fn checked_file(name: &str) -> Checked {
    let mut checked = checked(&format!("{FOLDER}/{name}.ppe"), Day::new(2026, 12, 2).unwrap());
    checked.findings.retain(|finding| name.starts_with("drill") || finding.name.to_string() != "drill missing");
    checked
}

pub fn files() -> Vec<String> {
    let entries = std::fs::read_dir(FOLDER).unwrap().flatten().map(|entry| entry.path());
    let policies = entries.filter(|path| path.extension().is_some_and(|ending| ending == "ppe"));
    let mut names: Vec<String> =
        policies.map(|path| path.file_stem().unwrap().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}
