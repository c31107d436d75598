//! Somebody helps in taking off and has no kit at this level.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Unkitted;

impl Rule for Unkitted {
    fn name(&self) -> Name {
        Name { family: "role", word: "unkitted" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unkitted.md")
    }

    /// Told once for each person and level, at DANGER where the bare hand meets the hazard itself. Somebody who only watches should not touch at all: `role watcher`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let group = |run: &Run, event: &Event| match (&event.what, event.step) {
            (What::Handles { other }, Some(step)) => {
                let actor = policy.role(event.actor);
                let only_watches = actor.watches && !actor.helps.contains(other);
                let takes_off = run.taking_off.contains(&step.sequence);
                (takes_off && !only_watches && !brief.has_kit(run, event.actor)).then_some((run.level, event.actor))
            }
            _ => None,
        };
        for (run, events) in brief.groups(group) {
            let helper = the_role(policy, events[0].actor);
            let said = Said {
                title: "Helps in taking off without any kit".to_string(),
                message: format!(
                    "{} meets the contaminated outside with bare skin and own clothes. The level {} lists no kit for {helper}.",
                    capital(&helper),
                    policy.level(run.level).name
                ),
                way_out: format!("List what {helper} wears at this level, and write how it goes on and comes off."),
            };
            findings.push(brief.by_bare_hand(brief.finding_of_all(self, run, &events, said), run, &events));
        }
    }
}
