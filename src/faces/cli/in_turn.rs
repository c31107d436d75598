//! What `print` and `issue` do alike: each policy in turn, with a folder for what is made of it.
//!
//! In: the files and what to do with each. Out: how the run ended. Must never let one policy keep another from its turn.

use std::collections::BTreeSet;

use camino::{Utf8Path, Utf8PathBuf};

use super::when::Basis;
use super::{Ending, Screen, check, policies};
use crate::faces::outbox::{self, Outbox};
use crate::findings::{PolicyReport, Report, closing};

/// A run over several policies.
pub struct InTurn<'a> {
    pub files: &'a [Utf8PathBuf],
    pub out: &'a Utf8Path,
    pub basis: &'a Basis,
    /// `printed`, `issued`
    pub done: &'a str,
}

impl InTurn<'_> {
    /// `folder`: where the files of one policy go, by its name; `work`: whether everything was made.
    pub fn run(
        &self,
        screen: &mut Screen,
        folder: impl Fn(&Outbox, &PolicyReport, &str) -> Result<Outbox, String>,
        work: impl Fn(&PolicyReport, Outbox, &mut Screen) -> bool,
    ) -> Ending {
        let done = self.done;
        let outbox = match Outbox::open(self.out) {
            Ok(outbox) => outbox,
            Err(why) => {
                screen.remark(&format!("Nothing is {done}: {} cannot be written to: {why}.", self.out));
                return Ending::CouldNotRun;
            }
        };
        let policies = policies::check(self.files, self.basis);
        let report = Report::new(&policies.checked, &policies.unread);
        let mut ending = check::ending(&report);
        let mut taken = BTreeSet::new();
        for policy in &report.policies {
            tell_findings(policy, screen);
            self.basis.disagreements(policy.checked).iter().for_each(|sentence| screen.say_line(sentence));
            let is_whole = match folder(&outbox, policy, &name(policy.file, &mut taken)) {
                Ok(folder) => work(policy, folder, screen),
                Err(why) => {
                    screen.remark(&format!("{} is not {done}: {why}.", policy.file));
                    false
                }
            };
            if !is_whole {
                ending = Ending::CouldNotRun;
            }
        }
        screen.unread(&policies.unread);
        if !report.policies.is_empty() {
            screen.say_line(closing::CAUTION);
        }
        ending
    }
}

/// What the check found, in one line.
fn tell_findings(policy: &PolicyReport, screen: &mut Screen) {
    screen.say_line(&format!("{}, fingerprint {}", policy.file, policy.checked.fingerprint));
    for sentence in policy.tally().sentences() {
        screen.say_line(&sentence);
    }
    if !policy.findings.is_empty() {
        screen.say_line(&format!("To read them: anteroom check {}", policy.file));
    }
}

/// The name of the policy's file without its ending, and a number where two policies share it.
pub fn name(file: &str, taken: &mut BTreeSet<String>) -> String {
    let stem = outbox::clean(Utf8Path::new(file).file_stem().unwrap_or_default());
    let numbered = (2..).map(|number| format!("{stem}-{number}"));
    let name = std::iter::once(stem.clone()).chain(numbered).find(|name| !taken.contains(name)).unwrap_or_default();
    taken.insert(name.clone());
    name
}

/// Tells of files of this kind that were there before and are not of this run.
pub fn tell_others(outbox: &Outbox, endings: &[&str], written: &BTreeSet<String>, screen: &mut Screen) {
    let others: Vec<String> = endings.iter().flat_map(|ending| outbox.others(ending, written)).collect();
    if !others.is_empty() {
        screen.say_line(&format!("In {}, but not of this run: {}", outbox.folder(), others.join(", ")));
    }
}
