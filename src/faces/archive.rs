//! Releases on disk: a folder for each policy with its log, in it a folder for each edition with its manifest.
//!
//! ```text
//! releases/allowed-signers
//! releases/side-rooms/log.jsonl
//! releases/side-rooms/edition-4-3fa9c2d1/manifest.json
//!                                        sources/…  prints/…  approvals/…
//! ```
//!
//! In: paths, what happened. Out: logs as they are, with that added; whatever is not as it was written. Must never change a
//! file that is frozen.

use std::collections::BTreeMap;
use std::fs::File;

use camino::{Utf8Path, Utf8PathBuf};

use super::outbox;
use super::shelf::{MOST_ENTRIES, read_bytes};
use crate::policy::meaning::digest;
use crate::policy::{Day, Identity};
use crate::release::{Edition, Entry, History, Log, Manifest, Signers, Stage, signature};

pub const LOG: &str = "log.jsonl";
pub const MANIFEST: &str = "manifest.json";
pub const APPROVALS: &str = "approvals";
pub const SIGNERS: &str = "allowed-signers";

/// Some 50,000 lines.
const LARGEST_LOG: u64 = 16 * 1024 * 1024;
const LARGEST_MANIFEST: u64 = 16 * 1024 * 1024;
const LARGEST_SIGNERS: u64 = 1024 * 1024;
/// Of a source or a PDF.
const LARGEST_FILE: u64 = 256 * 1024 * 1024;
/// Folders within folders of one edition.
const DEEPEST: usize = 16;

/// All that is kept of one policy.
#[derive(Clone, Debug)]
pub struct Record {
    pub folder: Utf8PathBuf,
    pub log: Log,
    pub history: History,
}

/// Something that is not as it was written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    pub path: String,
    /// A clause.
    pub why: String,
}

impl Fault {
    fn new(path: impl Into<String>, why: impl Into<String>) -> Fault {
        Fault { path: path.into(), why: why.into() }
    }
}

impl Record {
    /// The log in a folder, an empty one where there is none.
    pub fn read(folder: &Utf8Path) -> Result<Record, Fault> {
        let path = folder.join(LOG);
        let fault = |why: String| Fault::new(path.as_str(), why);
        let line = |(line, why): (usize, String)| fault(format!("its line {line} cannot be believed: {why}"));
        let bytes = if path.exists() { read_bytes(&path, LARGEST_LOG).map_err(fault)? } else { Vec::new() };
        let text = String::from_utf8(bytes).map_err(|_| fault("it is not saved as UTF-8".to_owned()))?;
        let log = Log::read(&text).map_err(line)?;
        let history = History::of(&log).map_err(line)?;
        Ok(Record { folder: folder.to_owned(), log, history })
    }

    /// Adds to the log as it stands now, whoever wrote to it since. `Err`: why not, a clause.
    pub fn append(folder: &Utf8Path, entries: &[Entry]) -> Result<Record, String> {
        // Another run waits here, as for the print register.
        let held = File::open(folder).map_err(|error| outbox::reason(&error))?;
        let _ = held.lock();
        let mut record = Record::read(folder).map_err(|fault| format!("{}: {}", fault.path, fault.why))?;
        for entry in entries {
            record.history.take(entry)?;
            record.log.add(entry.clone());
        }
        let path = folder.join(LOG);
        let put = if path.exists() { outbox::rewrite } else { outbox::begin };
        put(&path, record.log.text().as_bytes())?;
        Ok(record)
    }

    /// Every file of an edition that is not as it was frozen or signed.
    pub fn faults_of(&self, edition: &Edition, signers: &Signers) -> Vec<Fault> {
        let folder = self.folder.join(&edition.folder);
        let told = |name: &str, why: &str| Fault::new(folder.join(name).as_str(), why);
        let bytes = match read_bytes(&folder.join(MANIFEST), LARGEST_MANIFEST) {
            Ok(bytes) => bytes,
            Err(why) => return vec![told(MANIFEST, &why)],
        };
        let mut faults = Vec::new();
        if digest(&bytes) != edition.manifest {
            faults.push(told(MANIFEST, CHANGED));
        }
        let manifest = String::from_utf8(bytes.clone()).map_err(|_| "it is not saved as UTF-8".to_owned());
        match manifest.and_then(|text| Manifest::read(&text)) {
            Ok(manifest) => faults.extend(self.faults_of_files(edition, &manifest)),
            Err(why) => faults.push(told(MANIFEST, &why)),
        }
        faults.extend(faults_of_approvals(&folder, edition, &bytes, signers));
        faults.sort();
        faults.dedup();
        faults
    }

