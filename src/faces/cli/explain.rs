//! `anteroom explain [NAME]`: the page of one finding, or the list of all.

use super::{Ending, Screen};
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
            screen.say(&list(rules::ALL));
            return Ending::Clear;
        }
        if let Some(rule) = rules::named(&wanted) {
            screen.say(&page(rule, screen.looks.is_some_and(|looks| looks.colour)));
            return Ending::Clear;
        }
        let family = wanted.trim().to_lowercase();
        let of_family: Vec<_> = rules::ALL.iter().copied().filter(|rule| rule.name().family == family).collect();
        if !of_family.is_empty() {
            screen.say(&list(&of_family));
            return Ending::Clear;
        }
        let near = nearest(&family).map(|rule| format!(" Did you mean “{}”?", rule.name())).unwrap_or_default();
        screen.remark(&format!("There is no finding called “{}”.{near}", wanted.trim()));
        screen.remark("For the list of all: anteroom explain");
        Ending::CouldNotRun
    }
}

/// By family, each with its signal word and the first sentence of its page.
fn list(rules: &[&dyn Rule]) -> String {
    let mut text = String::new();
    let mut family = "";
    for rule in rules {
        if rule.name().family != family {
            family = rule.name().family;
            text.push_str(&format!("{}{family}\n", if text.is_empty() { "" } else { "\n" }));
        }
        let name = rule.name().to_string();
        text.push_str(&format!("  {name:<24} {:<8} {}\n", rule.signal().word(), gist(rule.page())));
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

fn page(rule: &dyn Rule, colour: bool) -> String {
    let heading = format!("{} ({}, {})", rule.name(), rule.signal().word(), rule.kind().word());
    let mut text = if colour { format!("\u{1b}[1m{heading}\u{1b}[0m\n\n") } else { format!("{heading}\n\n") };
    let mut in_example = false;
    for line in rule.page().lines() {
        if line.starts_with("```") {
            in_example = !in_example;
        } else if in_example {
            text.push_str(&format!("    {line}\n"));
        } else if let Some(title) = line.strip_prefix('#') {
            let title = title.trim_start_matches('#').trim();
            let title = title.replace(['*', '`'], "");
            text.push_str(&if colour { format!("\u{1b}[1m{title}\u{1b}[0m\n") } else { format!("{title}\n") });
        } else {
            text.push_str(&format!("{}\n", line.replace("**", "").replace('`', "")));
        }
    }
    text
}

fn nearest(wanted: &str) -> Option<&'static dyn Rule> {
    let distance = |rule: &dyn Rule| strsim::damerau_levenshtein(wanted, &rule.name().to_string());
    let near = rules::ALL.iter().copied().min_by_key(|rule| distance(*rule))?;
    (distance(near) <= wanted.chars().count() / 2).then_some(near)
}
