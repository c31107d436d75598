//! Other names change no finding but its words, nor does writing the same untidily.

use anteroom::session::{Checked, Shelf};

use super::{Written, gist, random, written};

/// Each name with the one that takes its place, longer ones first, so that a name within a name is left alone.
type Names = Vec<(String, String)>;

fn others(checked: &Checked) -> Names {
    let policy = &checked.reading.policy;
    let roles =
        policy.roles.iter().enumerate().map(|(at, role)| (role.name.clone(), format!("ferrier{}", letters(at))));
    let items = policy.items.iter().enumerate().map(|(at, item)| (item.name.clone(), format!("wimple{}", letters(at))));
    let mut names: Names = roles.chain(items).filter(|(name, _)| !is_read_as_a_filter(name)).collect();
    names.sort_by_key(|(name, _)| std::cmp::Reverse(name.len()));
    names
}

/// `FFP3 respirator`: what the name says of its filter is a fact about it.
fn is_read_as_a_filter(name: &str) -> bool {
    ["ffp", "n95", "n99", "p2", "p3"].iter().any(|mark| name.to_lowercase().contains(mark))
}

fn letters(at: usize) -> String {
    [at / 26, at % 26].iter().map(|&digit| (b'a' + digit as u8) as char).collect()
}

/// The text with every name replaced that stands outside quotes.
fn renamed(text: &str, names: &Names) -> String {
    let mut out = String::new();
    for line in text.split_inclusive('\n') {
        for (at, piece) in line.split('"').enumerate() {
            out += if at > 0 { "\"" } else { "" };
            let (kept, rest) = if at == 0 { piece.split_at(stays(line)) } else { ("", piece) };
            out += kept;
            if at % 2 == 1 || is_note(line) { out += rest } else { out += &replaced(rest, names) }
        }
    }
    out
}

/// Notes are for people.
fn is_note(line: &str) -> bool {
    line.trim_start().starts_with("note")
}

/// How much of the line's beginning is no name of the policy: `observer card` is that of an aid.
fn stays(line: &str) -> usize {
    let before_quote = line.find('"').unwrap_or(line.len());
    if line.trim_start().starts_with("print") { line[..before_quote].find(" of ").unwrap_or(before_quote) } else { 0 }
}

fn replaced(piece: &str, names: &Names) -> String {
    let mut out = String::new();
    let mut rest = piece;
    while !rest.is_empty() {
        let begins_word = !out.ends_with(|c: char| c.is_alphanumeric() || c == '-');
        let here = names.iter().find(|(name, _)| {
            rest.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name))
                && !rest[name.len()..].starts_with(|c: char| c.is_alphanumeric() || c == '-')
        });
        match here {
            Some((name, other)) if begins_word => {
                out += other;
                rest = &rest[name.len()..];
            }
            _ => {
                let first = rest.chars().next().map_or(0, char::len_utf8);
                out += &rest[..first];
                rest = &rest[first..];
            }
        }
    }
    out
}

/// The same files, with other names in them.
struct Elsewhere<'a> {
    shelf: &'a dyn Shelf,
    names: &'a Names,
}

impl Shelf for Elsewhere<'_> {
    fn fetch(&self, from: &str, written: &str) -> Result<(String, String), String> {
        self.shelf.fetch(from, written).map(|(name, text)| (name, renamed(&text, self.names)))
    }
}

/// The findings by the lines at which they are told.
fn by_line(checked: &Checked) -> Vec<String> {
    let sources = &checked.reading.sources;
    let at =
        |span: anteroom::text::Span| format!("{} line {}", sources.get(span.source).name, sources.start(span).line);
    let mut told: Vec<String> =
        checked.findings.iter().map(|finding| format!("{}: {}", at(finding.span), gist(finding))).collect();
    told.sort();
    told
}

fn told_the_same_by_other_names(policy: &Written) -> usize {
    let checked = policy.check(&policy.text);
    let names = others(&checked);
    if !checked.reading.problems.is_empty() || names.is_empty() {
        return 0;
    }
    let elsewhere = Elsewhere { shelf: &*policy.shelf, names: &names };
    let text = renamed(&policy.text, &names);
    let reading = anteroom::session::read(&policy.name, text.as_str(), &elsewhere);
    assert!(reading.problems.is_empty(), "{}: {:?}\n{text}", policy.name, reading.problems);
    let other = anteroom::session::check(reading, checked.today);
    assert_eq!(by_line(&checked), by_line(&other), "{}\n{text}", policy.name);
    assert_ne!(checked.fingerprint, other.fingerprint, "{}: nothing was renamed", policy.name);
    checked.findings.len()
}

#[test]
fn other_names_change_no_finding_but_its_words() {
    let told: usize = written().iter().chain(&random(60)).map(told_the_same_by_other_names).sum();
    assert!(told > 500, "{told} findings");
}
