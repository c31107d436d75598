//! Something is to come off while something else still lies over it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, ItemId, Policy};
use crate::rules::guards::is_for_torn;
use crate::rules::telling::{Said, bares_mouth, capital, comes, is_many, it_them, the_item};
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
            if bares_mouth(run, event, by) || is_for_torn(brief, event, item) {
                continue;
            }
            let (beneath, above) = (the_item(policy, item), the_item(policy, by));
            let lies = if is_many(policy, by) { "lie" } else { "lies" };
            let beneath_it = match (how, is_many(policy, item)) {
                (Block::Edge, true) => "their edge",
                (Block::Edge, false) => "its edge",
                _ => it_them(policy, item),
            };
            let sleeve = how == Block::Edge && is_sleeve_in_glove(policy, item, by);
            let drags = match sleeve {
                true => format!("Drawing {beneath} out from beneath can drag {above} along and bare a wrist."),
                false => format!("Pulling at {beneath} now drags a contaminated outside across skin or clothes."),
            };
            let finding = brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {} off too early", capital(&beneath), comes(policy, item)),
                    message: format!("{drags} {} still {lies} over {beneath_it}.", capital(&above)),
                    way_out: format!("Take off {above} first, or say that both come off together."),
                },
            );
            findings.push(Finding { signal: if sleeve { Signal::Warning } else { finding.signal }, ..finding });
        }
    }
}

/// The hand is in its glove when the sleeve is drawn out from beneath it: CDC for H5N1 (May 2024) and Italy publish that
/// order (GUIDANCE.md D8, D16).
fn is_sleeve_in_glove(policy: &Policy, item: ItemId, by: ItemId) -> bool {
    let has = |item: ItemId, area: Area| policy.item(item).covers.has(area);
    has(by, Area::Hands) && has(item, Area::Arms) && !has(item, Area::Hands)
}
