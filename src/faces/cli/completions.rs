//! `anteroom completions SHELL`: what a shell needs to complete the commands.

use clap::CommandFactory;

use super::{Arguments, Ending, Screen};

/// Write what a shell needs to complete these commands
#[derive(clap::Args)]
pub struct Completions {
    shell: clap_complete::Shell,
}

impl Completions {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut Arguments::command(), "anteroom", &mut script);
        screen.say(&String::from_utf8_lossy(&script));
        Ending::Clear
    }
}
