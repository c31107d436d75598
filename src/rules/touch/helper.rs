//! The hazard comes nearer to somebody who helps or watches than the level allows.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::nearness::{Reached, fixture_before, reached, surface_words};
use crate::rules::telling::{Said, capital, fitting};
use crate::rules::{Brief, Rule};
use crate::walk::telling::touches;

pub struct Helper;

impl Rule for Helper {
    fn name(&self) -> Name {
        Name { family: "touch", word: "helper" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("helper.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for Reached { run, nearest, surface, distance, margin, also } in reached(brief) {
            let role = brief.policy.role(nearest.who);
            if role.helps.is_empty() && !role.watches {
                continue;
            }
            let place = surface_words(brief.policy, surface);
            let way_out = match fixture_before(brief.policy, nearest) {
                Some(thing) => format!("Wipe the {thing} before it is touched, or keep away from it."),
                None => "Let the colleague clean hands before the touch that brings the hazard here.".to_string(),
            };
            findings.push(brief.finding(
                self,
                run,
                nearest,
                Said {
                    title: fitting(format!("{} from {place}", capital(&touches(distance))), "A colleague comes too near"),
                    message: format!(
                        "This step brings the hazard to {place} by {}. The level asks for at least {margin}, for everybody.{also}",
                        touches(distance)
                    ),
                    way_out,
                },
            ));
        }
    }
}
