//! The one interface that every face uses: plain data in and out.
//!
//! In: file names, their texts by way of a [`Shelf`], and today's date. Out: what was read, checked and planned.
//! Must never open a file itself, nor write a word to anybody.

mod accepted;
mod approach;
pub mod copies;
mod examined;
mod files;
mod held_back;
mod known_rules;
mod pictures;
mod standing;
mod timing;

pub use approach::{Approach, Part, reached};
pub use copies::{Answer, Kept, State, answer, may_be_of};
pub use standing::{Reason, Standing, draft_reasons, standing};
pub use timing::Timing;

use std::collections::BTreeSet;

use crate::findings::Finding;
use crate::policy::meaning::fingerprint;
use crate::policy::resolve::resolve;
use crate::policy::{Day, LevelId, Policy};
use crate::rules::{self, Brief};
use crate::syntax::Declared;
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
    /// The review date that a log of releases gives in place of the policy's own, after a review that changed nothing. The
    /// fingerprint stays that of what is written.
    pub review_moved: Option<Day>,
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
    /// How near the hazard comes to each person: a sentence for each, and the figures behind them.
    pub nearest: Vec<String>,
    pub approaches: Vec<Approach>,
    /// How long each sequence takes, as far as it is written.
    pub timings: Vec<Timing>,
    /// Levels with lines that are not understood, of which no figure would be true.
    #[serde(skip)]
    pub unfinished: BTreeSet<LevelId>,
}

/// Reads a policy and every file that it uses, and resolves it.
pub fn read(main_name: &str, main_text: impl Into<String>, shelf: &dyn Shelf) -> Reading {
    let (sources, mut problems) = files::gather(main_name, main_text.into(), shelf);
    let missing_file = !problems.is_empty();
    let (trees, unread) = files::parse_all(&sources);
    problems.extend(unread);
    let (mut policy, unresolved) = resolve(&sources, &trees);
    let unread = files::unread_lines(&trees, &problems);
    let is_told =
        |problem: &Problem| missing_file && files::may_be_elsewhere(problem) || files::lies_in(problem, &unread);
    problems.extend(unresolved.into_iter().filter(|problem| !is_told(problem)));
    problems.extend(known_rules::unknown(&policy));
    problems.extend(pictures::fetch(&mut policy, &sources, shelf));
    problems.sort_by_key(|problem| problem.span);
    problems.dedup();
    Reading { sources, trees, policy, problems, review_moved: None }
}

/// The names that are declared by the files which any of these texts of one policy uses, and by the texts themselves.
pub fn declared_by_used(main_name: &str, texts: [&str; 3], shelf: &dyn Shelf) -> Declared {
    let mut declared = Declared::default();
    for text in texts {
        declared.extend(&files::declared_in(&files::gather(main_name, text.to_owned(), shelf).0));
    }
    declared
}

/// What the hospital decided, as JSON for other programs: the policy with every name resolved to its place in a table.
pub fn exported(policy: &Policy) -> serde_json::Value {
    serde_json::to_value(policy).unwrap_or_default()
}

/// The first of the policy's files in its tidy form; lines that cannot be read stay as they are.
pub fn tidy(reading: &Reading) -> String {
    let sources = &reading.sources;
    let first = reading.trees.first().map(|tree| (tree, &sources.get(tree.source).text));
    first.map(|(tree, text)| crate::syntax::tidy(tree, text, &files::declared_in(sources))).unwrap_or_default()
}

/// Checks a policy by every rule.
pub fn check(mut reading: Reading, today: Option<Day>) -> Checked {
    let fingerprint = fingerprint(&reading.policy);
    reading.policy.paper.review_by = reading.review_moved.or(reading.policy.paper.review_by);
    let walk = crate::walk::walk(&reading.policy);
    let mut findings = Vec::new();
    let brief = Brief { problems: &reading.problems, policy: &reading.policy, walk: &walk, today };
    for rule in rules::ALL {
        rule.inspect(&brief, &mut findings);
    }
    let kept = held_back::without_consequences(&reading.policy, findings);
    let mut findings = kept.findings;
    accepted::mark(&reading.policy, &mut findings, today);
    for finding in &mut findings {
        finding.sentence = files::line_of(&reading, finding.span);
    }
    findings.sort_by(|a, b| (a.span, a.signal, a.name, &a.title).cmp(&(b.span, b.signal, b.name, &b.title)));
    let mut examined = examined::examined(&reading, &walk, today, &kept.levels);
    examined.approaches = approach::approaches(&reading.policy, &walk, &kept.levels);
    examined.nearest = approach::sentences(&reading.policy, &walk, &kept.levels, &examined.approaches);
    examined.unfinished = kept.levels;
    Checked { reading, walk, findings, examined, fingerprint, today }
}
