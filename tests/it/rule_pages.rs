//! Every rule's page keeps what it promises: its faulty example gives the finding, its right one does not, and every
//! message that an example gives keeps to the style of the house. The rules are the project's own (DEVELOPERS.md); no
//! outside source.

use std::collections::BTreeMap;

use anteroom::findings::{Finding, plain};
use anteroom::rules::{self, Rule};
use anteroom::session::Checked;

use crate::faulty;
use crate::policy::check;

/// The examples of a part of the page, in order.
fn examples(page: &str, heading: &str) -> Vec<String> {
    let part = page.split(&format!("\n## {heading}\n")).nth(1).unwrap_or_default();
    let part = part.split("\n## ").next().unwrap_or_default();
    part.split("```ppe\n").skip(1).map(|block| block.split("```").next().unwrap_or_default().to_owned()).collect()
}

fn fires(rule: &dyn Rule, checked: &Checked) -> bool {
    checked.findings.iter().any(|finding| finding.name == rule.name())
}

fn told(checked: &Checked) -> String {
    checked.findings.iter().map(|finding| format!("    {}: {}\n", finding.name, finding.title)).collect()
}

#[test]
fn every_example_does_what_its_page_says() {
    let mut faults = String::new();
    for rule in rules::ALL {
        let (faulty, right) =
            (examples(rule.page(), "A procedure with this fault"), examples(rule.page(), "Put right"));
        if faulty.is_empty() || right.is_empty() {
            faults += &format!("{}: an example is missing\n", rule.name());
        }
        for text in faulty.iter().take(1) {
            let checked = check(text);
            if !fires(*rule, &checked) {
                faults += &format!("{}: the faulty example gives\n{}", rule.name(), told(&checked));
            }
        }
        for text in &right {
            let checked = check(text);
            if fires(*rule, &checked) {
                faults += &format!("{}: the right example still gives it\n{}", rule.name(), told(&checked));
            }
            if rule.name().family != "reading" && checked.findings.iter().any(|f| f.name.family == "reading") {
                faults += &format!("{}: the right example cannot be read\n{}", rule.name(), told(&checked));
            }
        }
    }
    assert!(faults.is_empty(), "{faults}");
}

const BANNED: [&str; 13] = [
    "syntax",
    "token",
    "identifier",
    "invalid",
    "illegal",
    "expected",
    "unexpected",
    "parse",
    "parser",
    "safe",
    "safely",
    "error",
    "errors",
];

fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric() && c != '\'')
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// Sentences, with what is quoted or shown as code left out: those are the policy's own words.
fn sentences(text: &str) -> Vec<String> {
    let mut own = String::new();
    for (at, piece) in text.split('`').enumerate() {
        own.push_str(if at % 2 == 0 { piece } else { "that" });
    }
    let mut spoken = String::new();
    let mut quoted = false;
    for c in own.chars() {
        match c {
            '“' => quoted = true,
            '”' => {
                quoted = false;
                spoken.push_str("that");
            }
            c if !quoted => spoken.push(c),
            _ => {}
        }
    }
    spoken.split(['.', '?', '!']).map(str::trim).filter(|sentence| !sentence.is_empty()).map(str::to_owned).collect()
}

fn style(finding: &Finding) -> Vec<String> {
    let mut faults = Vec::new();
    if finding.title.chars().count() > 60 {
        faults.push(format!("the title has {} characters: {}", finding.title.chars().count(), finding.title));
    }
    if finding.title.ends_with('.') {
        faults.push(format!("the title ends with a full stop: {}", finding.title));
    }
    let said = sentences(&finding.message);
    if said.is_empty() || said.len() > 3 {
        faults.push(format!("{} sentences: {}", said.len(), finding.message));
    }
    for sentence in said.iter().chain(&sentences(&finding.way_out)) {
        let count = words(sentence).len();
        if count >= 20 {
            faults.push(format!("{count} words: {sentence}"));
        }
    }
    if finding.way_out.trim().is_empty() {
        faults.push("no way out".to_owned());
    }
    for text in [&finding.title, &finding.message, &finding.way_out] {
        for sentence in sentences(text) {
            let words = words(&sentence);
            for banned in BANNED.iter().filter(|banned| words.iter().any(|word| word == *banned)) {
                faults.push(format!("“{banned}” in: {text}"));
            }
        }
    }
    faults
}

#[test]
fn every_message_keeps_to_the_style() {
    let mut faults = String::new();
    for rule in rules::ALL {
        for text in examples(rule.page(), "A procedure with this fault") {
            for finding in check(&text).findings {
                for fault in style(&finding) {
                    faults += &format!("{} (page of {}): {fault}\n", finding.name, rule.name());
                }
            }
        }
    }
    assert!(faults.is_empty(), "{faults}");
}

#[test]
fn names_are_two_words_and_no_two_rules_share_one() {
    let mut names: Vec<String> = rules::ALL.iter().map(|rule| rule.name().to_string()).collect();
    for name in &names {
        assert_eq!(name.split(' ').count(), 2, "{name}");
    }
    names.sort();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count);
}

/// What each family says about the faults of its own pages and of the faulty policies, to be read as prose.
#[test]
fn messages_read_well() {
    let mut told: BTreeMap<&str, String> = BTreeMap::new();
    let mut tell = |finding: &Finding, checked: &Checked| {
        let told = told.entry(finding.name.family).or_default();
        *told += &format!("{}\n", plain::finding(finding, &checked.reading.sources));
    };
    for rule in rules::ALL {
        for text in examples(rule.page(), "A procedure with this fault") {
            let checked = check(&text);
            checked.findings.iter().filter(|found| found.name == rule.name()).for_each(|found| tell(found, &checked));
        }
    }
    for name in faulty::files() {
        let checked = faulty::checked_file(&name);
        checked.findings.iter().for_each(|found| tell(found, &checked));
    }
    for (family, told) in told {
        insta::assert_snapshot!(format!("messages_of_{family}"), told);
    }
}
