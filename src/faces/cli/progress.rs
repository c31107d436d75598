//! How far long work has got: one line on a terminal, gone when the work is done.
//!
//! In: how much is done. Out: a line on standard error. Must never appear in a pipe or a file.

use std::io::{self, IsTerminal, Write};

use super::Screen;

#[derive(Clone, Copy)]
pub struct Progress {
    shown: bool,
}

impl Progress {
    pub fn on(screen: &Screen) -> Progress {
        Progress { shown: screen.looks.is_some() && io::stderr().is_terminal() }
    }

    pub fn tell(&self, words: &str) {
        if self.shown {
            let _ = write!(io::stderr().lock(), "\r\u{1b}[K{words}");
        }
    }

    pub fn done(&self) {
        self.tell("");
    }
}
