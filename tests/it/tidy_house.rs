//! The house stays in order: who may name which library, how long things get, which words people are spared.
//! The rules are the project's own (DEVELOPERS.md); no outside source.

use std::fs;
use std::path::{Path, PathBuf};

struct File {
    path: String,
    text: String,
}

fn files_under(folder: &str, ending: &str) -> Vec<File> {
    fn walk(folder: &Path, ending: &str, found: &mut Vec<PathBuf>) {
        for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
            let path = entry.path();
            if path.is_dir() {
                walk(&path, ending, found);
            } else if path.to_string_lossy().ends_with(ending) {
                found.push(path);
            }
        }
    }
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    walk(&root.join(folder), ending, &mut found);
    found.sort();
    let file = |path: &PathBuf| File {
        path: path.strip_prefix(root).unwrap().to_string_lossy().replace('\\', "/"),
        text: fs::read_to_string(path).unwrap(),
    };
    found.iter().map(file).collect()
}

/// The code of a line: what stands before a comment.
fn code(line: &str) -> &str {
    match line.find("//") {
        Some(at) if !line[..at].contains('"') => &line[..at],
        _ => line,
    }
}

fn lines_with<'a>(files: &'a [File], is_fault: impl Fn(&File, &str) -> bool + 'a) -> Vec<String> {
    let faults = files.iter().flat_map(|file| {
        let fault = |(at, line): (usize, &str)| {
            is_fault(file, code(line)).then(|| format!("{}:{}: {}", file.path, at + 1, line.trim()))
        };
        file.text.lines().enumerate().filter_map(fault).collect::<Vec<_>>()
    });
    faults.collect()
}

fn assert_none(faults: Vec<String>, rule: &str) {
    assert!(faults.is_empty(), "{rule}:\n  {}", faults.join("\n  "));
}

/// `name` as a path or a crate of its own: `pest::`, `use pest;`, not `pest_derive` nor `budapest`.
fn names_crate(line: &str, name: &str) -> bool {
    line.match_indices(name).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        let after = &line[at + name.len()..];
        !before.is_some_and(|c| c.is_alphanumeric() || c == '_' || c == ':' || c == '/' || c == '"')
            && (after.starts_with("::") || line.trim_start().starts_with(&format!("use {name};")))
    })
}

#[test]
fn each_library_has_one_home() {
    let homes: [(&[&str], &str); 6] = [
        (&["pest", "pest_derive"], "src/syntax/parse"),
        (&["typst", "typst_layout", "typst_pdf", "typst_kit", "qrcode", "lopdf"], "src/typeset"),
        (&["miette"], "src/findings/terminal.rs"),
        (&["csv"], "src/text/table.rs"),
        (&["ssh_key"], "src/release/sign"),
        (&["clap", "clap_complete", "clap_mangen", "ctrlc", "terminal_size"], "src/faces/cli"),
    ];
    let files = files_under("src", ".rs");
    for (crates, home) in homes {
        let strays = lines_with(&files, move |file, line| {
            !file.path.starts_with(home) && crates.iter().any(|name| names_crate(line, name))
        });
        assert_none(strays, &format!("only {home} names {crates:?}"));
    }
}

#[test]
fn the_core_reads_no_file_clock_or_environment() {
    let files = files_under("src", ".rs");
    let reach = ["std::fs", "std::env", "SystemTime", "Instant::now", "ZonedDateTime::now", "std::process", "std::net"];
    let strays = lines_with(&files, move |file, line| {
        let is_face = file.path.starts_with("src/faces/") || file.path == "src/main.rs";
        !is_face && reach.iter().any(|outside| line.contains(outside))
    });
    assert_none(strays, "only the faces touch files, the clock and the environment");
}

#[test]
fn rules_never_see_the_text_nor_each_other() {
    let files = files_under("src/rules", ".rs");
    let rules: Vec<(String, String)> = files.iter().filter_map(|file| family_and_rule(&file.path)).collect();
    assert!(!rules.is_empty(), "the rules are looked for in the wrong place");
    let strays = lines_with(&files, move |file, line| {
        let Some(own) = family_and_rule(&file.path) else { return false };
        let names = |(family, rule): &(String, String)| {
            (family, rule) != (&own.0, &own.1) && line.contains(&format!("{family}::{rule}::"))
        };
        line.contains("text::Source") || line.contains("syntax::tree") || rules.iter().any(names)
    });
    assert_none(strays, "rules see the policy and the walk only");
}

#[test]
fn aids_and_the_print_room_know_no_typesetter_and_no_face() {
    let mut files = files_under("src/aids", ".rs");
    files.extend(files_under("src/press", ".rs"));
    assert!(files.len() > 30, "the sources are looked for in the wrong place");
    let strays = lines_with(&files, |_, line| line.contains("crate::typeset") || line.contains("crate::faces"));
    assert_none(strays, "what is printed is data before it is set");
}

/// `src/rules/order/covered.rs` gives order, covered.
fn family_and_rule(path: &str) -> Option<(String, String)> {
    let (family, rule) = path.strip_prefix("src/rules/")?.strip_suffix(".rs")?.split_once('/')?;
    Some((family.to_string(), rule.to_string()))
}

