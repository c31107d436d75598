//! `anteroom schema [COMMAND]`: the JSON Schema of what a command prints with `--json`.

use super::{Ending, Screen};
use crate::compare;
use crate::findings;
use crate::overview;
use crate::session::copies;

/// Print the JSON Schema of what a command prints with --json
#[derive(clap::Args)]
pub struct Schema {
    /// The command
    #[arg(value_enum, default_value_t = Of::Check)]
    of: Of,
}

#[derive(Clone, Copy, clap::ValueEnum)]
enum Of {
    Check,
    Compare,
    Status,
    Verify,
}

impl Schema {
    pub fn run(self, screen: &mut Screen) -> Ending {
        screen.say(match self.of {
            Of::Check => findings::json::SCHEMA,
            Of::Compare => compare::json::SCHEMA,
            Of::Status => overview::json::SCHEMA,
            Of::Verify => copies::json::SCHEMA,
        });
        Ending::Clear
    }
}
