//! The policies that a command is given, read and checked, on as many threads as there are processors.
//!
//! In: file names and a date. Out: what was checked, in the order of the names, and what could not be read and why. Must
//! never stop at the first file that cannot be read.

use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::{panic, thread};

use camino::{Utf8Path, Utf8PathBuf};

use crate::faces::shelf::FolderShelf;
use crate::policy::Day;
use crate::session::{self, Checked};

pub struct Policies {
    /// By the file's name as the person gave it.
    pub checked: Vec<(String, Checked)>,
    /// The file's name and why it could not be read, a clause.
    pub unread: Vec<(String, String)>,
}

/// More threads than this are of no use, and each keeps a policy in memory.
const MOST_THREADS: usize = 16;

pub fn check(files: &[Utf8PathBuf], today: Day) -> Policies {
    let mut seen = std::collections::BTreeSet::new();
    let files: Vec<&Utf8PathBuf> = files.iter().filter(|file| seen.insert((*file).clone())).collect();
    let mut policies = Policies { checked: Vec::new(), unread: Vec::new() };
    for (at, checked) in check_all(&files, today) {
        match checked {
            Ok(checked) => policies.checked.push((files[at].to_string(), checked)),
            Err(why) => policies.unread.push((files[at].to_string(), why)),
        }
    }
    policies
}

/// Each with its place among the files, in their order: whichever thread is free takes the next.
fn check_all(files: &[&Utf8PathBuf], today: Day) -> Vec<(usize, Result<Checked, String>)> {
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(file) = files.get(at) else { return done };
            done.push((at, check_one(file, today)));
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

fn check_one(file: &Utf8Path, today: Day) -> Result<Checked, String> {
    let (shelf, text) = FolderShelf::open(file)?;
    Ok(session::check(session::read(file.as_str(), &text, &shelf), Some(today)))
}