    fn faults_of_files(&self, edition: &Edition, manifest: &Manifest) -> Vec<Fault> {
        let folder = self.folder.join(&edition.folder);
        let mut faults = Vec::new();
        let before = self.history.editions.iter().take_while(|other| other.folder != edition.folder).last();
        if manifest.previous.as_ref() != before.map(|before| &before.manifest) {
            faults.push(Fault::new(folder.join(MANIFEST).as_str(), "it does not follow the edition before it"));
        }
        let facts =
            (&manifest.fingerprint, manifest.edition, manifest.approval_needs, &manifest.policy, &manifest.site);
        if facts != (&edition.fingerprint, edition.number, edition.needs, &edition.policy, &edition.site) {
            faults.push(Fault::new(folder.join(MANIFEST).as_str(), "it does not say what the log says of it"));
        }
        let mut found = BTreeMap::new();
        if let Err(fault) = hashes(&folder, "", 0, &mut found) {
            faults.push(fault);
        }
        found.remove(MANIFEST);
        for approval in edition.approvals.iter().chain(&edition.set_aside) {
            found.remove(&approval.signature);
        }
        for (path, sha256) in manifest.files() {
            match found.remove(path) {
                Some(Ok(found)) if found == sha256 => {}
                Some(Ok(_)) => faults.push(Fault::new(folder.join(path).as_str(), CHANGED)),
                Some(Err(why)) => faults.push(Fault::new(folder.join(path).as_str(), why)),
                None => faults.push(Fault::new(folder.join(path).as_str(), "it is missing")),
            }
        }
        let strays =
            found.into_keys().map(|path| Fault::new(folder.join(path).as_str(), "it is no part of this edition"));
        faults.extend(strays);
        faults
    }

    /// Folders beside the editions of which the log does not tell.
    pub fn strays(&self) -> Vec<Fault> {
        let entries = self.folder.read_dir_utf8().into_iter().flatten().take(MOST_ENTRIES);
        let names = entries.filter_map(|entry| Some(entry.ok()?.file_name().to_owned()));
        let stray = |name: &String| name != LOG && self.history.edition(name).is_none();
        let mut strays: Vec<Fault> = names
            .filter(stray)
            .map(|name| Fault::new(self.folder.join(name).as_str(), "the log does not tell of it"))
            .collect();
        strays.sort();
        strays
    }
}

const CHANGED: &str = "it has changed since it was frozen";

fn faults_of_approvals(folder: &Utf8Path, edition: &Edition, manifest: &[u8], signers: &Signers) -> Vec<Fault> {
    let mut faults = Vec::new();
    let mut people: Vec<Vec<String>> = Vec::new();
    let set_aside = edition.set_aside.iter().map(|approval| (approval, false));
    for (approval, counts) in edition.approvals.iter().map(|approval| (approval, true)).chain(set_aside) {
        let path = folder.join(&approval.signature);
        let mut tell = |why: String| faults.push(Fault::new(path.as_str(), why));
        let bytes = match read_bytes(&path, signature::LARGEST) {
            Ok(bytes) => bytes,
            Err(why) => {
                tell(why);
                continue;
            }
        };
        if digest(&bytes) != approval.sha256 {
            tell("it has changed since it was given".to_owned());
        }
        if !counts {
            continue;
        }
        match signature::signed(&bytes, manifest, signers, approval.on) {
            Err(why) => tell(why),
            Ok(signed) if !approval.is_same_person(&signed.by, &signed.key) || signed.key != approval.key => {
                tell(format!("by the allowed signers it is {}'s now", signed.by.join(" or ")));
            }
            Ok(signed) if people.contains(&signed.by) => tell("the same person has signed twice".to_owned()),
            Ok(signed) => people.push(signed.by),
        }
    }
    faults
}

