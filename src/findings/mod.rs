//! Findings, and the ways in which they are told: to a terminal, in plain sentences, as JSON.

pub mod closing;
pub mod envelope;
pub mod finding;
pub mod json;
pub mod plain;
pub mod report;
pub mod shown;
pub mod terminal;

pub use closing::Tally;
pub use finding::{Finding, Kind, Name, Signal};
pub use report::{PolicyReport, Report};
