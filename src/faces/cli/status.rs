//! `anteroom status FOLDER…`: where every policy stands and what is due first.

use camino::Utf8PathBuf;

use super::when::When;
use super::{Ending, Screen, policies, word_files};
use crate::faces::{archive, outbox, shelf};
use crate::findings::closing::CAUTION;
use crate::overview::{self, Looked, Overview, Words, calendar, json, table};

/// Tell where every policy stands, and what is due first
///
/// Exit status: 0 nothing needs somebody today; 1 a review is overdue, an exception has lapsed, a translation is stale or
/// something stands open at DANGER, or the log of releases says otherwise than the policy; 2 could not run.
#[derive(clap::Args)]
pub struct Status {
    /// Folders of policies, looked into with the folders within them; or policy files
    #[arg(required = true, value_name = "FOLDER")]
    places: Vec<Utf8PathBuf>,
    /// Days within which an exception is said to lapse soon
    #[arg(long, value_name = "DAYS", default_value_t = 60)]
    soon: u32,
    /// One JSON object, for other programs; its schema: anteroom schema status
    #[arg(long, conflicts_with = "csv")]
    json: bool,
    /// A table for a spreadsheet, a line for each policy
    #[arg(long)]
    csv: bool,
    /// Write the review dates into a calendar file as well
    #[arg(long, value_name = "FILE.ics")]
    calendar: Option<Utf8PathBuf>,
    #[command(flatten)]
    when: When,
}

impl Status {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let Some(basis) = self.when.basis(screen) else { return Ending::CouldNotRun };
        let (files, mut unread) = self.files();
        let policies = policies::check(&files, &basis);
        unread.extend(policies.unread);
        let checked: Vec<Utf8PathBuf> = policies.checked.iter().map(|(file, _)| Utf8PathBuf::from(file)).collect();
        let words: Vec<Vec<Words>> = word_files::beside_each(&checked);
        let looked = policies.checked.iter().zip(&words);
        let looked = looked.map(|((file, checked), words)| Looked {
            file,
            checked,
            words,
            release: basis.release(checked),
            disagreements: basis.disagreements(checked),
        });
        let looked: Vec<Looked> = looked.collect();
        let overview = overview::overview(&looked, basis.today, self.soon);
        self.tell(&overview, &unread, screen);
        screen.unread(&unread);
        let is_kept = self.keep(&overview, screen);
        match (is_kept && unread.is_empty(), overview.needs_action()) {
            (false, _) => Ending::CouldNotRun,
            (true, true) => Ending::Grave,
            (true, false) => Ending::Clear,
        }
    }

    /// The policy files asked for, and the places that could not be looked into.
    fn files(&self) -> (Vec<Utf8PathBuf>, Vec<(String, String)>) {
        let (mut files, mut unread) = (Vec::new(), Vec::new());
        for place in &self.places {
            if !place.is_dir() {
                files.push(place.clone());
                continue;
            }
            match shelf::policies_within(place) {
                // A frozen edition is kept for the record, and has no review of its own.
                Ok(found) => files.extend(found.into_iter().filter(|file| !archive::is_frozen(file, place))),
                Err(why) => unread.push((place.to_string(), why)),
            }
        }
        (files, unread)
    }

    fn tell(&self, overview: &Overview, unread: &[(String, String)], screen: &mut Screen) {
        if self.json {
            return screen.say(&json::json(overview, unread));
        }
        if self.csv {
            return screen.say(&overview::csv::csv(overview));
        }
        match screen.looks {
            Some(_) => screen.say(&table::table(overview)),
            None => table::sentences(overview).iter().for_each(|sentence| screen.say_line(sentence)),
        }
        screen.say_line(CAUTION);
    }

    /// Whether the calendar is written, where one is asked for.
    fn keep(&self, overview: &Overview, screen: &mut Screen) -> bool {
        let Some(path) = &self.calendar else { return true };
        let put = if path.exists() { outbox::rewrite } else { outbox::begin };
        match put(path, calendar::calendar(overview).as_bytes()) {
            Ok(()) => {
                if !self.json && !self.csv {
                    screen.say_line(&format!("The review dates are in {path}."));
                }
                true
            }
            Err(why) => {
                screen.remark(&format!("{path} is not written: {why}."));
                false
            }
        }
    }
}
