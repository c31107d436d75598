//! `anteroom compare`, as a person runs it.

use std::fs;

use crate::commands::{run, ward};

const SAMPLE: &str = include_str!("../../samples/isolation-suite.ppe");

/// The sample as edition 4, and an edition 5 in which somebody tidied up.
fn editions() -> tempfile::TempDir {
    let ward = ward();
    fs::write(ward.path().join("four.ppe"), SAMPLE).unwrap();
    let five = SAMPLE
        .replace("edition 4", "edition 5")
        .replace("replaces edition 3", "replaces edition 4")
        .replace("strength 1000 ppm", "strength 500 ppm")
        .replace("    danger \"Do not let the outside touch the scrubs.\"\n", "");
    fs::write(ward.path().join("five.ppe"), five).unwrap();
    let noted = SAMPLE.replace("edition 4", "edition 5").replace("replaces edition 3", "replaces edition 4");
    fs::write(ward.path().join("noted.ppe"), noted).unwrap();
    ward
}

const DAY: &str = "2026-12-02";

#[test]
fn what_weakens_is_told_first_with_its_rule_and_the_exit_status_says_that_something_changed() {
    let ward = editions();
    let (status, out, _) = run(&["compare", "four.ppe", "five.ppe", "--today", DAY], ward.path());
    assert_eq!(status, 1, "{out}");
    let place = |words: &str| out.find(words).unwrap_or_else(|| panic!("{words} is not in {out}"));
    assert!(place("Protection is weaker than before in 4 places") < place("WEAKENS PROTECTION"));
    assert!(
        place("WEAKENS PROTECTION") < place("“1000 ppm” becomes “500 ppm”")
            && place("Editorial:") > place("[strength: ")
    );
    assert!(out.contains("“Do not let the outside touch the scrubs.” is gone. [caution: "), "{out}");
    assert!(out.contains("come first. The checks rank procedures"), "{out}");
    let (status, out, _) = run(&["compare", "four.ppe", "four.ppe", "--today", DAY], ward.path());
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("Nothing changed in what the policy says."), "{out}");
    let (status, ..) = run(&["compare", "four.ppe", "none.ppe", "--today", DAY], ward.path());
    assert_eq!(status, 2);
}

#[test]
fn a_gate_stops_only_what_weakens() {
    let ward = editions();
    let gate = |new: &str| run(&["compare", "four.ppe", new, "--today", DAY, "--fail-on", "weaker"], ward.path()).0;
    assert_eq!((gate("five.ppe"), gate("noted.ppe"), gate("four.ppe")), (1, 0, 0));
}

#[test]
fn folders_are_compared_policy_by_policy() {
    let ward = editions();
    for (folder, file, other) in [("old", "four.ppe", "gone.ppe"), ("new", "five.ppe", "come.ppe")] {
        fs::create_dir(ward.path().join(folder)).unwrap();
        fs::copy(ward.path().join(file), ward.path().join(folder).join("suite.ppe")).unwrap();
        let title = format!("policy \"{other}\"\n");
        fs::write(ward.path().join(folder).join(other), title).unwrap();
    }
    let (status, out, _) = run(&["compare", "old", "new", "--today", DAY], ward.path());
    assert_eq!(status, 1);
    assert!(out.contains("“1000 ppm” becomes “500 ppm”"), "{out}");
    assert!(out.contains("old/gone.ppe is in the first folder only."), "{out}");
    assert!(out.contains("new/come.ppe is in the second folder only."), "{out}");
    let gate = |old: &str, new: &str| run(&["compare", old, new, "--today", DAY, "--fail-on", "weaker"], ward.path()).0;
    fs::copy(ward.path().join("old/suite.ppe"), ward.path().join("new/suite.ppe")).unwrap();
    assert_eq!(gate("old", "new"), 1, "a policy that is gone protects nobody");
    fs::remove_file(ward.path().join("old/gone.ppe")).unwrap();
    assert_eq!(gate("old", "new"), 0, "one that is new weakens nothing");
}

