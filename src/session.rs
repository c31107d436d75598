//! The one interface that every face uses: plain data in and out.
//!
//! In: file names, their texts by way of a [`Shelf`], and today's date. Out: what was read, checked and planned.
//! Must never open a file itself, nor write a word to anybody.

use crate::findings::{Finding, Signal};
use crate::policy::{Day, Policy};
use crate::syntax::problem::Problem;
use crate::syntax::tree::Tree;
use crate::text::Sources;
use crate::walk::Walk;

/// Where the files that a policy uses come from. Names are those written in `use "…"`, seen from the file that says it.
pub trait Shelf {
    /// The name under which the file is shown and known (two uses of one file give one name), and its text; or why not,
    /// as a clause for a sentence: "there is no such file", "it lies outside the folder of the policy".
    fn fetch(&self, from: &str, written: &str) -> Result<(String, String), String>;
}

/// One policy, read and resolved.
pub struct Reading {
    pub sources: Sources,
    /// The tree of each source, in the order of their numbers.
    pub trees: Vec<Tree>,
    pub policy: Policy,
    pub problems: Vec<Problem>,
}

/// One policy, checked.
pub struct Checked {
    pub reading: Reading,
    pub walk: Walk,
    /// In the order in which they are told: by file and place, gravest first at the same place.
    pub findings: Vec<Finding>,
    pub examined: Examined,
    /// First eight hexadecimal digits of the SHA-256 of the policy's meaning.
    pub fingerprint: String,
    pub today: Option<Day>,
}

/// What was and was not looked at, each a sentence.
#[derive(Clone, Debug, Default, serde::Serialize)]
pub struct Examined {
    pub looked_at: Vec<String>,
    pub not_looked_at: Vec<String>,
}

/// Why the policy may be printed only as a draft, each a sentence; empty where it may be printed as in force.
pub fn draft_reasons(checked: &Checked) -> Vec<String> {
    let paper = &checked.reading.policy.paper;
    let mut reasons = Vec::new();
    let dangers = checked.findings.iter().filter(|f| f.signal == Signal::Danger && f.accepted.is_none()).count();
    match dangers {
        0 => {}
        1 => reasons.push("One finding at DANGER stands open.".to_string()),
        many => reasons.push(format!("{many} findings at DANGER stand open.")),
    }
    if paper.approval.is_none() {
        reasons.push("Nobody has approved this edition.".to_string());
    }
    if let (Some(review), Some(today)) = (paper.review_by, checked.today)
        && today > review
    {
        reasons.push(format!("The review date, {review}, has passed."));
    }
    reasons
}
