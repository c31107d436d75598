//! Edits of a known kind, each reported as that kind and no other. The policies are samples; what an edit is, its own text says.

use anteroom::compare::change::What;
use anteroom::compare::field::Field;
use anteroom::compare::view::Kind;

use super::{changes, told};
use anteroom::policy::Policy;

use crate::policy::read;

const SAMPLES: [&str; 3] = [
    include_str!("../../samples/isolation-suite.ppe"),
    include_str!("../../samples/side-room.ppe"),
    include_str!("../../samples/transfer-team.ppe"),
];

/// What the one change is: what, of what kind, which field.
type Is = (What, Kind, Option<Field>);

struct Tried {
    sample: &'static str,
    old: Policy,
    seen: usize,
    done: usize,
    missed: Vec<String>,
}

/// Of the edits that could be tried, every so manyth is; all with `ANTEROOM_EDITS=all`.
const EVERY: usize = 3;

impl Tried {
    fn one(&mut self, new: &str, is: Is) {
        self.seen += 1;
        if !self.seen.is_multiple_of(EVERY) && std::env::var_os("ANTEROOM_EDITS").is_none() {
            return;
        }
        let after = read(new);
        if self.old.gaps.len() != after.policy.gaps.len() {
            return;
        }
        self.done += 1;
        let found = changes(&self.old, &after.policy);
        let seen: Vec<Is> = found.iter().map(|change| (change.what, change.kind, change.field)).collect();
        if seen != [is] {
            let edit = self.sample.lines().zip(new.lines()).find(|(old, new)| old != new);
            self.missed.push(format!("{is:?} was told as {seen:?}\n{edit:?}\n{}", told(&found)));
        }
    }
}

/// The lines of a step: its own and those beneath it.
fn block(lines: &[&str], at: usize) -> usize {
    1 + lines[at + 1..].iter().take_while(|line| line.starts_with("    ")).count()
}

fn is_step(line: &str) -> bool {
    let opens = ["  wearer ", "  helper ", "  observer ", "  driver ", "  buddy "];
    opens.iter().any(|open| line.starts_with(open)) && !line.contains(" wears ")
}

fn in_sequence(lines: &[&str], at: usize) -> Option<Kind> {
    let head = lines[..at].iter().rev().find(|line| !line.starts_with(' ') && !line.is_empty())?;
    if head.starts_with("sequence") {
        Some(Kind::Sequence)
    } else {
        head.starts_with("contingency").then_some(Kind::Contingency)
    }
}

fn joined(lines: &[&str]) -> String {
    lines.join("\n") + "\n"
}

#[test]
fn every_edit_of_a_known_kind_is_told_as_that_and_as_nothing_else() {
    let mut tried = Tried { sample: "", old: Policy::default(), seen: 0, done: 0, missed: Vec::new() };
    for sample in SAMPLES {
        tried.sample = sample;
        tried.old = read(sample).policy;
        steps_out_in_and_moved(sample, &mut tried);
        words_of_steps(sample, &mut tried);
        lines_beneath(sample, &mut tried);
        declarations(sample, &mut tried);
        names(sample, &mut tried);
    }
    assert!(tried.done >= 200, "{}", tried.done);
    assert!(tried.missed.is_empty(), "{} of {} missed:\n{}", tried.missed.len(), tried.done, tried.missed.join("\n"));
}

fn steps_out_in_and_moved(sample: &str, tried: &mut Tried) {
    let lines: Vec<&str> = sample.lines().collect();
    for at in (0..lines.len()).filter(|&at| is_step(lines[at])) {
        let Some(kind) = in_sequence(&lines, at) else { continue };
        let end = at + block(&lines, at);
        let out = [&lines[..at], &lines[end..]].concat();
        tried.one(&joined(&out), (What::TakenOut, kind, None));
        let new = [&lines[..at], &["  wearer does \"Count to ten\""], &lines[at..]].concat();
        tried.one(&joined(&new), (What::Added, kind, None));
        // Past the next step, if that is another and nothing else stands between.
        let next_is_step = lines.get(end).is_some_and(|next| is_step(next) && *next != lines[at]);
        if next_is_step {
            let after = end + block(&lines, end);
            let moved = [&lines[..at], &lines[end..after], &lines[at..end], &lines[after..]].concat();
            tried.one(&joined(&moved), (What::Moved, kind, None));
        }
    }
}

