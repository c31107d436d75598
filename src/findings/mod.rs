//! Findings, and the ways in which they are told: to a terminal, in plain sentences, as JSON.

pub mod finding;

pub use finding::{Finding, Kind, Name, Signal};
