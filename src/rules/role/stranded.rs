//! Somebody puts kit on, and no sequence takes it off again.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Stranded;

impl Rule for Stranded {
    fn name(&self) -> Name {
        Name { family: "role", word: "stranded" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("stranded.md")
    }

    /// Told once for each person and level, at the first item.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |run: &Run, event: &Event| match event.what {
            What::NeverTakesOff { .. } if event.case.strike.is_none() => Some((run.level, event.who)),
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let who = the_role(policy, events[0].who);
            let said = Said {
                title: "Puts kit on and never takes it off".to_string(),
                message: format!(
                    "{} improvises the taking off, at the moment when most goes wrong. No sequence of the level {} says how.",
                    capital(&who),
                    policy.level(run.level).name
                ),
                way_out: format!("Write a taking-off sequence for {who}, with hand hygiene at its end."),
            };
            let mut finding = brief.finding(self, run, events[0], said);
            finding.related.extend(brief.further(&events[1..]));
            findings.push(finding);
        }
    }
}
