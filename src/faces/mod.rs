//! The faces: ways for people to reach the [`session`](crate::session). Only here are files, the clock and the terminal touched.
//!
//! In: what a person asks for. Out: what the session says, shown. Must never judge a policy themselves.

pub mod archive;
pub mod cli;
pub mod git;
pub mod history;
pub mod ledger;
pub mod outbox;
pub mod shelf;
