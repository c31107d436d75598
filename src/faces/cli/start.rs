//! `anteroom start FOLDER`: a small policy to begin with.

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen, today};
use crate::faces::outbox;
use crate::policy::Day;

const FIRST_POLICY: &str = include_str!("first-policy.ppe");
const FILE_NAME: &str = "first-policy.ppe";

/// Write a small policy with notes, to begin with; never over a file that is there
#[derive(clap::Args)]
pub struct Start {
    folder: Utf8PathBuf,
}

impl Start {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let path = self.folder.join(FILE_NAME);
        match write(&self.folder, &path) {
            Ok(()) => {
                screen.say_line(&format!("A policy to begin with is in {path}."));
                screen.say_line(&format!("Check it: anteroom check {path}"));
                screen.say_line(&format!("Print it: anteroom print {path}"));
                Ending::Clear
            }
            Err(why) => {
                screen.remark(&format!("{path} is not written: {why}."));
                Ending::CouldNotRun
            }
        }
    }
}

fn write(folder: &Utf8Path, path: &Utf8Path) -> Result<(), String> {
    std::fs::create_dir_all(folder).map_err(|error| outbox::reason(&error))?;
    outbox::create(path, first_policy(today()).as_bytes())
}

/// The policy with its dates: in force from today, for a year.
fn first_policy(today: Day) -> String {
    let next_year = today.0.checked_add(jiff::Span::new().years(1)).map_or(today, Day);
    FIRST_POLICY.replace("{TODAY}", &today.to_string()).replace("{NEXT_YEAR}", &next_year.to_string())
}
