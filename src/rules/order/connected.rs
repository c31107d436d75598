//! Something is to come off while it is still connected to something else.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, comes, is_are, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;
use crate::walk::body::Block;

pub struct Connected;

impl Rule for Connected {
    fn name(&self) -> Name {
        Name { family: "order", word: "connected" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("connected.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::Blocked { item, by, how: Block::Connected } = event.what else { continue };
            let (this, other) = (the_item(policy, item), the_item(policy, by));
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {} off while connected", capital(&this), comes(policy, item)),
                    message: format!(
                        "The pull goes on to {other} and drags one of the two across face or clothes. {} {} still connected \
                         to {other}.",
                        capital(&this),
                        is_are(policy, item)
                    ),
                    way_out: format!("Add the step that disconnects {this} from {other} before this one."),
                },
            ));
        }
    }
}
