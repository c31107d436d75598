//! The terminal, pipe or file that the words go to.
//!
//! In: text. Out: the same text, as far as the reader still reads. Must never colour what is not a terminal.

use std::io::{self, IsTerminal, Write};

use super::Ending;
use crate::findings::shown::spoken;
use crate::findings::terminal::{Looks, wrapped};

/// Where the answer goes, and how it may look there.
pub struct Screen {
    /// None: plain sentences.
    pub looks: Option<Looks>,
    failed: bool,
}

impl Screen {
    pub fn new(plain: bool) -> Screen {
        let dumb = std::env::var_os("TERM").is_none_or(|term| term == "dumb");
        let fancy = io::stdout().is_terminal() && !dumb && !plain;
        let no_colour = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
        let width = terminal_width().clamp(40, 100);
        Screen { looks: fancy.then_some(Looks { colour: !no_colour, width }), failed: false }
    }

    /// The answer itself.
    pub fn say(&mut self, text: &str) {
        let mut out = io::stdout().lock();
        match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
            Ok(()) => {}
            // A reader that has seen enough has closed the pipe.
            Err(error) if error.kind() == io::ErrorKind::BrokenPipe => {}
            Err(error) => {
                if !self.failed {
                    self.remark(&format!("The answer cannot be written: {}.", super::super::outbox::reason(&error)));
                }
                self.failed = true;
            }
        }
    }

    /// A sentence, broken into lines on a terminal.
    pub fn say_line(&mut self, sentence: &str) {
        let text = match self.looks {
            Some(looks) => wrapped(&spoken(sentence), "", "", looks.width),
            None => format!("{}\n", spoken(sentence)),
        };
        self.say(&text);
    }

    /// A sentence of a list.
    pub fn say_item(&mut self, sentence: &str) {
        let text = match self.looks {
            Some(looks) => wrapped(&spoken(sentence), "  ", "    ", looks.width),
            None => format!("  {}\n", spoken(sentence)),
        };
        self.say(&text);
    }

    /// Words about the run rather than the answer: what could not be done.
    pub fn remark(&mut self, sentence: &str) {
        let _ = writeln!(io::stderr().lock(), "{}", crate::findings::shown::shown(sentence));
    }

    /// Each file that could not be read, and why.
    pub fn unread(&mut self, files: &[(String, String)]) {
        for (file, why) in files {
            let stop = if why.ends_with('?') { "" } else { "." };
            self.remark(&format!("{file} cannot be read: {why}{stop}"));
        }
    }

    /// The ending of a run, unless its answer never reached anybody.
    pub fn end(&self, ending: Ending) -> Ending {
        if self.failed { Ending::CouldNotRun } else { ending }
    }
}

/// Columns, as clap's own terminal look-up gives them; 80 where nothing is known.
fn terminal_width() -> usize {
    let asked = std::env::var("COLUMNS").ok().and_then(|columns| columns.parse().ok());
    asked.or_else(|| terminal_size::terminal_size().map(|(width, _)| width.0 as usize)).unwrap_or(80)
}
