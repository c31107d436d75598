//! What an edition is made of: every file with its hash, and what was known of it when it was frozen.
//!
//! In: a checked policy and its files. Out: a [`Manifest`] and its one text. Must never hold a time of day or a path of the
//! computer that it was made on.

use serde::{Deserialize, Serialize};

use super::canonical::laid_out;
use crate::policy::Day;
use crate::policy::meaning::digest;
use crate::session::{Checked, Reason, Standing, standing};

/// The form of this text; another form has another number.
const FORM: u32 = 1;

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    /// Findings that the policy itself accepts, with its reason.
    pub accepted: Vec<Accepted>,
    /// How many people are to sign it.
    pub approval_needs: u32,
    /// As the policy's own line says it.
    pub approved_by: Option<String>,
    pub approved_on: Option<Day>,
    /// Why its aids are marked as drafts, each a sentence; empty where they are not.
    pub draft_because: Vec<String>,
    pub edition: Option<u32>,
    pub fingerprint: String,
    pub form: u32,
    pub frozen_on: Day,
    pub in_force_from: Option<Day>,
    /// Findings that stand open.
    pub open: Vec<Open>,
    pub owner: Option<String>,
    pub policy: String,
    /// The hash of the manifest of the edition that was frozen before this one.
    pub previous: Option<String>,
    pub prints: Vec<Print>,
    pub review_by: Option<Day>,
    pub site: Option<String>,
    pub sources: Vec<Source>,
    /// Of the program.
    pub version: String,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Accepted {
    pub at: String,
    pub because: String,
    pub finding: String,
    pub until: Day,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Open {
    pub finding: String,
    pub line: u32,
    pub signal: String,
    pub source: String,
    pub title: String,
}

/// A file that the policy is made of. Paths lie in the edition's folder, with `/` between their parts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Source {
    pub bytes: u64,
    pub path: String,
    pub sha256: String,
}

/// A file that was printed for it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Print {
    pub bytes: u64,
    /// `DRAFT`, where its faces are marked with it.
    pub marked: Option<String>,
    pub path: String,
    pub sha256: String,
}

impl Source {
    pub fn of(path: String, bytes: &[u8]) -> Source {
        Source { bytes: bytes.len() as u64, path, sha256: digest(bytes) }
    }
}

impl Print {
    pub fn of(path: String, bytes: &[u8], marked: Option<String>) -> Print {
        Print { bytes: bytes.len() as u64, marked, path, sha256: digest(bytes) }
    }
}

impl Manifest {
    /// `previous`: the hash of the manifest before this one. `name`: how a file of the policy is called in the edition's folder.
    pub fn of(
        checked: &Checked,
        frozen_on: Day,
        previous: Option<String>,
        files: (Vec<Source>, Vec<Print>),
        name: impl Fn(&str) -> String,
    ) -> Manifest {
        let policy = &checked.reading.policy;
        let paper = &policy.paper;
        let sources = &checked.reading.sources;
        let open = checked.findings.iter().filter(|finding| finding.accepted.is_none()).map(|finding| Open {
            finding: finding.name.to_string(),
            line: sources.start(finding.span).line,
            signal: finding.signal.word().to_owned(),
            source: name(&sources.get(finding.span.source).name),
            title: finding.title.clone(),
        });
        let accepted = policy.exceptions.iter().map(|exception| Accepted {
            at: exception.at.clone(),
            because: exception.because.clone(),
            finding: exception.finding.clone(),
            until: exception.until,
        });
        Manifest {
            accepted: accepted.collect(),
            approval_needs: paper.approval_needs.unwrap_or(1).max(1),
            approved_by: paper.approval.as_ref().map(|approval| approval.by.clone()),
            approved_on: paper.approval.as_ref().map(|approval| approval.on),
            draft_because: match standing(checked) {
                Standing::Draft(reasons) => reasons.into_iter().map(Reason::sentence).collect(),
                Standing::Withdrawn(day) => vec![format!("It is withdrawn since {day}.")],
                Standing::InForce | Standing::NotYet(_) => Vec::new(),
            },
            edition: paper.edition,
            fingerprint: checked.fingerprint.clone(),
            form: FORM,
            frozen_on,
            in_force_from: paper.in_force,
            open: open.collect(),
            owner: paper.owner.clone(),
            policy: paper.title.clone().unwrap_or_default(),
            previous,
            prints: files.1,
            review_by: paper.review_by,
            site: paper.site.clone(),
            sources: files.0,
            version: env!("CARGO_PKG_VERSION").to_owned(),
        }
    }

    /// The one text of it: RFC 8785, an entry a line.
    pub fn text(&self) -> String {
        laid_out(&serde_json::to_value(self).unwrap_or_default())
    }

    /// `Err`: why it is no manifest, a clause.
    pub fn read(text: &str) -> Result<Manifest, String> {
        let manifest: Manifest =
            serde_json::from_str(text).map_err(|_| "it does not have the form of a manifest".to_owned())?;
        if manifest.form != FORM {
            return Err("another version of the program has written it".to_owned());
        }
        // A second text of the same facts has another hash than the one that was signed.
        if manifest.text() != text {
            return Err("it is not as the program wrote it".to_owned());
        }
        Ok(manifest)
    }

    /// Each file with its hash, in the order of their paths.
    pub fn files(&self) -> Vec<(&str, &str)> {
        let sources = self.sources.iter().map(|source| (source.path.as_str(), source.sha256.as_str()));
        let prints = self.prints.iter().map(|print| (print.path.as_str(), print.sha256.as_str()));
        let mut files: Vec<_> = sources.chain(prints).collect();
        files.sort_unstable();
        files
    }
}
