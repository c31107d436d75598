//! `anteroom check FILE…`: what is found in policies.

use camino::Utf8PathBuf;

use super::when::{Basis, When};
use super::{Ending, Screen, policies};
use crate::findings::{Report, closing, json, plain, terminal};
use crate::session::{Standing, standing};

/// Check policies and tell what is found
#[derive(clap::Args)]
pub struct Check {
    /// Policy files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<Utf8PathBuf>,
    /// One JSON object for the whole run, for other programs; its schema: anteroom schema
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    when: When,
}

impl Check {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let Some(basis) = self.when.basis(screen) else { return Ending::CouldNotRun };
        let policies = policies::check(&self.files, &basis);
        let report = Report::new(&policies.checked, &policies.unread);
        if self.json {
            screen.say(&json::report(&report));
        } else {
            tell(&report, &basis, screen);
        }
        screen.unread(&policies.unread);
        ending(&report)
    }
}

pub fn ending(report: &Report) -> Ending {
    match report.unread {
        [] if report.tally().is_grave() => Ending::Grave,
        [] => Ending::Clear,
        _ => Ending::CouldNotRun,
    }
}

fn tell(report: &Report, basis: &Basis, screen: &mut Screen) {
    for policy in &report.policies {
        let sources = &policy.checked.reading.sources;
        for finding in &policy.findings {
            let text = match screen.looks {
                Some(looks) => terminal::finding(finding, sources, looks),
                None => plain::finding(finding, sources),
            };
            screen.say(&(text + "\n"));
        }
    }
    for policy in &report.policies {
        screen.say_line(&format!("{}, fingerprint {}", policy.file, policy.checked.fingerprint));
        policy.tally().sentences().iter().for_each(|sentence| screen.say_line(sentence));
        if let Standing::Withdrawn(day) = standing(policy.checked) {
            screen.say_line(&format!("It no longer holds: it was withdrawn on {day}."));
        }
        basis.disagreements(policy.checked).iter().for_each(|sentence| screen.say_line(sentence));
        for (heading, sentences) in closing::scope(&policy.checked.examined) {
            screen.say_line(heading);
            sentences.iter().for_each(|sentence| screen.say_item(sentence));
        }
        screen.say("\n");
    }
    if !report.policies.is_empty() {
        screen.say_line(closing::CAUTION);
    }
}
