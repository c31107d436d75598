//! `anteroom explain [NAME]`: the page of one finding, or the list of all.

use super::{Ending, Screen};
use crate::findings::terminal::{Looks, wrapped};
use crate::rules::{self, Rule};

/// Tell what a finding means, why it matters and how it is put right
#[derive(clap::Args)]
pub struct Explain {
    /// The finding's name, two words; or a family, one word; without it, all are listed
    name: Vec<String>,
}

impl Explain {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let wanted = self.name.join(" ");
        if wanted.trim().is_empty() {
            screen.say(&list(rules::ALL, screen.looks));
            return Ending::Clear;
        }
        if let Some(rule) = rules::named(&wanted) {
            screen.say(&page(rule, screen.looks));
            return Ending::Clear;
        }
        let family = wanted.trim().to_lowercase();
        let of_family: Vec<_> = rules::ALL.iter().copied().filter(|rule| rule.name().family == family).collect();
        if !of_family.is_empty() {
            screen.say(&list(&of_family, screen.looks));
            return Ending::Clear;
        }
        let near = nearest(&family).map(|rule| format!(" Did you mean “{}”?", rule.name())).unwrap_or_default();
        screen.remark(&format!("There is no finding called “{}”.{near}", wanted.trim()));
        screen.remark("For the list of all: anteroom explain");
        Ending::CouldNotRun
    }
}

/// By family, each with its signal word and the first sentence of its page.
fn list(rules: &[&dyn Rule], looks: Option<Looks>) -> String {
    let mut text = String::new();
    let mut family = "";
    for rule in rules {
        if rule.name().family != family {
            family = rule.name().family;
            text.push_str(&format!("{}{}\n", if text.is_empty() { "" } else { "\n" }, heading(family, looks)));
        }
        let name = format!("  {:<22} {:<8} ", rule.name().to_string(), rule.signal().word());
        match looks {
            Some(looks) => text.push_str(&wrapped(gist(rule.page()).as_str(), &name, &" ".repeat(34), looks.width)),
            None => text.push_str(&format!("{name}{}\n", gist(rule.page()))),
        }
    }
    text + "\nFor one of them: anteroom explain NAME\n"
}

/// The first sentence beneath the first heading of a page.
fn gist(page: &str) -> String {
    let lines = page.lines().skip_while(|line| line.is_empty() || line.starts_with('#'));
    let paragraph: Vec<&str> = lines.take_while(|line| !line.trim().is_empty()).collect();
    let paragraph = paragraph.join(" ");
    match paragraph.find(". ") {
        Some(end) => paragraph[..=end].to_string(),
        None => paragraph,
    }
}

/// The page without its marks; in its two examples, the lines in which they differ are pointed at.
fn page(rule: &dyn Rule, looks: Option<Looks>) -> String {
    let title = format!("{} ({}, {})", rule.name(), rule.signal().word(), rule.kind().word());
    let mut text = format!("{}\n", heading(&title, looks));
    let page = rule.page().trim_start().trim_start_matches(|c| c != '\n').trim_start();
    // Every second part lies between fences; its first line is the language's name.
    let parts: Vec<Vec<&str>> = page.split("```").map(|part| part.lines().collect()).collect();
    for (at, part) in parts.iter().enumerate() {
        let lines = if at == 0 { &part[..] } else { part.get(1..).unwrap_or_default() };
        if at % 2 == 0 {
            text.extend(lines.iter().map(|line| prose(line, looks) + "\n"));
            continue;
        }
        let other = parts.get(if at % 4 == 1 { at + 2 } else { at - 2 }).and_then(|other| other.get(1..));
        let shared = other.map_or(vec![true; lines.len()], |other| shared_lines(lines, other));
        if at == 1 && shared.contains(&false) {
            text.push_str("Lines marked > are those in which this example and the one that is put right differ.\n\n");
        }
        for (line, shared) in lines.iter().zip(shared) {
            text.push_str(&format!("  {} {line}\n", if shared { " " } else { ">" }));
        }
    }
    text
}

/// A line of a page outside its examples, without the marks of Markdown.
fn prose(line: &str, looks: Option<Looks>) -> String {
    let words = line.replace("**", "").replace('`', "");
    if words.starts_with('#') { heading(words.trim_start_matches(['#', ' ']), looks) } else { words }
}

/// Which of `lines` stand in the longest run of lines that both have in the same order.
fn shared_lines(lines: &[&str], other: &[&str]) -> Vec<bool> {
    let mut longest = vec![vec![0u32; other.len() + 1]; lines.len() + 1];
    for (at, line) in lines.iter().enumerate().rev() {
        for (there, other_line) in other.iter().enumerate().rev() {
            longest[at][there] = match line == other_line {
                true => longest[at + 1][there + 1] + 1,
                false => longest[at + 1][there].max(longest[at][there + 1]),
            };
        }
    }
    let mut shared = vec![false; lines.len()];
    let (mut at, mut there) = (0, 0);
    while at < lines.len() && there < other.len() {
        if lines[at] == other[there] {
            shared[at] = true;
            (at, there) = (at + 1, there + 1);
        } else if longest[at + 1][there] >= longest[at][there + 1] {
            at += 1;
        } else {
            there += 1;
        }
    }
    shared
}

fn heading(words: &str, looks: Option<Looks>) -> String {
    match looks {
        Some(Looks { colour: true, .. }) => format!("\u{1b}[1m{words}\u{1b}[0m"),
        _ => words.to_string(),
    }
}

fn nearest(wanted: &str) -> Option<&'static dyn Rule> {
    let distance = |rule: &dyn Rule| strsim::damerau_levenshtein(wanted, &rule.name().to_string());
    let near = rules::ALL.iter().copied().min_by_key(|rule| distance(*rule))?;
    (distance(near) <= wanted.chars().count() / 2).then_some(near)
}
