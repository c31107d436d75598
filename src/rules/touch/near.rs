//! The hazard comes nearer to the wearer's skin, face or clothes than the level allows.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::nearness::{Reached, fixture_before, reached, surface_words};
use crate::rules::telling::{Said, capital, fitting};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;

pub struct Near;

impl Rule for Near {
    fn name(&self) -> Name {
        Name { family: "touch", word: "near" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("near.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for Reached { run, nearest, surface, distance, margin, also } in reached(brief) {
            let role = brief.policy.role(nearest.who);
            if !role.helps.is_empty() || role.watches {
                continue;
            }
            let place = surface_words(brief.policy, surface);
            let way_out = match fixture_before(brief.policy, nearest) {
                Some(thing) => format!("Wipe the {thing} before it is touched, or keep away from it."),
                None => "Clean the hands or the item before the touch that brings the hazard here.".to_string(),
            };
            findings.push(brief.finding(
                self,
                run,
                nearest,
                Said {
                    title: fitting(
                        format!("{} from {place}", capital(&touches(distance))),
                        "The hazard comes too near",
                    ),
                    message: format!(
                        "The hazard can reach {place} by {}. The level asks for at least {margin}.{also}",
                        touches(distance)
                    ),
                    way_out,
                },
            ));
        }
    }
}
