//! `anteroom release check FOLDER`: whether every file of every edition is as it was frozen and signed.

use camino::Utf8PathBuf;

use super::Trust;
use crate::faces::archive::{Fault, Record, Releases};
use crate::faces::cli::{Ending, Screen};
use crate::release::{Edition, Signers};

/// Look whether every file of every edition is as it was frozen and signed
///
/// Exit status: 0 everything is as it was, 1 something has changed, is missing or was added, 2 could not look.
#[derive(clap::Args)]
pub struct Check {
    /// The folder of releases
    #[arg(default_value = "releases")]
    folder: Utf8PathBuf,
    #[command(flatten)]
    trust: Trust,
}

impl Check {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let releases = match Releases::read(&self.folder) {
            Ok(releases) => releases,
            Err(why) => {
                screen.remark(&format!("{} cannot be looked into: {why}.", self.folder));
                return Ending::CouldNotRun;
            }
        };
        if releases.records.is_empty() && releases.faults.is_empty() {
            screen.remark(&format!("{} holds no release: to begin one: anteroom release freeze", self.folder));
            return Ending::CouldNotRun;
        }
        let mut editions = releases.records.iter().flat_map(|record| &record.history.editions);
        let is_signed = editions.any(|edition| !edition.approvals.is_empty());
        let signers = if is_signed { self.trust.read(&self.folder) } else { Ok(Signers::default()) };
        let signers = match signers {
            Ok(signers) => signers,
            Err(why) => {
                screen.remark(&format!("The signatures cannot be looked at: {why}"));
                return Ending::CouldNotRun;
            }
        };
        let mut faults: Vec<Fault> = releases.faults.clone();
        for record in &releases.records {
            tell(record, screen);
            faults.extend(record.history.editions.iter().flat_map(|edition| record.faults_of(edition, &signers)));
            faults.extend(record.strays());
        }
        faults.iter().for_each(|fault| screen.say_line(&format!("{}: {}.", fault.path, fault.why)));
        match faults.len() {
            0 if is_signed => {
                screen.say_line("Every file is as it was frozen, and every signature is on what was frozen.")
            }
            0 => screen.say_line("Every file is as it was frozen. Nothing is signed yet."),
            1 => screen.say_line("1 thing is not as it was."),
            many => screen.say_line(&format!("{many} things are not as they were.")),
        }
        if faults.is_empty() { Ending::Clear } else { Ending::Grave }
    }
}

fn tell(record: &Record, screen: &mut Screen) {
    for edition in &record.history.editions {
        let folder = record.folder.join(&edition.folder);
        screen.say_line(&format!("{}: {} since {}, in {folder}", edition.name(), edition.stage.words(), edition.since));
        signed(edition).iter().for_each(|sentence| screen.say_item(sentence));
    }
    let (lines, last) = (record.log.entries.len(), record.log.last());
    screen.say_item(&format!("Its log has {lines} lines; the hash of the last, to be kept elsewhere: {last}"));
}

fn signed(edition: &Edition) -> Vec<String> {
    let mut told: Vec<String> = edition
        .approvals
        .iter()
        .map(|approval| format!("Signed by {} on {}, key {}", approval.by.join(" or "), approval.on, approval.key))
        .collect();
    told.extend(edition.reviewed.as_ref().map(|reviewed| {
        let (on, by, next) = (reviewed.on, &reviewed.by, reviewed.review_by);
        format!("Reviewed by {by} on {on} and left as it is; next review by {next}")
    }));
    told
}
