//! A compiler from a hospital's own procedures for protective equipment to checked, printable aids.
//!
//! ```text
//! Source ──parse──▶ Tree ──resolve──▶ Policy ──walk──▶ Walk ──inspect──▶ Findings
//!                                       │                │
//!                                       └──────plan──────┴──▶ PrintPlan ──typeset──▶ Pdf
//! two policies, checked ──compare──▶ Comparison ──plan──▶ PrintPlan
//! ```
//!
//! Every stage returns a value, and what it could not do as findings: a faulty policy is never an `Err`.
//! The core reads no file, clock or environment; the same input gives the same bytes.

pub mod aids;
pub mod compare;
pub mod faces;
pub mod findings;
pub mod merge;
pub mod overview;
pub mod policy;
pub mod press;
pub mod release;
pub mod rules;
pub mod session;
pub mod syntax;
pub mod text;
pub mod translation;
#[cfg(feature = "typeset")]
pub mod typeset;
pub mod walk;
