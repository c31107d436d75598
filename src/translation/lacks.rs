//! What a word file lacks before its words may be printed as in force.
//!
//! In: a word file, the policy in its words, and the fingerprint that the policy has today. Out: [`Lacks`]. Must never take
//! the place of somebody's signature.

use serde::Serialize;

use super::{Translated, WordFile};

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Lacks {
    /// The policy has changed since it was translated.
    pub stale: bool,
    /// Nobody has signed it.
    pub unsigned: bool,
    /// Nobody has checked it back.
    pub unchecked: bool,
    /// Texts without a translation.
    pub missing: usize,
    /// Lines that are not understood.
    pub mistaken: usize,
}

impl Lacks {
    pub fn of(file: &WordFile, translated: &Translated, fingerprint: &str) -> Lacks {
        Lacks {
            stale: file.fingerprint.as_deref() != Some(fingerprint),
            unsigned: file.translated.is_none(),
            unchecked: file.checked_back.is_none(),
            missing: translated.missing.len(),
            mistaken: file.mistakes.len(),
        }
    }
}
