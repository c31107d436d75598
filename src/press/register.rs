//! The print register: a table of comma-separated values that the hospital keeps, a line for each copy.
//!
//! In: its text. Out: its lines, its text with lines added. Must never change or lose a line that is there, take a table
//! for a register that is none, or write a word that a spreadsheet would reckon with.

use std::collections::BTreeSet;

use crate::text::table::{guarded, plain, records, row};

/// The first line. Columns that a hospital adds stay as they are.
pub const COLUMNS: [&str; 11] =
    ["policy", "site", "edition", "fingerprint", "aid", "file", "copy", "of", "place", "issued", "returned"];

/// One copy.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Line {
    pub policy: String,
    pub site: String,
    pub edition: String,
    pub fingerprint: String,
    /// `Observer card, Taking off`
    pub aid: String,
    /// The aid's file name without ending.
    pub file: String,
    pub copy: String,
    pub of: String,
    pub place: String,
    /// `2026-12-01`
    pub issued: String,
    /// Whatever the hospital writes when the copy is back or destroyed; empty: it is still out.
    pub returned: String,
}

impl Line {
    fn fields(&self) -> [&str; COLUMNS.len()] {
        [
            &self.policy,
            &self.site,
            &self.edition,
            &self.fingerprint,
            &self.aid,
            &self.file,
            &self.copy,
            &self.of,
            &self.place,
            &self.issued,
            &self.returned,
        ]
    }

    fn of(mut field: impl FnMut(usize) -> String) -> Line {
        Line {
            policy: field(0),
            site: field(1),
            edition: field(2),
            fingerprint: field(3),
            aid: field(4),
            file: field(5),
            copy: field(6),
            of: field(7),
            place: field(8),
            issued: field(9),
            returned: field(10),
        }
    }

    pub fn is_out(&self) -> bool {
        self.returned.trim().is_empty()
    }

    /// What no two copies share.
    fn key(&self) -> (&str, &str, &str) {
        (&self.fingerprint, &self.file, &self.copy)
    }
}

/// An edition that goes out.
#[derive(Clone, Debug)]
pub struct Edition<'a> {
    pub policy: &'a str,
    pub site: &'a str,
    pub number: Option<u32>,
    pub fingerprint: &'a str,
}

#[derive(Clone, Debug)]
pub struct Register {
    text: String,
    lines: Vec<Line>,
    /// Where each of our columns stands among all of them.
    places: [usize; COLUMNS.len()],
    width: usize,
}

impl Register {
    pub fn new() -> Register {
        Register { text: row(&COLUMNS), lines: Vec::new(), places: std::array::from_fn(|at| at), width: COLUMNS.len() }
    }

    /// `Err`: why it cannot be read, as a clause.
    pub fn read(text: &str) -> Result<Register, String> {
        if text.trim_start_matches('\u{feff}').trim().is_empty() {
            return Ok(Register::new());
        }
        let mut records = records(text.trim_start_matches('\u{feff}'))?.into_iter();
        let head = records.next().map(|record| record.fields).unwrap_or_default();
        let mut places = [0; COLUMNS.len()];
        for (place, column) in places.iter_mut().zip(COLUMNS) {
            let mut found = head.iter().enumerate().filter(|(_, name)| name.trim().eq_ignore_ascii_case(column));
            let first = found.next().ok_or_else(|| format!("its first line has no column “{column}”"))?;
            if found.next().is_some() {
                return Err(format!("its first line has the column “{column}” twice"));
            }
            *place = first.0;
        }
        let mut lines = Vec::new();
        for record in records {
            let (has, wanted) = (record.fields.len(), head.len());
            if has != wanted {
                let number = record.line();
                return Err(format!("its line {number} has {has} columns, and its first line has {wanted}"));
            }
            lines.push(Line::of(|at| record.fields.get(places[at]).map(plain).unwrap_or_default()));
        }
        Ok(Register { text: text.to_string(), lines, places, width: head.len() })
    }

    pub fn text(&self) -> &str {
        &self.text
    }

    pub fn lines(&self) -> &[Line] {
        &self.lines
    }

    /// Adds those that it does not hold yet; how many those are.
    pub fn add(&mut self, lines: Vec<Line>) -> usize {
        let held: BTreeSet<_> = self.lines.iter().map(Line::key).collect();
        let fresh: Vec<Line> = lines.iter().filter(|line| !held.contains(&line.key())).cloned().collect();
        if !fresh.is_empty() && !self.text.ends_with('\n') {
            self.text.push_str("\r\n");
        }
        for line in &fresh {
            let mut record = vec![String::new(); self.width];
            for (place, field) in self.places.iter().zip(line.fields()) {
                if let Some(at) = record.get_mut(*place) {
                    *at = guarded(field);
                }
            }
            self.text.push_str(&row(&record));
        }
        let count = fresh.len();
        self.lines.extend(fresh);
        count
    }

    /// Copies still out that an edition takes the place of: those of the same policy in other words and no later edition,
    /// and those of the fingerprints named.
    pub fn recalled(&self, by: &Edition, superseding: &[String]) -> Vec<Line> {
        let is_named =
            |line: &Line| superseding.iter().any(|print| print.eq_ignore_ascii_case(line.fingerprint.trim()));
        let is_older = |line: &Line| is_of(line, by) && !is_later(line, by);
        let other = |line: &&Line| line.is_out() && line.fingerprint.trim() != by.fingerprint;
        self.lines.iter().filter(other).filter(|line| is_named(line) || is_older(line)).cloned().collect()
    }

    /// Whether copies of a later edition of the same policy are out.
    pub fn has_later(&self, than: &Edition) -> bool {
        self.lines.iter().any(|line| line.is_out() && is_of(line, than) && is_later(line, than))
    }

    pub fn holds(&self, fingerprint: &str) -> bool {
        self.lines.iter().any(|line| line.fingerprint.trim().eq_ignore_ascii_case(fingerprint))
    }
}

impl Default for Register {
    fn default() -> Self {
        Register::new()
    }
}

/// Where one of the two names no site, the title is enough.
fn is_of(line: &Line, edition: &Edition) -> bool {
    let (site, other) = (line.site.trim(), edition.site.trim());
    line.policy.trim() == edition.policy.trim() && (site == other || site.is_empty() || other.is_empty())
}

fn is_later(line: &Line, than: &Edition) -> bool {
    match (line.edition.trim().parse::<u32>(), than.number) {
        (Ok(theirs), Some(ours)) => theirs > ours,
        _ => false,
    }
}
