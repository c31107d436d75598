//! `anteroom git-textconv FILE`: what git shows of a policy in `git log -p` and `git show`.
//!
//! A policy as one reads it, whoever laid it out: only what it says itself, so that two points of a history are never
//! compared by way of a file of a third. Steps bear no numbers, since one step more would change all those after it.

use camino::Utf8PathBuf;

use super::{Ending, Screen};
use crate::faces::shelf::read_text;
use crate::syntax::{declarations, parse, read_out};
use crate::text::SourceId;

/// Read a policy out, for git
#[derive(clap::Args)]
#[command(hide = true)]
pub struct GitTextconv {
    file: Utf8PathBuf,
}

impl GitTextconv {
    pub fn run(self, screen: &mut Screen) -> Ending {
        // Without an answer, git shows the file as it is: the command that git-setup wrote sees to it.
        let Ok(text) = read_text(&self.file) else { return Ending::CouldNotRun };
        let declared = declarations(&text);
        let (tree, _) = parse(SourceId(0), &text, &declared);
        screen.say(&read_out(&tree, &text, &declared));
        Ending::Clear
    }
}
