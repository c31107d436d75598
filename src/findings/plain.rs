//! Findings in plain sentences, for pipes and screen readers: a short paragraph each, no drawing and no colour.
//!
//! In: a finding and the sources. Out: text. Must never rest a meaning on a sign that is not read aloud.

use super::shown::{shortened, spoken};
use super::{Finding, Kind};
use crate::text::{Sources, Span};

/// One finding: a line with signal word, place and title, then its sentences, one a line.
pub fn finding(finding: &Finding, sources: &Sources) -> String {
    let mut lines = vec![format!(
        "{}{} in {}: {}.",
        finding.signal.word(),
        if finding.accepted.is_some() { ", accepted," } else { "" },
        place(finding.span, sources),
        finding.title.trim_end_matches('.')
    )];
    if !finding.sentence.trim().is_empty() {
        lines.push(format!("It says: “{}”", shortened(&finding.sentence, 200)));
    }
    lines.push(finding.message.clone());
    lines.extend(case(finding));
    if !finding.chain.is_empty() {
        lines.push("How the hazard gets there:".into());
        lines.extend(numbered(&finding.chain));
    }
    lines.extend(finding.related.iter().map(|(span, words)| also(*span, words, sources)));
    lines.push(format!("Way out: {}", finding.way_out));
    lines.extend(authority(finding));
    lines.extend(finding.accepted.as_ref().map(|why| format!("Accepted by the policy: {why}")));
    lines.push(format!("To read more: anteroom explain {}", finding.name));
    let lines: Vec<_> = lines.iter().map(|line| spoken(line)).collect();
    lines.join("\n") + "\n"
}

/// `side-room.ppe, line 12, column 3`
pub fn place(span: Span, sources: &Sources) -> String {
    let start = sources.start(span);
    format!("{}, line {}, column {}", sources.get(span.source).name, start.line, start.column)
}

/// `This happens when splash is likely and boots are not supplied.`
pub fn case(finding: &Finding) -> Option<String> {
    let words = match finding.case.split_last()? {
        (only, []) => only.clone(),
        (last, others) => format!("{} and {last}", others.join(", ")),
    };
    Some(format!("This happens when {words}."))
}

pub fn numbered(chain: &[String]) -> impl Iterator<Item = String> {
    chain.iter().enumerate().map(|(at, touch)| format!("{}. {touch}", at + 1))
}

pub fn also(span: Span, words: &str, sources: &Sources) -> String {
    format!("See also {}: {words}.", place(span, sources), words = words.trim_end_matches('.'))
}

/// Whose rule it is, and where it is published; nothing where a line cannot be read, since that is no rule of the ward.
pub fn authority(finding: &Finding) -> Option<String> {
    let kind = match finding.kind {
        Kind::Law if finding.name.family == "reading" => "",
        Kind::Law => "This follows from the procedure itself.",
        Kind::Guidance => "This is published guidance.",
        Kind::House => "This is the hospital's own rule.",
    };
    let source = finding.source.as_ref().map(|source| format!("Source: {}.", source.trim_end_matches('.')));
    let parts: Vec<&str> = [kind].into_iter().chain(source.as_deref()).filter(|part| !part.is_empty()).collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}
