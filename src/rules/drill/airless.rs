//! The air supply fails, and the drill lets its wearer go on where the hazard is.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::drills::finding;
use crate::rules::telling::{Said, fitting, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Airless;

impl Rule for Airless {
    fn name(&self) -> Name {
        Name { family: "drill", word: "airless" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("airless.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::WithoutAir { item, place } = event.what else { continue };
            let name = the_item(policy, item);
            let said = Said {
                title: fitting(format!("Goes on without air from {name}"), "Goes on without clean air"),
                message: format!(
                    "Nose and mouth breathe what the room holds. When {name} fails, this drill leaves its wearer in the {}.",
                    policy.place(place).name
                ),
                way_out: "Let the drill go to the place for taking off, and start the taking-off there.".to_string(),
            };
            findings.push(finding(brief, self, run, event, said));
        }
    }
}
