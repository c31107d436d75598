//! A run's report as one JSON object, for other programs. Its shape is published in `report.schema.json` beside this file.
//!
//! In: a report. Out: JSON text. Must never leave out a field because it is empty.

use serde::Serialize;

use super::envelope::{self, Unread};
use super::{Finding, Kind, PolicyReport, Report, Signal};
use crate::session::{Approach, Timing};
use crate::text::{Sources, Span};

/// JSON Schema 2020-12 of [`report`].
pub const SCHEMA: &str = include_str!("report.schema.json");

pub fn report(report: &Report) -> String {
    let tally = report.tally();
    let shape = Shape {
        findings: report.policies.iter().flat_map(entries).collect(),
        counts: Counts {
            danger: tally.of(Signal::Danger),
            warning: tally.of(Signal::Warning),
            caution: tally.of(Signal::Caution),
            notice: tally.of(Signal::Notice),
            accepted: tally.accepted,
        },
        policies: report.policies.iter().map(policy).collect(),
        examined: report.policies.iter().map(examined).collect(),
        unread: envelope::unread(report.unread),
    };
    envelope::json(&shape)
}

#[derive(Serialize)]
struct Shape<'a> {
    findings: Vec<Entry<'a>>,
    counts: Counts,
    policies: Vec<PolicyEntry<'a>>,
    examined: Vec<ExaminedEntry<'a>>,
    unread: Vec<Unread<'a>>,
}

#[derive(Serialize)]
struct Counts {
    danger: usize,
    warning: usize,
    caution: usize,
    notice: usize,
    accepted: usize,
}

#[derive(Serialize)]
struct Entry<'a> {
    name: String,
    family: &'static str,
    kind: Kind,
    signal: Signal,
    title: &'a str,
    #[serde(flatten)]
    place: Place<'a>,
    sentence: &'a str,
    message: &'a str,
    way_out: &'a str,
    case: &'a [String],
    chain: &'a [String],
    related: Vec<Related<'a>>,
    source: Option<&'a str>,
    accepted: Option<&'a str>,
}

/// Lines and columns count from 1; the end is the place just after the last character.
#[derive(Serialize)]
struct Place<'a> {
    file: &'a str,
    line: u32,
    column: u32,
    end_line: u32,
    end_column: u32,
}

#[derive(Serialize)]
struct Related<'a> {
    #[serde(flatten)]
    place: Place<'a>,
    message: &'a str,
}

#[derive(Serialize)]
struct PolicyEntry<'a> {
    file: &'a str,
    title: Option<&'a str>,
    edition: Option<u32>,
    fingerprint: &'a str,
    today: Option<String>,
}

#[derive(Serialize)]
struct ExaminedEntry<'a> {
    file: &'a str,
    looked_at: &'a [String],
    not_looked_at: &'a [String],
    nearest: &'a [Approach],
    times: &'a [Timing],
}

fn entries<'a>(policy: &'a PolicyReport<'a>) -> impl Iterator<Item = Entry<'a>> {
    let sources = &policy.checked.reading.sources;
    policy.findings.iter().map(|finding| entry(finding, sources))
}

fn entry<'a>(finding: &'a Finding, sources: &'a Sources) -> Entry<'a> {
    let related = |(span, words): &'a (Span, String)| Related { place: place(*span, sources), message: words };
    Entry {
        name: finding.name.to_string(),
        family: finding.name.family,
        kind: finding.kind,
        signal: finding.signal,
        title: &finding.title,
        place: place(finding.span, sources),
        sentence: &finding.sentence,
        message: &finding.message,
        way_out: &finding.way_out,
        case: &finding.case,
        chain: &finding.chain,
        related: finding.related.iter().map(related).collect(),
        source: finding.source.as_deref(),
        accepted: finding.accepted.as_deref(),
    }
}

fn place(span: Span, sources: &Sources) -> Place<'_> {
    let (start, end) = (sources.start(span), sources.end(span));
    Place {
        file: &sources.get(span.source).name,
        line: start.line,
        column: start.column,
        end_line: end.line,
        end_column: end.column,
    }
}

fn policy<'a>(policy: &'a PolicyReport<'a>) -> PolicyEntry<'a> {
    let paper = &policy.checked.reading.policy.paper;
    PolicyEntry {
        file: policy.file,
        title: paper.title.as_deref(),
        edition: paper.edition,
        fingerprint: &policy.checked.fingerprint,
        today: policy.checked.today.map(|day| day.0.to_string()),
    }
}

fn examined<'a>(policy: &'a PolicyReport<'a>) -> ExaminedEntry<'a> {
    let examined = &policy.checked.examined;
    ExaminedEntry {
        file: policy.file,
        looked_at: &examined.looked_at,
        not_looked_at: &examined.not_looked_at,
        nearest: &examined.approaches,
        times: &examined.timings,
    }
}
