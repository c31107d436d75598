//! Something is to come off while something else still lies over it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, comes, is_are, is_many, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;
use crate::walk::body::Block;

pub struct Covered;

impl Rule for Covered {
    fn name(&self) -> Name {
        Name { family: "order", word: "covered" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("covered.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::Blocked { item, by, how: how @ (Block::Covered | Block::Edge) } = event.what else { continue };
            let (beneath, above) = (the_item(policy, item), the_item(policy, by));
            let lies = if is_many(policy, by) { "lie" } else { "lies" };
            let edge = if how == Block::Edge { "the edge of " } else { "" };
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {} off too early", capital(&beneath), comes(policy, item)),
                    message: format!(
                        "Pulling at {beneath} now drags the contaminated outside across skin or clothes. {} still {lies} \
                         over {edge}{}.",
                        capital(&above),
                        if is_many(policy, item) { "them" } else { "it" },
                    ),
                    way_out: format!(
                        "Take off {above} first, or say that both come off together. Check that {above} {} needed until then.",
                        is_are(policy, by)
                    ),
                },
            ));
        }
    }
}
