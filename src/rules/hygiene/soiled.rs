//! A rub is used on visibly soiled hands.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::shortfall::shortfalls;
use crate::rules::telling::{Said, capital};
use crate::rules::{Brief, Rule};
use crate::walk::cleaning::Shortfall;

pub struct Soiled;

impl Rule for Soiled {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "soiled" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("soiled.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for short in shortfalls(brief).into_iter().filter(|short| short.why == Shortfall::Soil) {
            findings.push(brief.finding(
                self,
                short.run,
                short.event,
                Said {
                    title: "Visible soil is left on the hands".to_string(),
                    message: format!(
                        "Soil shields what it holds, and the next touch passes it on. {} does not clean soiled hands.",
                        capital(&short.cleaner.name)
                    ),
                    way_out: "Wash with soap and water in this case.".to_string(),
                },
            ));
        }
    }
}
