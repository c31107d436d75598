//! `anteroom schema`: the JSON Schema of what `check --json` prints.

use super::{Ending, Screen};

/// Print the JSON Schema of what check --json prints
#[derive(clap::Args)]
pub struct Schema {}

impl Schema {
    pub fn run(self, screen: &mut Screen) -> Ending {
        screen.say(crate::findings::json::SCHEMA);
        Ending::Clear
    }
}
