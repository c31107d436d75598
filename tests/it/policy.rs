//! From text to a resolved policy: the samples, names that are nearly right, branches, uses.

use std::collections::BTreeMap;

use anteroom::policy::Day;
use anteroom::session::{self, Checked, Reading, Shelf};

/// Files in memory, all in one folder.
#[derive(Default)]
pub struct Folder(BTreeMap<String, String>);

impl Folder {
    pub fn of(files: &[(&str, &str)]) -> Folder {
        Folder(files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect())
    }
}

impl Shelf for Folder {
    fn fetch(&self, _from: &str, written: &str) -> Result<(String, String), String> {
        let text = self.0.get(written).ok_or("there is no such file")?;
        Ok((written.to_owned(), text.clone()))
    }
}

const SHARED: &str = include_str!("../samples/shared-stores.ppe");

pub fn read(text: &str) -> Reading {
    session::read("policy.ppe", text, &Folder::of(&[("shared-stores.ppe", SHARED)]))
}

pub fn check(text: &str) -> Checked {
    session::check(read(text), Day::from_iso("2026-11-24"))
}

const ISOLATION: &str = include_str!("../samples/isolation-suite.ppe");
const SIDE_ROOM: &str = include_str!("../samples/side-room.ppe");
const TRANSFER: &str = include_str!("../samples/transfer-team.ppe");

#[test]
fn the_samples_resolve_without_a_problem() {
    for text in [ISOLATION, SIDE_ROOM, TRANSFER, SHARED] {
        let reading = read(text);
        assert_eq!(reading.problems, [], "{:?}", reading.policy.paper.title);
        assert!(reading.policy.gaps.is_empty());
    }
}
