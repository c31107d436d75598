//! The words that close a report: how many findings of each signal word, what was looked at and what was not.
//!
//! In: findings and what was examined. Out: sentences, the same on every face. Must never say that nothing can go wrong.

use super::{Finding, Signal};
use crate::session::Examined;

/// The usual caution, on every report.
pub const CAUTION: &str = "Local codes, the manufacturers' instructions and the judgement of licensed practitioners \
                           come first. The checks rank procedures; they do not estimate a risk of infection.";

/// How many findings bear each signal word; those that an exception accepts are counted apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    counts: [usize; 4],
    pub accepted: usize,
}

impl Tally {
    pub fn of_all<'a>(findings: impl IntoIterator<Item = &'a Finding>) -> Tally {
        let mut tally = Tally::default();
        for finding in findings {
            match finding.accepted {
                Some(_) => tally.accepted += 1,
                None => tally.counts[finding.signal as usize] += 1,
            }
        }
        tally
    }

    pub fn of(&self, signal: Signal) -> usize {
        self.counts[signal as usize]
    }

    /// Something at DANGER or WARNING that no exception accepts.
    pub fn is_grave(&self) -> bool {
        self.of(Signal::Danger) + self.of(Signal::Warning) > 0
    }

    /// `2 at DANGER and 1 at NOTICE.` with what was accepted, or that nothing was found.
    pub fn sentences(&self) -> Vec<String> {
        let signals = [Signal::Danger, Signal::Warning, Signal::Caution, Signal::Notice];
        let counted: Vec<String> = signals
            .into_iter()
            .filter(|&signal| self.of(signal) > 0)
            .map(|signal| format!("{} at {}", self.of(signal), signal.word()))
            .collect();
        let mut sentences = vec![match counted.split_last() {
            None => "Nothing was found in what was looked at.".to_string(),
            Some((only, [])) => format!("Found: {only}."),
            Some((last, others)) => format!("Found: {} and {last}.", others.join(", ")),
        }];
        if self.accepted > 0 {
            let (are, they, do_) = if self.accepted == 1 { ("is", "it", "does") } else { ("are", "they", "do") };
            sentences.push(format!(
                "{} more {are} accepted by the policy's own exceptions; {they} {do_} not count, until the date given.",
                self.accepted
            ));
        }
        sentences
    }
}

/// What was and was not looked at, and how near the hazard comes: headings, each with its sentences.
pub fn scope(examined: &Examined) -> Vec<(&'static str, &[String])> {
    let parts = [
        ("Looked at:", &examined.looked_at[..]),
        ("Not looked at:", &examined.not_looked_at[..]),
        ("Nearest approach of the hazard, in touches as planned, after one slip, after two:", &examined.nearest[..]),
    ];
    parts.into_iter().filter(|(_, sentences)| !sentences.is_empty()).collect()
}
