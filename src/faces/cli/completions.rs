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
        let whole = Arguments::command();
        // What other programs call is not offered to people.
        let offered = whole.get_subcommands().filter(|command| !command.is_hide_set()).cloned();
        let arguments = whole.get_arguments().cloned();
        let mut people = clap::Command::new("anteroom").version("").args(arguments).subcommands(offered);
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut people, "anteroom", &mut script);
        screen.say(&String::from_utf8_lossy(&script));
        Ending::Clear
    }
}
