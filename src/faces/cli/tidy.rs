//! `anteroom tidy FILE…`: policies in their tidy form.

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen};
use crate::faces::outbox;
use crate::faces::shelf::FolderShelf;
use crate::session;

/// Lay policies out in the one tidy form; notes and quoted text stay as they are
///
/// With --check the exit status is 1 where a file is not tidy.
#[derive(clap::Args)]
pub struct Tidy {
    /// Policy files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<Utf8PathBuf>,
    /// Only say which files are not tidy; change nothing
    #[arg(long)]
    check: bool,
}

impl Tidy {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let mut ending = Ending::Clear;
        for file in &self.files {
            ending = ending.max(self.tidy(file, screen));
        }
        ending
    }

    fn tidy(&self, file: &Utf8Path, screen: &mut Screen) -> Ending {
        let (shelf, text) = match FolderShelf::open(file) {
            Ok(opened) => opened,
            Err(why) => {
                screen.unread(&[(file.to_string(), why)]);
                return Ending::CouldNotRun;
            }
        };
        let tidied = session::tidy(&session::read(file.as_str(), &text, &shelf));
        if tidied == text {
            screen.say_line(&format!("{file} is tidy."));
            return Ending::Clear;
        }
        if self.check {
            screen.say_line(&format!("{file} is not tidy. To lay it out: anteroom tidy {file}"));
            return Ending::Grave;
        }
        match outbox::rewrite(file, tidied.as_bytes()) {
            Ok(()) => {
                screen.say_line(&format!("{file} is laid out anew."));
                Ending::Clear
            }
            Err(why) => {
                screen.remark(&format!("{file} is left as it was: {why}."));
                Ending::CouldNotRun
            }
        }
    }
}
