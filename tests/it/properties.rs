//! What must hold of every policy, tried on all that is written (samples, demonstration, deliberate faults, published
//! orders) and on random ones. The laws are the model's own; no outside source.

use std::collections::BTreeMap;

use anteroom::faces::shelf::FolderShelf;
use anteroom::findings::Finding;
use anteroom::policy::{Day, LevelId, Policy};
use anteroom::session::{self, Checked, Reading, Shelf};
use anteroom::walk::{Surface, walk};
use camino::Utf8Path;

use crate::independent::random_policy;

mod layers;
mod lines;
mod merging;
mod names;
mod order;
mod rubs;

/// A policy with where its other files come from.
pub struct Written {
    pub name: String,
    pub text: String,
    shelf: Box<dyn Shelf>,
}

impl Written {
    pub fn read(&self, text: &str) -> Reading {
        session::read(&self.name, text, &*self.shelf)
    }

    pub fn check(&self, text: &str) -> Checked {
        session::check(self.read(text), Some(Day::new(2026, 12, 2).unwrap()))
    }
}

struct Alone;

impl Shelf for Alone {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no such file".into())
    }
}

/// Every policy file of the project.
pub fn written() -> Vec<Written> {
    let mut files = Vec::new();
    for folder in ["tests/samples", "policies", "policies/editions", "policies/faulty", "tests/published"] {
        let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
        files.extend(entries.map(|path| path.to_string_lossy().into_owned()).filter(|file| file.ends_with(".ppe")));
    }
    files.sort();
    assert!(files.len() > 100, "{}", files.len());
    let open = |name: String| {
        let (shelf, text) = FolderShelf::open(Utf8Path::new(&name)).unwrap_or_else(|why| panic!("{name}: {why}"));
        Written { name, text, shelf: Box::new(shelf) }
    };
    files.into_iter().map(open).collect()
}

/// Random policies, the same each time; not those that the walk is put to the independent player with. So many times more
/// of them with `ANTEROOM_PROPERTIES`.
pub fn random(count: u64) -> Vec<Written> {
    let times = std::env::var("ANTEROOM_PROPERTIES").map_or(1, |times| times.parse::<u64>().expect("a number"));
    let count: u64 = count * times;
    let text = |seed| random_policy::text(1_000_000 + seed);
    let name = |seed| format!("random-{seed}.ppe");
    (1..=count).map(|seed| Written { name: name(seed), text: text(seed), shelf: Box::new(Alone) }).collect()
}

/// How near the hazard comes to each skin and to own clothes, at most so many slips counted.
pub fn nearest(policy: &Policy) -> BTreeMap<(LevelId, usize, Surface), u16> {
    let mut nearest = BTreeMap::new();
    for run in walk(policy).runs {
        for near in run.nearest {
            for slips in near.slips..=2 {
                let least = nearest.entry((run.level, slips, near.surface)).or_insert(near.distance);
                *least = near.distance.min(*least);
            }
        }
    }
    nearest
}

/// Everything about findings but their place and their words.
pub fn gist(finding: &Finding) -> String {
    format!(
        "{} {:?} {:?}, {} in the case, {} in the chain, {} beside it{}",
        finding.name,
        finding.signal,
        finding.kind,
        finding.case.len(),
        finding.chain.len(),
        finding.related.len(),
        if finding.accepted.is_some() { ", accepted" } else { "" }
    )
}
