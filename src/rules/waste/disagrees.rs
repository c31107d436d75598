//! A step puts an item into another container than the item's own line says.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Dest};
use crate::rules::telling::{Said, plain, the_item};
use crate::rules::{Brief, Rule};

pub struct Disagrees;

impl Rule for Disagrees {
    fn name(&self) -> Name {
        Name { family: "waste", word: "disagrees" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("disagrees.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let drills = policy.contingencies.iter().flat_map(|contingency| &contingency.steps);
        for step in policy.sequences.iter().flat_map(|sequence| &sequence.steps).chain(drills) {
            let Act::TakeOff { item, into: Some(Dest::Container(into)), .. } = step.act else { continue };
            let Some(own) = policy.item(item).goes_to.filter(|&own| own != into) else { continue };
            let (own, into) = (&policy.container(own).name, &policy.container(into).name);
            let mut finding = plain(
                self,
                step.span,
                Said {
                    title: "Two lines send one item to two containers".to_owned(),
                    message: format!(
                        "The wearer hesitates with {} in hand. One line says the {into}, another the {own}.",
                        the_item(policy, item)
                    ),
                    way_out: format!("Decide between the {into} and the {own}, and write the same in both lines."),
                },
            );
            finding.related.push((policy.item(item).span, format!("The item's own lines say {own}.")));
            findings.push(finding);
        }
    }
}
