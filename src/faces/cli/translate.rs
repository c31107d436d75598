//! `anteroom translate FILE… --to LANGUAGE`: word files, with every text of the policies to be filled in.

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen, language, word_files};
use crate::faces::outbox;
use crate::faces::shelf::FolderShelf;
use crate::policy::meaning::fingerprint;
use crate::session;
use crate::translation::{WordFile, texts_of, translated, written};

/// Write the words of policies in another language, to be filled in; what is filled in already stays
///
/// The file stands beside the policy: side-rooms.fr.words beside side-rooms.ppe.
#[derive(clap::Args)]
pub struct Translate {
    /// Policy files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<Utf8PathBuf>,
    /// The language, as a tag: fr
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    to: String,
}

impl Translate {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let mut ending = Ending::Clear;
        for file in &self.files {
            if let Err(why) = self.translate(file, screen) {
                screen.remark(&why);
                ending = Ending::CouldNotRun;
            }
        }
        ending
    }

    fn translate(&self, file: &Utf8Path, screen: &mut Screen) -> Result<(), String> {
        let opened = FolderShelf::open(file);
        let (shelf, text) = opened.map_err(|why| format!("{file} is not read: {why}."))?;
        let policy = session::read(file.as_str(), &text, &shelf).policy;
        let path = word_files::path(file, &self.to);
        let found = word_files::read(file, &self.to).transpose()?;
        let known = found.clone().unwrap_or_default();
        if let Some(mistake) = known.mistakes.first() {
            return Err(format!("{path} is left as it was. Put right line {} first: {}", mistake.line, mistake.why));
        }
        let print = fingerprint(&policy);
        let text = written(&policy, &self.to, &print, &known);
        let put = if found.is_some() { outbox::rewrite } else { outbox::create };
        put(&path, text.as_bytes()).map_err(|why| format!("{path} is not written: {why}."))?;
        let all = texts_of(&policy).len();
        let now = translated(&policy, &known);
        screen.say_line(&format!("{path} has {all} texts, {} of them still to be translated.", now.missing.len()));
        if !now.idle.is_empty() {
            screen.say_line(&format!("{} at its end are not in the policy any more.", now.idle.len()));
        }
        tell_stale(&known, &print, screen);
        screen.say_line(&format!("Print it: anteroom print {file} --language {}", self.to));
        Ok(())
    }
}

fn tell_stale(known: &WordFile, print: &str, screen: &mut Screen) {
    if known.fingerprint.as_deref().is_some_and(|of| of != print) {
        screen.say_line("The policy has changed since it was translated.");
        screen.say_line(&format!("Once its words are read again, write: of fingerprint {print}"));
    }
}
