//! A level that no sequence puts on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, LevelId};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Idle;

impl Rule for Idle {
    fn name(&self) -> Name {
        Name { family: "kit", word: "idle" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("idle.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, level) in policy.levels.iter().enumerate() {
            if level.kits.is_empty() {
                continue;
            }
            let mut acts =
                policy.sequences_of(LevelId::new(at)).flat_map(|(_, each)| &each.steps).map(|step| &step.act);
            let (title, harm) = if policy.sequences_of(LevelId::new(at)).next().is_none() {
                ("has no sequence", "People put the kit on and take it off from memory.")
            } else if !acts.any(|act| matches!(act, Act::PutOn { .. })) {
                ("is never put on", "People put the kit on from memory, and a gap stays unseen.")
            } else {
                continue;
            };
            let name: String = level.name.chars().take(25).collect();
            findings.push(plain(
                self,
                level.span,
                Said {
                    title: format!("The level {name} {title}"),
                    message: format!("{harm} The policy lists the kit and gives no steps for it."),
                    way_out: format!("Write `sequence \"…\" for {}` with the steps that are missing.", level.name),
                },
            ));
        }
    }
}
