//! Editions that are frozen, signed and put in force, and the log of what happened to each.
//!
//! In: texts of manifests, logs, signatures and allowed signers, and days. Out: where each edition stands, and whatever does
//! not fit together. Must never touch a file or a private key, nor let the log speak in place of the policy's own lines.

pub mod canonical;
pub mod disagreement;
pub mod history;
pub mod log;
pub mod manifest;
pub mod signature;
pub mod signers;
pub mod stage;

pub use history::{Approval, Edition, History};
pub use log::{Entry, Event, Log};
pub use manifest::Manifest;
pub use signers::Signers;
pub use stage::{Stage, Step};
