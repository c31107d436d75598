//! Something that somebody wears is sprayed, though the level forbids it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks, Target};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Spraying;

impl Rule for Spraying {
    fn name(&self) -> Name {
        Name { family: "house", word: "spraying" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("spraying.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for sequence in &policy.sequences {
            let wishes = policy.level(sequence.level).wishes.iter();
            let Some(wish) = wishes.clone().find(|wish| wish.asks == Asks::NoSpraying) else { continue };
            for step in &sequence.steps {
                if !matches!(step.act, Act::Spray { target: Target::Item { .. } | Target::Person(_), .. }) {
                    continue;
                }
                let said = Said {
                    title: "Somebody is sprayed".to_string(),
                    message: "A spray drives what lies on the kit into the air and onto others. This level forbids spraying \
                              people."
                        .to_string(),
                    way_out: "Wipe the item instead, with a cleaner for surfaces.".to_string(),
                };
                let mut finding = plain(self, step.span, said);
                finding.related = vec![(wish.span, "The level forbids it here.".to_string())];
                findings.push(finding);
            }
        }
    }
}
