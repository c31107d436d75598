//! From a file's text to a [`Tree`](tree::Tree): what the writer wrote, line by line, unreadable lines included.
//!
//! In: one source. Out: a tree, and a [`Problem`](problem::Problem) for each line that cannot be read.
//! Must never look a name up in another file, nor give up after a mistake.

pub mod declared;
mod figures;
mod habit;
mod leaves;
mod lines;
mod mend;
pub mod parse;
mod plain;
pub mod problem;
mod recover;
mod seems;
mod sentence;
mod statement;
pub mod tidy;
pub mod tree;
mod written;

pub use declared::{Declared, declarations};
pub use figures::MONTHS;
pub use parse::{parse, uses};
pub use tidy::{Group, Standing, read_out, standing, tidy, whole_lines};
