//! Something is to come off while something else holds it down.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, bares_mouth, capital, comes, is_many, it_them, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;
use crate::walk::body::Block;

pub struct Held;

impl Rule for Held {
    fn name(&self) -> Name {
        Name { family: "order", word: "held" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("held.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::Blocked { item, by, how: Block::HeldDown } = event.what else { continue };
            if bares_mouth(run, event, by) {
                continue;
            }
            let (beneath, above) = (the_item(policy, item), the_item(policy, by));
            let them = it_them(policy, item);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {} off while held down", capital(&beneath), comes(policy, item)),
                    message: format!(
                        "Pulling at {beneath} now shifts {above} as well, and skin beneath can be bared. {} still {} {them} down.",
                        capital(&above),
                        if is_many(policy, by) { "hold" } else { "holds" },
                    ),
                    way_out: format!("Take off {above} first, or say that both come off together."),
                },
            ));
        }
    }
}
