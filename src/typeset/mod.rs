//! Typesetting: the only folder that knows typst.
//!
//! In: an [`Aid`](crate::aids::plan::Aid), every word of it final. Out: a PDF. Must never add a word of its own, read a
//! file or a clock, or let the policy's words be read as markup.

pub mod pictograms;