/// The hash of every file beneath a folder by its path, or why it has none.
fn hashes(
    folder: &Utf8Path,
    within: &str,
    depth: usize,
    found: &mut BTreeMap<String, Result<String, String>>,
) -> Result<(), Fault> {
    let here = folder.join(within);
    let fault = |why: String| Fault::new(here.as_str(), why);
    if depth > DEEPEST {
        return Err(fault(format!("it lies more than {DEEPEST} folders deep")));
    }
    for entry in here.read_dir_utf8().map_err(|error| fault(format!("the computer says: {error}")))? {
        let entry = entry.map_err(|error| fault(format!("the computer says: {error}")))?;
        if found.len() >= MOST_ENTRIES {
            return Err(fault(format!("it holds more than {MOST_ENTRIES} files")));
        }
        let path =
            if within.is_empty() { entry.file_name().to_owned() } else { format!("{within}/{}", entry.file_name()) };
        match entry.file_type() {
            Ok(kind) if kind.is_dir() => hashes(folder, &path, depth + 1, found)?,
            Ok(kind) if kind.is_file() => {
                let hash = read_bytes(entry.path(), LARGEST_FILE).map(digest);
                found.insert(path, hash);
            }
            Ok(_) => drop(found.insert(path, Err("it is a link or a device, not a file".to_owned()))),
            Err(error) => drop(found.insert(path, Err(format!("the computer says: {error}")))),
        }
    }
    Ok(())
}

/// Everything in a folder of releases.
#[derive(Clone, Debug, Default)]
pub struct Releases {
    /// In the order of their folders.
    pub records: Vec<Record>,
    /// Logs that cannot be believed.
    pub faults: Vec<Fault>,
}

impl Releases {
    /// `Err`: why the folder cannot be looked into, a clause.
    pub fn read(folder: &Utf8Path) -> Result<Releases, String> {
        let mut folders = Vec::new();
        for entry in folder.read_dir_utf8().map_err(|error| outbox::reason(&error))?.take(MOST_ENTRIES) {
            let entry = entry.map_err(|error| outbox::reason(&error))?;
            if entry.path().join(LOG).is_file() {
                folders.push(entry.path().to_owned());
            }
        }
        folders.sort();
        let mut releases = Releases::default();
        for folder in folders {
            match Record::read(&folder) {
                Ok(record) => releases.records.push(record),
                Err(fault) => releases.faults.push(fault),
            }
        }
        Ok(releases)
    }

    /// The edition that bears a fingerprint; of several, the one in force, or else the one that was frozen last.
    pub fn edition(&self, fingerprint: &str) -> Option<&Edition> {
        let editions = self.records.iter().flat_map(|record| &record.history.editions);
        let of = editions.filter(|edition| edition.fingerprint == fingerprint);
        of.max_by_key(|edition| edition.stage == Stage::InForce)
    }

    /// The review date after a review that changed nothing.
    pub fn review_moved(&self, fingerprint: &str) -> Option<Day> {
        Some(self.edition(fingerprint)?.reviewed.as_ref()?.review_by)
    }

    pub fn record_of(&self, identity: &Identity) -> Option<&Record> {
        self.records.iter().find(|record| record.history.identity().as_ref() == Some(identity))
    }
}

/// `Err`: why nobody's signature can be told, a clause.
pub fn signers(path: &Utf8Path) -> Result<Signers, String> {
    let text =
        String::from_utf8(read_bytes(path, LARGEST_SIGNERS)?).map_err(|_| "it is not saved as UTF-8".to_owned())?;
    Signers::read(&text).map_err(|(line, why)| format!("its line {line} is not understood: {why}"))
}

/// Whether a file found in a folder lies in that of a frozen edition.
pub fn is_frozen(file: &Utf8Path, folder: &Utf8Path) -> bool {
    let is_edition = |within: &Utf8Path| within.join(MANIFEST).is_file() && within.join("..").join(LOG).is_file();
    file.ancestors().skip(1).take(DEEPEST).take_while(|within| *within != folder).any(is_edition)
}

pub fn manifest(folder: &Utf8Path) -> Result<(Vec<u8>, Manifest), String> {
    let bytes = read_bytes(&folder.join(MANIFEST), LARGEST_MANIFEST)?;
    let text = String::from_utf8(bytes.clone()).map_err(|_| "it is not saved as UTF-8".to_owned())?;
    Manifest::read(&text).map(|manifest| (bytes, manifest))
}
