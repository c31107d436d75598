//! Something is still only half on when its wearer meets the hazard.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, is_are, it_them, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Half;

impl Rule for Half {
    fn name(&self) -> Name {
        Name { family: "order", word: "half" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("half.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::LeftHalfOn { item } = event.what else { continue };
            let (this, are, them) = (the_item(policy, item), is_are(policy, item), it_them(policy, item));
            let who = the_role(policy, event.who);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {are} only half on", capital(&this)),
                    message: format!(
                        "{} meets the hazard with part of the body open. {} went on part of the way, and no step pulls {them} \
                         up.",
                        capital(&who),
                        capital(&this),
                    ),
                    way_out: format!("Add the step that pulls up {this} before {who} goes in."),
                },
            ));
        }
    }
}
