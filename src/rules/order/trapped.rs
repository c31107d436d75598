//! The part by which something is to come off lies beneath what went on later.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Act;
use crate::rules::telling::{Said, capital, is_many, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Trapped;

impl Rule for Trapped {
    fn name(&self) -> Name {
        Name { family: "order", word: "trapped" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("trapped.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let (What::Trapped { item, by }, Some(at)) = (&event.what, event.step) else { continue };
            let Act::TakeOff { grip: Some(part), .. } = &brief.step(at).act else { continue };
            let (this, above) = (the_item(policy, *item), the_item(policy, *by));
            let lies = if is_many(policy, *by) { "lie" } else { "lies" };
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} out of reach beneath another layer", capital(part)),
                    message: format!(
                        "Fingers have to go in under {above}, along the contaminated outside, to reach the {part}. {} \
                         {lies} over the {part} of {this}.",
                        capital(&above),
                    ),
                    way_out: format!("Take off {above} first, or name a part of {this} that can be reached."),
                },
            ));
        }
    }
}
