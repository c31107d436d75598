//! The walk against a slow player of a small world, and against what must hold of every procedure.

use anteroom::policy::Policy;
use anteroom::session::{self, Shelf};
use anteroom::walk::Case;

mod events;
mod noticed;
mod procedures;
mod properties;
mod slow_player;
mod tables;

struct Nothing;

impl Shelf for Nothing {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no such file".into())
    }
}

/// A policy that is read without a mistake.
fn policy_of(text: &str) -> Policy {
    let reading = session::read("ward.ppe", text, &Nothing);
    assert!(reading.problems.is_empty(), "{:#?}\n{text}", reading.problems);
    reading.policy
}

/// The plain case, played by itself.
fn alone() -> Case {
    Case::default()
}
