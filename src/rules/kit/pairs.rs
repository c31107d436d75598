//! More pieces or pairs are used than the level lists.

use std::collections::BTreeMap;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, ItemId, LevelId, Policy, RoleId, Step};
use crate::rules::guards::{Worst, worst};
use crate::rules::telling::{Said, is_many, plain, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Pairs;

impl Rule for Pairs {
    fn name(&self) -> Name {
        Name { family: "kit", word: "pairs" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("pairs.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, level) in policy.levels.iter().enumerate() {
            let taken = taken(policy, LevelId::new(at));
            for (kit, worn) in level.kits.iter().flat_map(|kit| kit.items.iter().map(move |worn| (kit, worn))) {
                let Some(steps) = taken.get(&(kit.role, worn.item)) else { continue };
                let Worst { count, case } = worst(policy, steps);
                if count <= worn.pairs as usize || is_put_on_twice(brief, kit.role, worn.item) {
                    continue;
                }
                let (what, who) = (the_item(policy, worn.item), the_role(policy, kit.role));
                let piece = if is_many(policy, worn.item) { "pairs" } else { "pieces" };
                let mut finding = plain(
                    self,
                    worn.span,
                    Said {
                        title: format!("Too few of {what} are listed"),
                        message: format!(
                            "Hands reach for a fresh one that is not there. {} needs {count} {piece} where {} is listed.",
                            crate::rules::telling::capital(&who),
                            worn.pairs,
                        ),
                        way_out: format!("List {count} {piece} of {what} for {who}."),
                    },
                );
                finding.case = case;
                finding.related = steps.iter().take(6).map(|step| (step.span, step.words.clone())).collect();
                findings.push(finding);
            }
        }
    }
}

/// Put on over itself: that is told at the step.
fn is_put_on_twice(brief: &Brief, who: RoleId, item: ItemId) -> bool {
    let twice = What::AlreadyOn { item };
    brief.walk.runs.iter().flat_map(|run| &run.events).any(|event| event.who == who && event.what == twice)
}

/// The steps at which each person takes a fresh piece of each item. A reusable one counts again only where it is fresh.
fn taken(policy: &Policy, level: LevelId) -> BTreeMap<(RoleId, ItemId), Vec<&Step>> {
    let mut taken: BTreeMap<(RoleId, ItemId), Vec<&Step>> = BTreeMap::new();
    for step in policy.sequences_of(level).flat_map(|(_, sequence)| &sequence.steps) {
        let (wearer, item, fresh) = match step.act {
            Act::PutOn { wearer, item, fresh, .. } => (wearer, item, fresh),
            Act::Change { wearer, item } => (wearer, item, true),
            _ => continue,
        };
        let steps = taken.entry((wearer, item)).or_default();
        if steps.is_empty() || fresh || policy.item(item).single_use {
            steps.push(step);
        }
    }
    taken
}
