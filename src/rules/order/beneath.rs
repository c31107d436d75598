//! Something goes on beneath whose edge the order of putting on then lies wrong.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::guards::is_for_torn;
use crate::rules::telling::{Said, capital, is_are, is_many, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Beneath;

impl Rule for Beneath {
    fn name(&self) -> Name {
        Name { family: "order", word: "beneath" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("beneath.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::GoesOnLate { item, over } = event.what else { continue };
            if is_for_torn(brief, event, item) {
                continue;
            }
            let (lower, upper) = (the_item(policy, item), the_item(policy, over));
            let are = is_are(policy, over);
            let they = if is_many(policy, over) { "they" } else { "it" };
            let goes = if is_many(policy, item) { "go" } else { "goes" };
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {goes} on too late", capital(&lower)),
                    message: format!(
                        "Fluid can run in at that edge, and later a hand must feel for it beneath. The edge of {upper} \
                         belongs on top, yet {they} {are} on already.",
                    ),
                    way_out: format!(
                        "Put on {lower} before {upper}. Or correct the line that says how their edges meet."
                    ),
                },
            ));
        }
    }
}
