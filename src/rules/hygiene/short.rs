//! A cleaning is given less time than it needs.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::shortfall::gathered;
use crate::rules::telling::{Said, capital};
use crate::rules::{Brief, Rule};
use crate::walk::cleaning::Shortfall;

pub struct Short;

impl Rule for Short {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "short" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("short.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (short, further) in gathered(brief, |why| matches!(why, Shortfall::TooShort { .. })) {
            let (Shortfall::TooShort { needs }, Some(time)) = (short.why, short.time) else { continue };
            let place = if short.is_hands { "the hands" } else { "what was wiped" };
            let mut finding = brief.finding(
                self,
                short.run,
                short.event,
                Said {
                    title: format!("{} is too short a cleaning", capital(&time.to_string())),
                    message: format!(
                        "The hazard stays on {place} and the next touch passes it on. {} needs {needs}.",
                        capital(&short.cleaner.name)
                    ),
                    way_out: format!("Write `for {needs}`, or a cleaner that needs less."),
                },
            );
            finding.related.extend(further);
            findings.push(finding);
        }
    }
}