fn words_of_steps(sample: &str, tried: &mut Tried) {
    let lines: Vec<&str> = sample.lines().collect();
    let swaps: [(&str, &str, What, Field); 6] = [
        ("  wearer cleans hands", "  helper cleans hands", What::Role, Field::Actor),
        ("for 30 seconds", "for 25 seconds", What::Time, Field::CleanedFor),
        (" by cuff", "", What::Grip, Field::Grip),
        (" by ties", "", What::Grip, Field::Grip),
        (", rolling it inside out,", "", What::Grip, Field::InsideOut),
        (" into clinical waste", "", What::Container, Field::Into),
    ];
    for at in (0..lines.len()).filter(|&at| is_step(lines[at])) {
        let Some(kind) = in_sequence(&lines, at) else { continue };
        for (from, to, what, field) in swaps {
            if lines[at].contains(from) {
                let line = lines[at].replacen(from, to, 1);
                let new = [&lines[..at], &[line.as_str()], &lines[at + 1..]].concat();
                tried.one(&joined(&new), (what, kind, Some(field)));
            }
        }
        if !lines[at].contains(" if ") && !lines[at].contains(" unless ") && !lines[at].contains(" does ") {
            let line = format!("{} if floor is wet", lines[at]);
            let new = [&lines[..at], &[line.as_str()], &lines[at + 1..]].concat();
            tried.one(&joined(&new), (What::Condition, kind, Some(Field::Condition)));
        }
    }
}

fn lines_beneath(sample: &str, tried: &mut Tried) {
    let lines: Vec<&str> = sample.lines().collect();
    let beneath = [
        ("    say ", Field::Say),
        ("    look for ", Field::LookFor),
        ("    stop if ", Field::StopIf),
        ("    caution ", Field::Caution),
        ("    warning ", Field::Warning),
        ("    danger ", Field::Danger),
    ];
    for at in 0..lines.len() {
        let Some(kind) = in_sequence(&lines, at) else { continue };
        let Some((_, field)) = beneath.iter().find(|(open, _)| lines[at].starts_with(open)) else { continue };
        let out = [&lines[..at], &lines[at + 1..]].concat();
        tried.one(&joined(&out), (What::TakenOut, kind, Some(*field)));
        let line = lines[at].trim_end_matches('"').to_owned() + " And twice over.\"";
        let new = [&lines[..at], &[line.as_str()], &lines[at + 1..]].concat();
        tried.one(&joined(&new), (What::Reworded, kind, Some(*field)));
    }
}

fn declarations(sample: &str, tried: &mut Tried) {
    let lines: Vec<&str> = sample.lines().collect();
    let edits: [(&str, &str, &str, Is); 7] = [
        ("  covers ", ", ", " ", (What::Coverage, Kind::Item, Some(Field::Covers))),
        ("  meets ", "\"EN ", "\"ENV ", (What::Item, Kind::Item, Some(Field::Meets))),
        ("owner ", "\"", "\"Acting ", (What::DocumentControl, Kind::Paper, Some(Field::Owner))),
        ("review by ", " 20", " 19", (What::DocumentControl, Kind::Paper, Some(Field::ReviewBy))),
        ("  on A", "on A", "on A", (What::Printing, Kind::Print, Some(Field::Paper))),
        ("  stay no longer than ", "1", "2", (What::Time, Kind::Level, Some(Field::Stay))),
        ("  holds ", "0 litres", "5 litres", (What::Container, Kind::Container, Some(Field::Holds))),
    ];
    for at in 0..lines.len() {
        for (open, from, to, is) in &edits {
            if !lines[at].starts_with(open) {
                continue;
            }
            let line = match *open {
                // The last area is no longer covered.
                "  covers " => lines[at].rsplit_once(", ").map(|(rest, _)| rest.to_owned()),
                "  on A" => Some(if lines[at].contains("A5") { "  on A6".to_owned() } else { "  on A5".to_owned() }),
                _ => Some(lines[at].replacen(from, to, 1)),
            };
            let Some(line) = line.filter(|line| line != lines[at]) else { continue };
            let new = [&lines[..at], &[line.as_str()], &lines[at + 1..]].concat();
            tried.one(&joined(&new), *is);
        }
        if let Some(number) = lines[at].strip_prefix("  keep skin ").and_then(|rest| rest.chars().next()?.to_digit(10))
        {
            let line = lines[at].replacen(&number.to_string(), &(number + 1).to_string(), 1);
            let new = [&lines[..at], &[line.as_str()], &lines[at + 1..]].concat();
            tried.one(&joined(&new), (What::Margin, Kind::Level, Some(Field::Margins)));
        }
    }
}

