//! The log of one policy: a line for each thing that happened to one of its editions, in the order in which it happened.
//!
//! In: what happened, or the text of the log. Out: lines, each with its own hash and that of the line before. Must never
//! change a line that is there, nor take a line for one that it is not.
//!
//! A changed byte is found. Lines cut off the end are not, unless somebody has kept the hash of the last one; nor is a log that
//! was written anew from its beginning: only the signatures on the manifests stand against that.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::canonical::canonical;
use crate::policy::Day;
use crate::policy::meaning::digest;

/// What stands in the first line for the hash of the line before it.
const FIRST: &str = "none";

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    pub day: Day,
    /// The edition's folder.
    pub edition: String,
    #[serde(flatten)]
    pub event: Event,
}

#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "snake_case")]
pub enum Event {
    /// `manifest`: its SHA-256.
    Frozen {
        fingerprint: String,
        manifest: String,
        needs: u32,
        number: Option<u32>,
        policy: String,
        site: Option<String>,
    },
    Submitted,
    SentBack {
        because: String,
    },
    /// One person's signature on the manifest: whose by the allowed signers, by which key, in which file.
    Signed {
        by: Vec<String>,
        key: String,
        sha256: String,
        signature: String,
    },
    PutInForce,
    Superseded {
        by: String,
    },
    Withdrawn {
        because: String,
    },
    /// Reviewed, and left as it is.
    Reviewed {
        by: String,
        review_by: Day,
    },
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Log {
    pub entries: Vec<Entry>,
    text: String,
    last: String,
}

impl Default for Log {
    fn default() -> Log {
        Log { entries: Vec::new(), text: String::new(), last: FIRST.to_owned() }
    }
}

impl Log {
    /// `Err`: the line, from 1, and why it is not as it was written, a clause.
    pub fn read(text: &str) -> Result<Log, (usize, String)> {
        let mut log = Log::default();
        for (at, line) in text.split_inclusive('\n').enumerate() {
            let changed = |why: &str| (at + 1, why.to_owned());
            let entry: Entry =
                serde_json::from_str(line).map_err(|_| changed("it does not have the form of a line of the log"))?;
            let before = log.text.len();
            log.add(entry);
            // Written anew from what it says, the line is the same, or somebody has changed it or one before it.
            if log.text.get(before..) != Some(line) {
                return Err(changed("it is not as it was written, or a line before it is missing"));
            }
        }
        Ok(log)
    }

    pub fn add(&mut self, entry: Entry) {
        let mut value = serde_json::to_value(&entry).unwrap_or_default();
        let mut put = |key: &str, hash: &str| {
            if let Some(members) = value.as_object_mut() {
                members.insert(key.to_owned(), Value::from(hash));
            }
            canonical(&value)
        };
        let unsealed = put("before", &self.last);
        self.last = digest(unsealed);
        self.text += &put("hash", &self.last);
        self.text.push('\n');
        self.entries.push(entry);
    }

    pub fn text(&self) -> &str {
        &self.text
    }

    /// The hash of the last line.
    pub fn last(&self) -> &str {
        &self.last
    }
}
