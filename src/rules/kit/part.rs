//! Somebody is to take hold of a part that only another item has.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Item};
use crate::rules::telling::{Said, capital, fitting, listed, plain, the_item};
use crate::rules::{Brief, Rule};

pub struct Part;

impl Rule for Part {
    fn name(&self) -> Name {
        Name { family: "kit", word: "part" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("part.md")
    }

    /// Only where the item lists its parts, and another item lists this one: a part that nobody lists may well be there.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let of_sequences = policy.sequences.iter().flat_map(|sequence| &sequence.steps);
        let of_drills = policy.contingencies.iter().flat_map(|drill| &drill.steps);
        for step in of_sequences.chain(of_drills) {
            let Act::TakeOff { item, grip: Some(part), .. } = &step.act else { continue };
            let its_own = policy.item(*item);
            if its_own.grips.is_empty() || has(its_own, part) {
                continue;
            }
            let Some(other) = policy.items.iter().find(|other| has(other, part)) else { continue };
            let parts: Vec<String> = its_own.grips.iter().map(|grip| format!("“{}”", grip.part)).collect();
            let what = the_item(policy, *item);
            let mut finding = plain(
                self,
                step.span,
                Said {
                    title: fitting(
                        format!("“{part}” is no listed part of {what}"),
                        "Taken hold of by a part that another item has",
                    ),
                    message: format!(
                        "A hand that looks for the wrong part ends up on the front. For {what} the policy lists {}.",
                        listed(&parts)
                    ),
                    way_out: format!("Name a listed part in this step, or add “{part}” to the item's `grip` line."),
                },
            );
            finding.related.push((its_own.span, format!("{} is declared here.", capital(&what))));
            finding.related.push((other.span, format!("“{part}” belongs to this item.")));
            findings.push(finding);
        }
    }
}

fn has(item: &Item, part: &str) -> bool {
    item.grips.iter().any(|grip| grip.part == part)
}
