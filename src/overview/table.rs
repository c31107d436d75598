//! The overview as people read it: a table on a terminal, sentences for a pipe and for reading aloud.
//!
//! In: an overview. Out: text. Must never be wider than 80 columns where it is a table, nor cut a title.

use super::{Entry, Overview};
use crate::findings::shown::shown;
use crate::findings::terminal::wrapped;

/// Columns of the whole table.
const WIDTH: usize = 80;
/// Of the policy's title, the edition, the state, the review date and what is left until then; two stand between them.
const COLUMNS: [usize; 5] = [29, 7, 16, 10, 10];
const HEADINGS: [&str; 5] = ["Policy", "Edition", "State", "Review by", "Days left"];

/// An aligned table with what is told of each policy beneath it.
pub fn table(overview: &Overview) -> String {
    let mut text = wrapped(&opening(overview), "", "", WIDTH);
    if !overview.policies.is_empty() {
        text.push_str(&row(HEADINGS.map(str::to_owned)));
    }
    for policy in &overview.policies {
        text.push_str(&row(cells(policy)));
        let file = format!("{}, fingerprint {}", policy.file, policy.fingerprint);
        for sentence in [file].into_iter().chain(policy.sentences(overview.today)) {
            text.push_str(&wrapped(&shown(&sentence), "  ", "    ", WIDTH));
        }
    }
    text
}

/// One sentence a line, without columns.
pub fn sentences(overview: &Overview) -> Vec<String> {
    let mut lines = vec![opening(overview)];
    for policy in &overview.policies {
        let review = policy.review.as_ref().filter(|_| !policy.is_over());
        let review = review.map(|review| format!(". Review by {}, {}", review.by, review.left()));
        lines.push(format!("{}: {}{}.", policy.name(), policy.state.word(), review.unwrap_or_default()));
        let file = format!("{}, fingerprint {}", policy.file, policy.fingerprint);
        lines.extend([file].into_iter().chain(policy.sentences(overview.today)).map(|told| format!("  {told}")));
    }
    lines
}

/// `On 1 December 2026, 3 policies, what is due first at the top. 1 needs somebody now.`
fn opening(overview: &Overview) -> String {
    let needing = overview.policies.iter().filter(|policy| policy.needs_action).count();
    let needing = match needing {
        0 => "None needs somebody today".to_owned(),
        1 => "1 needs somebody now".to_owned(),
        many => format!("{many} need somebody now"),
    };
    let day = overview.today;
    match overview.policies.len() {
        0 => format!("On {day}, no policy."),
        1 => format!("On {day}, 1 policy. {needing}."),
        many => format!("On {day}, {many} policies, what is due first at the top. {needing}."),
    }
}

fn cells(policy: &Entry) -> [String; 5] {
    let review = policy.review.as_ref();
    [
        policy.title.clone().unwrap_or_else(|| "No title".to_owned()),
        policy.edition.map_or_else(|| "none".to_owned(), |number| number.to_string()),
        policy.state.word().to_owned(),
        review.map_or_else(|| "none".to_owned(), |review| review.by.0.to_string()),
        review.filter(|_| !policy.is_over()).map_or_else(String::new, |review| review.days_left.to_string()),
    ]
}

/// Words that need more room than their column go on beneath it.
fn row(cells: [String; 5]) -> String {
    let columns: Vec<Vec<String>> =
        cells.iter().zip(COLUMNS).map(|(cell, width)| folded(&shown(cell), width)).collect();
    let height = columns.iter().map(Vec::len).max().unwrap_or_default();
    let mut text = String::new();
    for at in 0..height {
        let mut line = String::new();
        for (place, (column, width)) in columns.iter().zip(COLUMNS).enumerate() {
            let words = column.get(at).map_or("", String::as_str);
            // Numbers end where their column ends.
            let room = width.saturating_sub(words.chars().count());
            let (before, after) = if place == 1 || place == 4 { (room, 0) } else { (0, room) };
            line.push_str(&" ".repeat(before));
            line.push_str(words);
            line.push_str(&" ".repeat(after));
            line.push_str("  ");
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

/// Lines of at most so many letters; a longer word is broken.
fn folded(text: &str, width: usize) -> Vec<String> {
    let mut words = String::new();
    for word in text.split_whitespace() {
        for (at, letter) in word.chars().enumerate() {
            if at > 0 && at % width == 0 {
                words.push(' ');
            }
            words.push(letter);
        }
        words.push(' ');
    }
    let lines = wrapped(&words, "", "", width);
    lines.lines().map(str::to_owned).collect()
}
