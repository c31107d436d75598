//! An item goes on that the level wants looked at first, and nobody has.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks, ItemId, Policy, RoleId, Step, Target, Wish};
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, capital, is_many, plain, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, StepRef};

pub struct Checked;

impl Rule for Checked {
    fn name(&self) -> Name {
        Name { family: "house", word: "checked" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("checked.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            let level = policy.level(run.level);
            for (wish, item) in level.wishes.iter().filter_map(|wish| Some((wish, asked_of(wish)?))) {
                for at in level.kits.iter().filter_map(|kit| unchecked(policy, run, kit.role, item)) {
                    let step = brief.step(at);
                    findings.push(Finding {
                        related: vec![(wish.span, "The level asks for it here.".to_string())],
                        ..plain(self, step.span, said(policy, item))
                    });
                }
            }
        }
    }
}

fn asked_of(wish: &Wish) -> Option<ItemId> {
    match wish.asks {
        Asks::CheckedFirst(item) => Some(item),
        _ => None,
    }
}

fn said(policy: &Policy, item: ItemId) -> Said {
    let what = the_item(policy, item);
    let goes = if is_many(policy, item) { "go" } else { "goes" };
    Said {
        title: "Not looked at first, as the house has it".to_string(),
        message: format!(
            "A tear that nobody has seen shows beside the hazard, on the skin. {} {goes} on here, and nobody has checked \
             before.",
            capital(&what)
        ),
        way_out: format!("Before this step, let somebody check {what}, or take the wish out of the level."),
    }
}

/// The first step of the putting-on that puts the item on somebody before a step that looks at it. A check of the person
/// does not show an item that is not on yet.
fn unchecked(policy: &Policy, run: &Run, who: RoleId, item: ItemId) -> Option<StepRef> {
    let looks = |step: &Step| step.guard.is_always() && step.act == Act::Check(Target::Item { item, wearer: who });
    let puts_on = |step: &Step| matches!(step.act, Act::PutOn { wearer, item: on, .. } if (wearer, on) == (who, item));
    let mut steps = steps_of(policy, &run.putting_on).take_while(|(_, step)| !looks(step));
    steps.find(|(_, step)| puts_on(step)).map(|(at, _)| at)
}
