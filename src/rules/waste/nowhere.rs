//! A single-use item comes off and the policy does not say where it goes.

use std::collections::BTreeMap;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, ItemId, Sequence, Target};
use crate::rules::telling::{Said, capital, is_are, plain, the_item};
use crate::rules::{Brief, Rule};

/// Further steps that a message lists.
const MOST_RELATED: usize = 12;

pub struct Nowhere;

impl Rule for Nowhere {
    fn name(&self) -> Name {
        Name { family: "waste", word: "nowhere" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("nowhere.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: BTreeMap<ItemId, usize> = BTreeMap::new();
        for sequence in &policy.sequences {
            for (at, step) in sequence.steps.iter().enumerate() {
                let (items, into) = match &step.act {
                    Act::TakeOff { item, together_with, into, .. } => (
                        std::iter::once(*item).chain(together_with.iter().copied()).collect::<Vec<_>>(),
                        into.is_some(),
                    ),
                    Act::Change { item, .. } => (vec![*item], false),
                    _ => continue,
                };
                let lost = items.into_iter().find(|&item| {
                    let kit = policy.item(item);
                    kit.single_use && kit.goes_to.is_none() && !into && !put_away(sequence, at, item)
                });
                let Some(item) = lost else { continue };
                if let Some(&at) = told.get(&item) {
                    if findings[at].related.len() < MOST_RELATED {
                        findings[at].related.push((step.span, step.words.clone()));
                    }
                    continue;
                }
                told.insert(item, findings.len());
                let what = the_item(policy, item);
                findings.push(plain(
                    self,
                    step.span,
                    Said {
                        title: format!("{} {} put nowhere", capital(&what), is_are(policy, item)),
                        message: format!(
                            "Somebody picks up the contaminated item later with bare hands. No line says what becomes of {what}."
                        ),
                        way_out: "Add `into` and a container to the step, or `goes to` beneath the item.".to_owned(),
                    },
                ));
            }
        }
    }
}

fn put_away(sequence: &Sequence, from: usize, item: ItemId) -> bool {
    sequence.steps[from..]
        .iter()
        .any(|step| matches!(step.act, Act::Put { what: Target::Item { item: what, .. }, .. } if what == item))
}
