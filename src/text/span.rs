//! A place in the text of one file.

use serde::Serialize;

use super::SourceId;

/// From `start` up to but not including `end`, in bytes of the source's text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Span {
    pub source: SourceId,
    pub start: u32,
    pub end: u32,
}

impl Span {
    pub fn new(source: SourceId, start: usize, end: usize) -> Span {
        let clamp = |offset: usize| u32::try_from(offset).unwrap_or(u32::MAX);
        Span { source, start: clamp(start), end: clamp(end.max(start)) }
    }

    /// The span from the beginning of `self` to the end of `other`, which lies in the same source.
    pub fn to(self, other: Span) -> Span {
        debug_assert_eq!(self.source, other.source);
        Span { source: self.source, start: self.start.min(other.start), end: self.end.max(other.end) }
    }
}
