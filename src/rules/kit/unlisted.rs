//! Somebody puts on what the level does not list for them.

use std::collections::BTreeSet;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Act;
use crate::rules::telling::{Said, capital, is_are, plain, the_item, the_role};
use crate::rules::{Brief, Rule};

pub struct Unlisted;

impl Rule for Unlisted {
    fn name(&self) -> Name {
        Name { family: "kit", word: "unlisted" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unlisted.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told = BTreeSet::new();
        for sequence in &policy.sequences {
            let level = policy.level(sequence.level);
            for step in &sequence.steps {
                let (Act::PutOn { wearer, item, .. } | Act::Change { wearer, item }) = step.act else { continue };
                let listed = level.kit(wearer).is_some_and(|kit| kit.items.iter().any(|worn| worn.item == item));
                if listed || !told.insert((sequence.level, wearer, item)) {
                    continue;
                }
                let (what, who) = (the_item(policy, item), the_role(policy, wearer));
                let mut finding = plain(
                    self,
                    step.span,
                    Said {
                        title: format!("{} {} on no kit list", capital(&what), is_are(policy, item)),
                        message: format!(
                            "Somebody goes in without {what}, or leaves half dressed to fetch more. The level {} does not list {what} for {who}.",
                            level.name
                        ),
                        way_out: format!("Add {what} to what {who} wears at this level."),
                    },
                );
                finding.related.push((level.span, "The level is here.".to_owned()));
                findings.push(finding);
            }
        }
    }
}
