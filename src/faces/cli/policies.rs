//! The policies that a command is given, read and checked one after the other.
//!
//! In: file names and a date. Out: what was checked, and what could not be read and why. Must never stop at the first
//! file that cannot be read.

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

pub fn check(files: &[Utf8PathBuf], today: Day) -> Policies {
    let mut policies = Policies { checked: Vec::new(), unread: Vec::new() };
    let mut seen = std::collections::BTreeSet::new();
    for file in files.iter().filter(|file| seen.insert((*file).clone())) {
        match check_one(file, today) {
            Ok(checked) => policies.checked.push((file.to_string(), checked)),
            Err(why) => policies.unread.push((file.to_string(), why)),
        }
    }
    policies
}

fn check_one(file: &Utf8Path, today: Day) -> Result<Checked, String> {
    let (shelf, text) = FolderShelf::open(file)?;
    Ok(session::check(session::read(file.as_str(), &text, &shelf), Some(today)))
}
