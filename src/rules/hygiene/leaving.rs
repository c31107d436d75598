//! Somebody goes to a clean place with the hands that took kit off, and cleans them only there.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Leaving;

impl Rule for Leaving {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "leaving" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("leaving.md")
    }

    /// Where nothing cleans the hands afterwards either, or kit is still on, that is told instead.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events() {
            let What::UncleanEntry { place } = event.what else { continue };
            let never = brief.noticed(run, event.earlier, event.who, |what| *what == What::NotLast);
            let in_kit = brief.noticed(run, event.step, event.who, |what| matches!(what, What::DirtyEntry { .. }));
            if never || in_kit {
                continue;
            }
            let said = Said {
                title: "Hands not cleaned before the way out".to_string(),
                message: format!(
                    "What the kit left on the hands meets the door and whoever opens it next. {} enters the {} first.",
                    capital(&the_role(brief.policy, event.who)),
                    brief.policy.place(place).name
                ),
                way_out: "Clean hands just before this step.".to_string(),
            };
            findings.push(brief.finding(self, run, event, said));
        }
    }
}
