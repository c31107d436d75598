//! The print register on disk: read whole, written beside and renamed, one writer at a time.
//!
//! In: a path, lines. Out: the register. Must never lose a line that is there, nor write to what it cannot read.

use std::fs::File;

use camino::{Utf8Path, Utf8PathBuf};

use super::outbox;
use super::shelf::read_bytes;
use crate::press::register::{Line, Register};

/// Some 100,000 copies.
const LARGEST: u64 = 16 * 1024 * 1024;

/// The register at a path, a new one where there is no file. `Err`: why it cannot be read, a clause.
pub fn read(path: &Utf8Path) -> Result<Register, String> {
    if !path.exists() {
        return Ok(Register::new());
    }
    let bytes = read_bytes(path, LARGEST)?;
    let text = String::from_utf8(bytes).map_err(|_| "it is not saved as UTF-8".to_string())?;
    Register::read(&text)
}

/// Adds lines to the register as it stands now, whoever wrote to it since; how many were new. `Err`: why not, a clause.
pub fn add(path: &Utf8Path, lines: Vec<Line>) -> Result<usize, String> {
    let folder = path.parent().filter(|folder| !folder.as_str().is_empty()).unwrap_or(Utf8Path::new("."));
    // Another run waits here. The file itself cannot be held: the one that is renamed into its place is another.
    let held = File::open(folder).map_err(|error| outbox::reason(&error))?;
    let _ = held.lock();
    let mut register = read(path)?;
    let added = register.add(lines);
    if added == 0 {
        return Ok(0);
    }
    if path.exists() {
        outbox::rewrite(path, register.text().as_bytes())?;
    } else {
        outbox::begin(path, register.text().as_bytes())?;
    }
    Ok(added)
}

/// Where the register is kept if nobody says.
pub fn usual(folder: &Utf8Path) -> Utf8PathBuf {
    folder.join("print-register.csv")
}
