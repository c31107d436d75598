//! The fingerprint of a policy's meaning: what changes it and what does not. That it is a SHA-256 is checked beside it
//! against FIPS 180-4; what counts as meaning is the project's own.

use anteroom::policy::meaning::{fingerprint, meaning};
use anteroom::syntax::{declarations, parse, tidy};
use anteroom::text::SourceId;

use crate::policy::read;

const SAMPLES: [&str; 3] = [
    include_str!("../samples/isolation-suite.ppe"),
    include_str!("../samples/side-room.ppe"),
    include_str!("../samples/transfer-team.ppe"),
];

fn print_of(text: &str) -> String {
    fingerprint(&read(text).policy)
}

/// What stands outside and inside quotes, in turn.
fn pieces(text: &str) -> Vec<String> {
    text.split('"').map(str::to_owned).collect()
}

#[test]
fn layout_case_and_notes_do_not_change_it() {
    for sample in SAMPLES {
        let outside: Vec<String> = pieces(sample)
            .iter()
            .enumerate()
            .map(|(at, piece)| if at % 2 == 0 { piece.to_uppercase() } else { piece.clone() })
            .collect();
        let shouted = outside.join("\"");
        assert_eq!(read(&shouted).problems, []);
        let relaid: String = sample
            .lines()
            .map(|line| format!("\r\n\t   {}\r\n\r\nnote Something for the writers.\r\n", line.trim()))
            .collect();
        let curly = sample.split('"').enumerate().fold(String::new(), |so_far, (at, piece)| match at {
            0 => piece.to_owned(),
            at if at % 2 == 1 => so_far + "“" + piece,
            _ => so_far + "”" + piece,
        });
        let (tree, _) = parse(SourceId(0), sample, &declarations(sample));
        let tidied = tidy(&tree, sample, &declarations(sample));
        for other in [shouted, relaid, curly, tidied] {
            assert_eq!(print_of(sample), print_of(&other), "{other}");
        }
    }
}

#[test]
fn the_order_of_declarations_does_not_change_it() {
    for sample in SAMPLES {
        let mut blocks: Vec<String> = Vec::new();
        for line in sample.lines() {
            if line.starts_with(' ') && !blocks.is_empty() {
                let block = blocks.last_mut().unwrap();
                *block += "\n";
                *block += line;
            } else if !line.is_empty() {
                blocks.push(line.to_owned());
            }
        }
        let turns =
            ["item ", "cleaner ", "container ", "place ", "way ", "hazard ", "role ", "source ", "surface ", "print "];
        let is_turned = |block: &String| turns.iter().any(|word| block.starts_with(word));
        let mut turned: Vec<String> = blocks.iter().filter(|block| is_turned(block)).cloned().collect();
        turned.reverse();
        let others = blocks.iter().filter(|block| !is_turned(block)).cloned();
        let text = others.chain(turned).collect::<Vec<_>>().join("\n");
        assert_ne!(text, sample);
        assert_eq!(meaning(&read(sample).policy), meaning(&read(&text).policy));
    }
}

#[test]
fn every_quoted_word_changes_it() {
    for sample in SAMPLES {
        let whole = print_of(sample);
        let pieces = pieces(sample);
        for at in (1..pieces.len()).step_by(2) {
            if pieces[at].ends_with(".ppe") {
                continue;
            }
            let words: Vec<&str> = pieces[at].split(' ').collect();
            for word in 0..words.len() {
                let mut other = words.clone();
                other[word] = "otherwise";
                let mut changed = pieces.clone();
                changed[at] = other.join(" ");
                assert_ne!(whole, print_of(&changed.join("\"")), "{} → {}", pieces[at], changed[at]);
            }
        }
    }
}

#[test]
fn every_number_and_every_line_of_a_sequence_changes_it() {
    for sample in SAMPLES {
        let whole = print_of(sample);
        let lines: Vec<&str> = sample.lines().collect();
        for (at, line) in lines.iter().enumerate() {
            // A card is on A6 whether a line says so or not.
            let is_content = line.starts_with("  ") && *line != "  on A6";
            if is_content {
                let without: Vec<&str> =
                    lines.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, l)| *l).collect();
                assert_ne!(whole, print_of(&without.join("\n")), "without: {line}");
            }
            let outside = line.split('"').next().unwrap_or_default();
            for number in outside.split(' ').filter(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_digit()))
            {
                let more = (number.parse::<u64>().unwrap() + 1).to_string();
                let mut changed = lines.clone();
                let other = line.replacen(number, &more, 1);
                changed[at] = &other;
                assert_ne!(whole, print_of(&changed.join("\n")), "{line} → {other}");
            }
        }
    }
}

#[test]
fn every_name_in_a_step_changes_it() {
    let sample = SAMPLES[0];
    let whole = print_of(sample);
    let swaps = [
        ("wearer", "helper"),
        ("helper", "observer"),
        ("apron", "hood"),
        ("outer gloves", "inner gloves"),
        ("coverall", "hood"),
        ("clinical waste", "goggles box"),
        ("hand rub", "soap and water"),
        ("by ties", "by straps"),
        ("exit lobby", "bed space"),
        ("corridor", "lobby"),
        ("puts on", "changes"),
        ("cleans hands with", "checks"),
    ];
    let lines: Vec<&str> = sample.lines().collect();
    let first = lines.iter().position(|line| line.starts_with("sequence")).unwrap();
    let last = lines.iter().position(|line| line.starts_with("print")).unwrap();
    let mut swapped = 0;
    for at in first..last {
        let outside = lines[at].split('"').next().unwrap_or_default();
        for (from, to) in swaps.iter().filter(|(from, _)| outside.contains(from)) {
            let other = lines[at].replacen(from, to, 1);
            let mut changed = lines.clone();
            changed[at] = &other;
            assert_ne!(whole, print_of(&changed.join("\n")), "{} → {other}", lines[at]);
            swapped += 1;
        }
    }
    assert!(swapped > 100, "{swapped}");
}

#[test]
fn the_fingerprint_is_eight_hexadecimal_digits() {
    let print = print_of(SAMPLES[0]);
    assert_eq!(print.len(), 8);
    assert!(print.chars().all(|c| c.is_ascii_digit() || ('a'..='f').contains(&c)));
}