/// Every name that is declared outside quotes, and every title of a hold or a part, in other words.
fn names(sample: &str, tried: &mut Tried) {
    for line in sample.lines() {
        for (open, kind) in [("item ", Kind::Item), ("role ", Kind::Role), ("place ", Kind::Place)] {
            let Some(rest) = line.strip_prefix(open) else { continue };
            let name = rest.split(" is ").next().unwrap_or(rest).split(" \"").next().unwrap_or(rest).trim();
            // Its letters stand in other names too.
            if sample.lines().filter(|line| line.contains(&format!("{name} \"")) || line.ends_with(name)).count() == 0 {
                continue;
            }
            let new = outside_quotes(sample, name, "zebra");
            tried.one(&new, (What::Renamed, kind, None));
        }
        for open in ["  hold \"", "  part \""] {
            let Some(title) = line.strip_prefix(open).and_then(|rest| rest.split('"').next()) else { continue };
            if sample.matches(&format!("{open}{title}\"")).count() == 1
                && sample.matches(&format!("\"{title}\"")).count() <= 2
            {
                let new = sample.replace(&format!("\"{title}\""), "\"Zebra crossing\"");
                tried.one(&new, (What::Renamed, Kind::Sequence, None));
            }
        }
    }
}

/// Whole words outside quotes, that are not part of a longer name.
fn outside_quotes(text: &str, from: &str, to: &str) -> String {
    let longer: Vec<&str> = text
        .lines()
        .filter_map(|line| {
            ["item ", "role ", "place ", "surface ", "container "].iter().find_map(|open| line.strip_prefix(open))
        })
        .map(|rest| rest.split(" is ").next().unwrap_or(rest).split(" \"").next().unwrap_or(rest).trim())
        .filter(|name| *name != from && format!(" {name} ").contains(&format!(" {from} ")))
        .collect();
    // The kinds of cards bear names of their own: `print observer card`.
    let kept = |before: &str| before.lines().last().is_some_and(|line| line.starts_with("print "));
    let pieces = text.split('"').enumerate().map(|(at, piece)| {
        if at % 2 == 1 || kept(piece) {
            return piece.to_owned();
        }
        let mut piece = piece.to_owned();
        for (number, name) in longer.iter().enumerate() {
            piece = whole_words(&piece, name, &format!("\u{1}{number}\u{1}"));
        }
        piece = whole_words(&piece, from, to);
        for (number, name) in longer.iter().enumerate() {
            piece = piece.replace(&format!("\u{1}{number}\u{1}"), name);
        }
        piece
    });
    pieces.collect::<Vec<_>>().join("\"")
}

fn whole_words(text: &str, from: &str, to: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(from) {
        let is_edge = |c: Option<char>| c.is_none_or(|c| !c.is_alphanumeric() && c != '-');
        let (before, after) = (rest[..at].chars().next_back(), rest[at + from.len()..].chars().next());
        let before = before.or_else(|| out.chars().next_back());
        out.push_str(&rest[..at]);
        out.push_str(if is_edge(before) && is_edge(after) { to } else { from });
        rest = &rest[at + from.len()..];
    }
    out + rest
}
