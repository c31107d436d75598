//! The policies that a command is given, read and checked, on as many threads as there are processors.
//!
//! In: file names and a date. Out: what was checked, in the order of the names, and what could not be read and why. Must
//! never stop at the first file that cannot be read.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{panic, thread};

use camino::{Utf8Path, Utf8PathBuf};

use super::when::Basis;
use crate::faces::shelf::FolderShelf;
use crate::policy::Paper;
use crate::policy::meaning::fingerprint;
use crate::session::{self, Checked, Reading};

pub struct Policies {
    /// By the file's name as the person gave it.
    pub checked: Vec<(String, Checked)>,
    /// The file's name and why it could not be read, a clause.
    pub unread: Vec<(String, String)>,
}

/// More threads than this are of no use, and each keeps a policy in memory.
const MOST_THREADS: usize = 16;

pub fn check(files: &[Utf8PathBuf], basis: &Basis) -> Policies {
    let mut seen = std::collections::BTreeSet::new();
    let files: Vec<&Utf8PathBuf> = files.iter().filter(|file| seen.insert((*file).clone())).collect();
    let mut policies = Policies { checked: Vec::new(), unread: Vec::new() };
    for (at, checked) in on_all(&files, |file| check_one(file, basis)) {
        match checked {
            Ok(checked) => policies.checked.push((files[at].to_string(), checked)),
            Err(why) => policies.unread.push((files[at].to_string(), why)),
        }
    }
    policies
}

/// What a policy says of itself, unchecked.
pub struct Known {
    pub file: Utf8PathBuf,
    pub paper: Paper,
    pub fingerprint: String,
}

pub struct Papers {
    pub papers: Vec<Known>,
    /// The file's name and why it could not be read, a clause.
    pub unread: Vec<(String, String)>,
}

/// Reads policies without checking them; files that policies share are left out.
pub fn read(files: &[Utf8PathBuf]) -> Papers {
    let mut papers = Papers { papers: Vec::new(), unread: Vec::new() };
    let all: Vec<&Utf8PathBuf> = files.iter().collect();
    for (at, read) in on_all(&all, read_one) {
        match read {
            Ok(reading) if reading.policy.paper.is_policy => {
                let fingerprint = fingerprint(&reading.policy);
                papers.papers.push(Known { file: files[at].clone(), paper: reading.policy.paper, fingerprint });
            }
            Ok(_) => {}
            Err(why) => papers.unread.push((files[at].to_string(), why)),
        }
    }
    papers
}

/// Each with its place among the files, in their order: whichever thread is free takes the next.
fn on_all<T: Send>(
    files: &[&Utf8PathBuf],
    one: impl Fn(&Utf8Path) -> Result<T, String> + Sync,
) -> Vec<(usize, Result<T, String>)> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(file) = files.get(at) else { return done };
            done.push((at, one(file)));
        }
    };
    let threads = thread::available_parallelism().map_or(1, NonZero::get).min(MOST_THREADS).min(files.len());
    let mut all = thread::scope(|scope| {
        let others: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut all = work();
        for other in others {
            all.extend(other.join().unwrap_or_else(|cause| panic::resume_unwind(cause)));
        }
        all
    });
    all.sort_by_key(|(at, _)| *at);
    all
}

fn check_one(file: &Utf8Path, basis: &Basis) -> Result<Checked, String> {
    let mut reading = read_one(file)?;
    if basis.releases.is_some() {
        reading.review_moved = basis.review_moved(&fingerprint(&reading.policy));
    }
    Ok(session::check(reading, Some(basis.today)))
}

fn read_one(file: &Utf8Path) -> Result<Reading, String> {
    let (shelf, text) = FolderShelf::open(file)?;
    Ok(session::read(file.as_str(), &text, &shelf))
}
