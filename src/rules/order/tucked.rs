//! Something is to come off while its edge is still tucked into something else.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, bares_mouth, capital, comes, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;
use crate::walk::body::Block;

pub struct Tucked;

impl Rule for Tucked {
    fn name(&self) -> Name {
        Name { family: "order", word: "tucked" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("tucked.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::Blocked { item, by, how: Block::Tucked } = event.what else { continue };
            if bares_mouth(run, event, by) {
                continue;
            }
            let (inner, outer) = (the_item(policy, item), the_item(policy, by));
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {} off while tucked in", capital(&inner), comes(policy, item)),
                    message: format!(
                        "Pulling {inner} free now drags a clean edge past the outside of {outer}. The edge is still tucked in \
                         there."
                    ),
                    way_out: format!("Take off {outer} first, or say that both come off together."),
                },
            ));
        }
    }
}
