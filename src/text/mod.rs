//! The text of the files as the writer left it: sources, places in them, near words, characters that mislead, tables.
//!
//! In: file names and their contents. Out: spans, lines and columns, and what a reader could not see.
//! Must never read a file itself, nor know what a sentence means.

pub mod misleading;
pub mod near;
pub mod source;
pub mod span;
pub mod table;

pub use source::{Source, SourceId, Sources};
pub use span::Span;