/// What every rule owes its readers.
#[test]
fn every_rule_has_its_page_and_its_line_in_the_list_of_changes() {
    let changes = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("CHANGELOG.md")).unwrap();
    let headings = [
        "What this means",
        "Why it matters",
        "A procedure with this fault",
        "Put right",
        "When to accept it",
        "Sources",
    ];
    let mut faults = Vec::new();
    for rule in anteroom::rules::ALL {
        let (name, page) = (rule.name(), rule.page());
        let mut at = 0;
        for heading in headings {
            match page[at..].find(&format!("\n## {heading}\n")) {
                Some(found) => at += found + 1,
                None => faults.push(format!("{name}: “{heading}” is missing or out of order")),
            }
        }
        let sources = page.split("\n## Sources\n").nth(1).unwrap_or_default().to_lowercase();
        let cites = sources.contains("common practice, no source") || sources.chars().any(|c| c.is_ascii_digit());
        if !cites && !sources.contains("follows from") && !sources.contains("no date seen") {
            faults.push(format!("{name}: neither a dated source nor the words “common practice, no source”"));
        }
        if page.matches("```ppe").count() < 2 {
            faults.push(format!("{name}: an example with the fault and one without are both needed"));
        }
        if !changes.contains(&format!("- `{name}`")) {
            faults.push(format!("{name}: no line in CHANGELOG.md"));
        }
        let file = format!("src/rules/{}/{}.rs", name.family, name.word.replace([' ', '-'], "_"));
        if !Path::new(env!("CARGO_MANIFEST_DIR")).join(&file).exists() {
            faults.push(format!("{name}: no file {file}"));
        }
    }
    assert_none(faults, "every rule has its page");
}

#[test]
fn functions_are_at_most_70_lines() {
    let mut long = Vec::new();
    for file in files_under("src", ".rs") {
        let lines: Vec<&str> = file.text.lines().collect();
        for (start, line) in lines.iter().enumerate() {
            let indent = line.len() - line.trim_start().len();
            let opens = code(line).trim_start();
            let is_function = ["fn ", "pub fn ", "pub(super) fn ", "pub(crate) fn ", "const fn ", "pub const fn "]
                .iter()
                .any(|opening| opens.starts_with(opening));
            if !is_function {
                continue;
            }
            let closing = format!("{}}}", " ".repeat(indent));
            let signature_ends = lines[start..].iter().position(|line| line.ends_with('{') || line.ends_with(';'));
            let has_body = signature_ends.is_some_and(|at| lines[start + at].ends_with('{'));
            let length = lines[start..].iter().position(|line| *line == closing).map_or(0, |at| at + 1);
            if has_body && length > 70 {
                long.push(format!("{}:{} has {length} lines", file.path, start + 1));
            }
        }
    }
    assert_none(long, "functions are at most 70 lines");
}

#[test]
fn files_are_at_most_800_lines_and_say_what_they_are() {
    let files = files_under("src", ".rs");
    assert!(files.len() > 30, "the sources are looked for in the wrong place");
    let long = files.iter().filter(|file| file.text.lines().count() > 800).map(|file| file.path.clone()).collect();
    assert_none(long, "a file over 800 lines is a question");
    let silent = files.iter().filter(|file| !file.text.starts_with("//!")).map(|file| file.path.clone()).collect();
    assert_none(silent, "every module says what goes in, what comes out and what it must never do");
}

#[test]
fn nothing_is_left_for_later() {
    let mut files = files_under("src", ".rs");
    files.extend(files_under("tests", ".rs").into_iter().filter(|file| !file.path.ends_with("tidy_house.rs")));
    files.extend(files_under("src", ".md"));
    files.extend(files_under("src", ".typ"));
    let markers = ["TODO", "FIXME", "XXX", "todo!(", "unimplemented!(", "#[ignore"];
    let left: Vec<String> = files
        .iter()
        .flat_map(|file| {
            let marked = |(at, line): (usize, &str)| {
                markers.iter().any(|marker| line.contains(marker)).then(|| format!("{}:{}: {line}", file.path, at + 1))
            };
            file.text.lines().enumerate().filter_map(marked).collect::<Vec<_>>()
        })
        .collect();
    assert_none(left, "no forgotten markers");
}

#[test]
fn the_top_level_holds_only_what_it_may() {
    let may = ["Cargo.toml", "Cargo.lock", "README.md", "DEVELOPERS.md", "LICENSE", "CHANGELOG.md"];
    let may = [&may[..], &["src", "grammar", "policies", "tests", "out", "target"]].concat();
    let extra = fs::read_dir(env!("CARGO_MANIFEST_DIR"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| !name.starts_with('.') && !may.contains(&name.as_str()))
        .collect();
    assert_none(extra, "the top level holds only what DEVELOPERS.md lists");
}

/// Words that a nurse is spared, and promises that nobody can make.
#[test]
fn messages_use_none_of_the_banned_words() {
    let banned =
        ["syntax error", "parse error", "token", "identifier", "invalid", "illegal", "unexpected", "safe", "no errors"];
    let told = [
        "src/rules/",
        "src/findings/",
        "src/faces/",
        "src/session.rs",
        "src/aids/",
        "src/press/",
        "src/overview/",
        "src/release/",
    ];
    let mut files = files_under("src", ".rs");
    files.retain(|file| told.iter().any(|place| file.path.starts_with(place)));
    let strays = lines_with(&files, move |_, line| {
        let spoken: String = line.split('"').skip(1).step_by(2).collect::<Vec<_>>().join(" ").to_lowercase();
        banned.iter().any(|word| has_word(&spoken, word))
    });
    assert_none(strays, "messages never use these words");
}

fn has_word(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = text[at + word.len()..].chars().next();
        !before.is_some_and(char::is_alphabetic) && !after.is_some_and(|c| c.is_alphabetic() || c == '_')
    })
}
