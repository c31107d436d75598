//! Hands are cleaned while gloves are on, though the level forbids it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks};
use crate::rules::kits::{steps_of, wears_gloves};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Gloves;

impl Rule for Gloves {
    fn name(&self) -> Name {
        Name { family: "house", word: "gloves" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("gloves.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            let wishes = policy.level(run.level).wishes.iter();
            let Some(wish) = wishes.clone().find(|wish| wish.asks == Asks::BareHandsOnly) else { continue };
            for (at, data) in steps_of(policy, &run.putting_on).chain(steps_of(policy, &run.taking_off)) {
                if !matches!(data.act, Act::CleanHands(_)) || !wears_gloves(policy, run, data.actor, at) {
                    continue;
                }
                let said = Said {
                    title: "Hands are cleaned with gloves on".to_string(),
                    message: "Rub can weaken a glove, and the hand beneath stays as it was. This level forbids cleaning \
                              gloved hands."
                        .to_string(),
                    way_out: "Take the gloves off, clean the hands, and put fresh gloves on where they are needed."
                        .to_string(),
                };
                let mut finding = plain(self, data.span, said);
                finding.related = vec![(wish.span, "The level forbids it here.".to_string())];
                findings.push(finding);
            }
        }
    }
}
