//! The day of a run, and the releases whose reviews count on it: what every command that tells whether something holds asks for.
//!
//! In: arguments. Out: the day and the releases. Must never go on without releases that were asked for.

use camino::Utf8PathBuf;

use super::{Screen, day};
use crate::faces::archive::Releases;
use crate::policy::Day;
use crate::release::Edition;
use crate::release::disagreement::{disagreements, unfrozen};
use crate::session::Checked;

#[derive(clap::Args)]
pub struct When {
    /// The date to compare the policies' dates with, as 2026-11-30; without it, today
    #[arg(long, value_name = "DATE", value_parser = day)]
    today: Option<Day>,
    /// The folder of releases: a review there that changed nothing moves the review date
    #[arg(long, value_name = "FOLDER")]
    releases: Option<Utf8PathBuf>,
}

/// A day, and what the logs of releases say.
pub struct Basis {
    pub today: Day,
    /// None where nobody asked for them.
    pub releases: Option<Releases>,
}

impl Basis {
    /// A day, and the policies' own lines.
    pub fn on(today: Day) -> Basis {
        Basis { today, releases: None }
    }

    pub fn review_moved(&self, fingerprint: &str) -> Option<Day> {
        self.releases.as_ref()?.review_moved(fingerprint)
    }
}

impl Basis {
    /// The edition of this very text among the releases.
    pub fn release(&self, checked: &Checked) -> Option<&Edition> {
        self.releases.as_ref()?.edition(&checked.fingerprint)
    }

    /// Where the log of releases and the policy do not say the same, each a sentence.
    pub fn disagreements(&self, checked: &Checked) -> Vec<String> {
        let Some(releases) = &self.releases else { return Vec::new() };
        let paper = &checked.reading.policy.paper;
        if let Some(edition) = releases.edition(&checked.fingerprint) {
            return disagreements(paper, edition, self.today);
        }
        let record = paper.identity().and_then(|identity| releases.record_of(&identity));
        record.and_then(|record| unfrozen(&record.history)).into_iter().collect()
    }
}

impl When {
    pub fn today(&self) -> Day {
        self.today.unwrap_or_else(super::today)
    }

    /// None where the releases cannot be believed, which has been told then.
    pub fn basis(&self, screen: &mut Screen) -> Option<Basis> {
        let today = self.today();
        let Some(folder) = &self.releases else { return Some(Basis { today, releases: None }) };
        match Releases::read(folder) {
            Ok(releases) if releases.faults.is_empty() => Some(Basis { today, releases: Some(releases) }),
            Ok(releases) => {
                for fault in releases.faults {
                    screen.remark(&format!("{}: {}.", fault.path, fault.why));
                }
                None
            }
            Err(why) => {
                screen.remark(&format!("{folder} cannot be looked into: {why}."));
                None
            }
        }
    }
}