#[test]
fn the_same_as_json_by_its_published_schema() {
    let ward = editions();
    let (status, json, _) = run(&["compare", "--json", "four.ppe", "five.ppe", "--today", DAY], ward.path());
    assert_eq!(status, 1);
    let (_, schema, _) = run(&["schema", "compare"], ward.path());
    let schema_file = ward.path().join("schema.json");
    fs::write(&schema_file, schema).unwrap();
    // The reference implementation of JSON Schema 2020-12 in Python.
    let valid = |json: &str| crate::oracle::python("schema.py", &[schema_file.to_str().unwrap()], json);
    assert_eq!(valid(&json), "valid\n");
    let report: serde_json::Value = serde_json::from_str(&json).unwrap();
    let comparison = &report["comparisons"][0];
    assert_eq!(comparison["weight"], "weakens");
    assert_eq!(comparison["changes"][0]["rule"]["name"], "caution");
    // The schema has teeth.
    let mut broken = report.clone();
    broken["comparisons"][0]["changes"][0]["weight"] = "harmless".into();
    assert!(valid(&broken.to_string()).contains("harmless"));
}

#[test]
fn the_register_names_the_copies_to_recall() {
    let ward = editions();
    let (_, out, _) = run(&["check", "four.ppe", "--json", "--today", DAY], ward.path());
    let print: serde_json::Value = serde_json::from_str(&out).unwrap();
    let print = print["policies"][0]["fingerprint"].as_str().unwrap();
    let title = "Isolation suite: suspected avian influenza, enhanced precautions";
    let line = |copy: u32, returned: &str| {
        format!(
            "\"{title}\",Saltmarsh District Hospital,4,{print},\"Poster, Taking off\",poster-taking-off,{copy},2,exit lobby,2026-12-01,{returned}\n"
        )
    };
    let columns = "policy,site,edition,fingerprint,aid,file,copy,of,place,issued,returned\n";
    fs::write(ward.path().join("register.csv"), format!("{columns}{}{}", line(1, ""), line(2, "2026-12-02"))).unwrap();
    let arguments = ["compare", "four.ppe", "five.ppe", "--register", "register.csv", "--today", DAY];
    let (_, out, _) = run(&arguments, ward.path());
    assert!(out.contains("Poster, Taking off, edition 4, exit lobby: copy 1."), "{out}");
    fs::create_dir(ward.path().join("out")).unwrap();
    fs::rename(ward.path().join("register.csv"), ward.path().join("out/print-register.csv")).unwrap();
    let (_, usual, _) = run(&["compare", "four.ppe", "five.ppe", "--today", DAY], ward.path());
    assert_eq!(usual, out, "the register where issue keeps it");
    let missing = ["compare", "four.ppe", "five.ppe", "--register", "none.csv"];
    assert_eq!(run(&missing, ward.path()).0, 2);
}

#[test]
fn a_local_policy_departs_from_a_reference_with_its_reasons_or_with_none() {
    let ward = editions();
    let local = SAMPLE
        .replace("Saltmarsh District", "Heronsgate")
        .replace("    danger \"Do not let the outside touch the scrubs.\"\n", "")
        .replace("The suit comes off while the face is still covered.", "The helper says it aloud.")
        .replace("    caution \"Sit down to step in.\"\n", "");
    fs::write(ward.path().join("local.ppe"), local).unwrap();
    let (status, out, _) = run(&["compare", "--reference", "four.ppe", "local.ppe", "--today", DAY], ward.path());
    assert_eq!(status, 1);
    assert!(out.contains("The local policy departs from the reference in 2 places:"), "{out}");
    assert!(out.contains("Reason: The helper says it aloud. (who filovirus)"), "{out}");
    assert!(out.contains("Reason: no reason given"), "{out}");
    let why = "differ at \"wearer puts on coverall\" because \"There is a bench.\"\ndiffer at \"wearer sings\" because \"Morale.\"\n";
    let local = fs::read_to_string(ward.path().join("local.ppe")).unwrap() + why;
    fs::write(ward.path().join("local.ppe"), local).unwrap();
    let (_, reasoned, _) = run(&["compare", "--reference", "four.ppe", "local.ppe", "--today", DAY], ward.path());
    assert!(reasoned.contains("Reason: There is a bench.") && !reasoned.contains("no reason given"), "{reasoned}");
    assert!(reasoned.contains("Reasons are given where nothing departs:\n  “wearer sings”."), "{reasoned}");
    assert!(!out.contains("Document control"), "{out}");
}
