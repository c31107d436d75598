//! Policies for the tests of what comes after reading: from files of the project, or from a text.

use anteroom::faces::shelf::FolderShelf;
use anteroom::policy::Day;
use anteroom::session::{self, Checked, Shelf};
use camino::Utf8Path;

/// A policy file of the project, checked as on a day.
pub fn checked(file: &str, today: Day) -> Checked {
    let (shelf, text) = FolderShelf::open(Utf8Path::new(file)).unwrap_or_else(|why| panic!("{file}: {why}"));
    session::check(session::read(file, &text, &shelf), Some(today))
}

/// A policy that uses no other file.
pub fn checked_text(text: &str, today: Day) -> Checked {
    struct Nothing;
    impl Shelf for Nothing {
        fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
            Err("there is no such file".into())
        }
    }
    session::check(session::read("ward.ppe", text, &Nothing), Some(today))
}
