//! All that one run tells: the policies that were checked, their findings, and the files that could not be read.
//!
//! In: checked policies. Out: a [`Report`], laid out by the faces. Must never leave a finding out, nor tell one twice
//! where two policies share a file.

use std::collections::BTreeSet;

use super::{Finding, Tally};
use crate::session::Checked;

pub struct Report<'a> {
    pub policies: Vec<PolicyReport<'a>>,
    /// The file's name and why it could not be read, a clause.
    pub unread: &'a [(String, String)],
}

pub struct PolicyReport<'a> {
    /// As the person named it.
    pub file: &'a str,
    pub checked: &'a Checked,
    /// Those that no policy before it told.
    pub findings: Vec<&'a Finding>,
}

impl<'a> Report<'a> {
    pub fn new(checked: &'a [(String, Checked)], unread: &'a [(String, String)]) -> Report<'a> {
        let mut told = BTreeSet::new();
        let mut policies = Vec::new();
        for (file, checked) in checked {
            let sources = &checked.reading.sources;
            let mut findings = Vec::new();
            for finding in &checked.findings {
                let at = (&sources.get(finding.span.source).name, finding.span.start, finding.span.end);
                if told.insert((at, finding.name, &finding.title)) {
                    findings.push(finding);
                }
            }
            policies.push(PolicyReport { file, checked, findings });
        }
        Report { policies, unread }
    }

    pub fn tally(&self) -> Tally {
        Tally::of_all(self.policies.iter().flat_map(|policy| policy.findings.iter().copied()))
    }
}

impl PolicyReport<'_> {
    pub fn tally(&self) -> Tally {
        Tally::of_all(self.findings.iter().copied())
    }
}
