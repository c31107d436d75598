//! Something is to come off while something else still lies over it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, FactKind, ItemId};
use crate::rules::telling::{Said, bares_mouth, capital, comes, is_many, it_them, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::body::Block;
use crate::walk::{Event, What};

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
            if bares_mouth(run, event, by) || replaces_torn(brief, event, item) {
                continue;
            }
            let (beneath, above) = (the_item(policy, item), the_item(policy, by));
            let lies = if is_many(policy, by) { "lie" } else { "lies" };
            let beneath_it = match (how, is_many(policy, item)) {
                (Block::Edge, true) => "their edge",
                (Block::Edge, false) => "its edge",
                _ => it_them(policy, item),
            };
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {} off too early", capital(&beneath), comes(policy, item)),
                    message: format!(
                        "Pulling at {beneath} now drags a contaminated outside across skin or clothes. {} still {lies} over \
                         {beneath_it}.",
                        capital(&above),
                    ),
                    way_out: format!("Take off {above} first, or say that both come off together."),
                },
            ));
        }
    }
}

/// A torn inner glove is changed at once, up to the sleeve that is still on (CDC training modules, 2014, gown, page 9).
fn replaces_torn(brief: &Brief, event: &Event, item: ItemId) -> bool {
    let Some(step) = event.step.map(|at| brief.step(at)) else { return false };
    let torn = |fact| {
        matches!(&brief.policy.fact(fact).kind, FactKind::Found { item: Some(found), state, .. }
            if *found == item && ["torn", "split", "holed", "punctured", "cut"].contains(&state.as_str()))
    };
    let only_when_torn = step.guard.any.iter().all(|all| all.iter().any(|literal| literal.holds && torn(literal.fact)));
    matches!(step.act, Act::Change { .. }) && only_when_torn
}
