//! Somebody acts in a sequence that happens elsewhere, and no step has brought them there.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{RoleId, SequenceId};
use crate::rules::headings::is_misnamed;
use crate::rules::telling::{Said, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Absent;

impl Rule for Absent {
    fn name(&self) -> Name {
        Name { family: "place", word: "absent" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("absent.md")
    }

    /// Told once for each person and sequence, at the first step concerned. Where the heading is what is wrong, `place
    /// heading` tells of it.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: Vec<(SequenceId, RoleId)> = Vec::new();
        for (run, event) in brief.events() {
            let (What::NotHere { at, wanted }, Some(step)) = (&event.what, event.step) else { continue };
            if told.contains(&(step.sequence, event.who)) || is_misnamed(policy, step.sequence) {
                continue;
            }
            told.push((step.sequence, event.who));
            let who = the_role(policy, event.who);
            let (at, wanted) = (&policy.place(*at).name, &policy.place(*wanted).name);
            let said = Said {
                title: "Acts in a place where nobody has sent them".to_string(),
                message: format!(
                    "By the steps so far, {who} is still in the {at}. This sequence happens in the {wanted}. What is bared now is \
                     bared in the wrong place."
                ),
                way_out: format!("Write where {who} goes, before this step: “goes to {wanted}”."),
            };
            findings.push(brief.finding(self, run, event, said));
        }
    }
}
