//! A garment comes off, and nothing says that it is rolled inside out.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, ItemId, Policy, Step};
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, is_many, it_them, plain, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, StepRef, Surface, What};

pub struct Rolling;

impl Rule for Rolling {
    fn name(&self) -> Name {
        Name { family: "touch", word: "rolling" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("rolling.md")
    }

    /// Where the outside does reach skin or clothes at this step, the rules of touch tell of that instead.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told = Vec::new();
        for run in &brief.walk.runs {
            for (at, step) in steps_of(policy, &run.taking_off) {
                let Some(item) = loose(policy, step).filter(|&item| !is_told_otherwise(run, at, item)) else { continue };
                if told.contains(&at) {
                    continue;
                }
                told.push(at);
                let it = if is_many(policy, item) { "they are" } else { "it is" };
                let said = Said {
                    title: "Nothing says to roll it inside out".to_string(),
                    message: format!(
                        "A loose outside flaps against arms and clothes as {} off. No line says how {it} folded away.",
                        comes_off(policy, item)
                    ),
                    way_out: format!(
                        "Write how it is done: `…, rolling {} inside out`.",
                        it_them(policy, item)
                    ),
                };
                findings.push(plain(self, step.span, said));
            }
        }
    }
}

/// `the gown comes`
fn comes_off(policy: &Policy, item: ItemId) -> String {
    format!("{} {}", the_item(policy, item), crate::rules::telling::comes(policy, item))
}

/// What covers the trunk and comes off in a way that no line describes.
fn loose(policy: &Policy, step: &Step) -> Option<ItemId> {
    let Act::TakeOff { item, inside_out: false, together_with, .. } = &step.act else { return None };
    let is_garment = |item: &&ItemId| {
        let item = policy.item(**item);
        item.covers.has(Area::Trunk) && !item.worn_beneath
    };
    let prompts = &step.prompts;
    let said = [&prompts.say, &prompts.look_for, &prompts.stop_if, &prompts.caution, &prompts.warning, &prompts.danger];
    let mut words = said.into_iter().flatten().chain(&prompts.print_as);
    let item = std::iter::once(item).chain(together_with).find(is_garment)?;
    (!words.any(|words| describes_it(words))).then_some(*item)
}

fn describes_it(words: &str) -> bool {
    let words = words.to_lowercase();
    ["inside out", "inside-out", "inward", "roll", "fold", "peel", "away from", "into a ball"]
        .iter()
        .any(|sign| words.contains(sign))
}

/// The outside was met by a bare hand in this step, or brought the hazard too near.
fn is_told_otherwise(run: &Run, at: StepRef, item: ItemId) -> bool {
    let outside = |surface: Surface| match surface {
        Surface::Front { piece, .. } | Surface::Back { piece, .. } => piece.item == item,
        _ => false,
    };
    run.events.iter().filter(|event| event.case.strike.is_none()).any(|event| match event.what {
        What::BareHand { surface } => event.step == Some(at) && outside(surface),
        What::Near { .. } => event.chain.iter().any(|link| link.step == Some(at) && outside(link.from)),
        _ => false,
    })
}
