//! Something is still on when the taking-off is over.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::ItemId;
use crate::rules::telling::{Said, capital, is_many, it_them, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::body::Block;
use crate::walk::{Event, Run, What};

pub struct Lingering;

impl Rule for Lingering {
    fn name(&self) -> Name {
        Name { family: "order", word: "lingering" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("lingering.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::LeftOn { item } = event.what else { continue };
            if event.case.strike.is_some() || is_told_elsewhere(run, event, item) {
                continue;
            }
            let (this, them) = (the_item(policy, item), it_them(policy, item));
            let stays = if is_many(policy, item) { "stay" } else { "stays" };
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {stays} on at the end", capital(&this)),
                    message: format!(
                        "Whatever lies on {this} leaves with {}. {} takes {them} off.",
                        the_role(policy, event.who),
                        if event.case.is_every() { "No step" } else { "In this case no step" },
                    ),
                    way_out: format!("Add the step that takes {this} off, where that belongs in the order."),
                },
            ));
        }
    }
}

/// Something comes off too early because this is still on, or this goes into a clean place: that is told instead.
fn is_told_elsewhere(run: &Run, event: &Event, item: ItemId) -> bool {
    run.events.iter().any(|other| {
        let named = match other.what {
            What::Blocked { by, how, .. } => by == item && how != Block::Connected,
            What::FaceBefore { still_on, .. } => still_on == item,
            What::DirtyEntry { item: worn, .. } => worn == item,
            _ => false,
        };
        named && other.who == event.who && other.case == event.case
    })
}
