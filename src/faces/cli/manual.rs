//! `anteroom manual FOLDER`: manual pages, one for each command.

use camino::Utf8PathBuf;
use clap::CommandFactory;

use super::{Arguments, Ending, Screen};
use crate::faces::outbox::Outbox;

/// Write the manual pages into a folder
#[derive(clap::Args)]
pub struct Manual {
    folder: Utf8PathBuf,
}

impl Manual {
    pub fn run(self, screen: &mut Screen) -> Ending {
        match write(&self.folder) {
            Ok(count) => {
                screen.say_line(&format!("{count} manual pages are in {}.", self.folder));
                Ending::Clear
            }
            Err(why) => {
                screen.remark(&format!("The manual cannot be written to {}: {why}.", self.folder));
                Ending::CouldNotRun
            }
        }
    }
}

fn write(folder: &Utf8PathBuf) -> Result<usize, String> {
    let outbox = Outbox::open(folder)?;
    let mut whole = Arguments::command();
    whole.build();
    let pages = pages(&whole);
    let count = pages.len();
    for page in pages {
        let page = clap_mangen::Man::new(page);
        let mut text = Vec::new();
        page.render(&mut text).map_err(|error| error.to_string())?;
        outbox.put(page.get_filename().trim_end_matches(".1"), "1", &text)?;
    }
    Ok(count)
}

/// A command and all within it; not those that only git calls.
fn pages(command: &clap::Command) -> Vec<clap::Command> {
    let within = command.get_subcommands().filter(|within| !within.is_hide_set());
    std::iter::once(command.clone()).chain(within.flat_map(pages)).collect()
}
