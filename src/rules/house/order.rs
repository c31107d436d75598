//! Two items come off, or go on, in another order than the level asks for.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks, ItemId, Policy, RoleId, Wish};
use crate::rules::telling::{Said, plain, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, StepRef};

pub struct Order;

impl Rule for Order {
    fn name(&self) -> Name {
        Name { family: "house", word: "order" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("order.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            let level = policy.level(run.level);
            for (wish, asked) in level.wishes.iter().filter_map(|wish| Some((wish, Asked::by(wish)?))) {
                for (early, late) in level.kits.iter().filter_map(|kit| asked.turned_round(policy, run, kit.role)) {
                    let mut finding = plain(self, brief.step(early).span, asked.said(policy));
                    finding.related = vec![
                        (wish.span, "The level asks for it here.".to_string()),
                        (brief.step(late).span, "This step comes too late for it.".to_string()),
                    ];
                    findings.push(finding);
                }
            }
        }
    }
}

/// What a wish asks for: the first item off, or on, before the second.
struct Asked {
    first: ItemId,
    second: ItemId,
    off: bool,
}

impl Asked {
    fn by(wish: &Wish) -> Option<Asked> {
        match wish.asks {
            Asks::OffBefore(first, second) => Some(Asked { first, second, off: true }),
            Asks::OnBefore(first, second) => Some(Asked { first, second, off: false }),
            _ => None,
        }
    }

    fn said(&self, policy: &Policy) -> Said {
        let (first, second) = (the_item(policy, self.first), the_item(policy, self.second));
        let moves = if self.off { "off" } else { "on" };
        Said {
            title: "Not in the house's own order".to_string(),
            message: format!(
                "People who were taught one order meet another on the card. This level asks for {first} {moves} before \
                 {second}."
            ),
            way_out: format!("Put {first} {moves} earlier, or take the wish out of the level."),
        }
    }

    /// The step that comes too early and the one that comes too late, where somebody does it the other way round.
    fn turned_round(&self, policy: &Policy, run: &Run, who: RoleId) -> Option<(StepRef, StepRef)> {
        let sequences = if self.off { &run.taking_off } else { &run.putting_on };
        let steps: Vec<(StepRef, &Act)> = sequences
            .iter()
            .flat_map(|&sequence| {
                let steps = policy.sequence(sequence).steps.iter().enumerate();
                steps.map(move |(step, data)| (StepRef { sequence, step }, &data.act))
            })
            .collect();
        let place = |item: ItemId| steps.iter().position(|(_, act)| self.is_done(act, who, item));
        let (first, second) = (place(self.first)?, place(self.second)?);
        (second < first).then(|| (steps[second].0, steps[first].0))
    }

    fn is_done(&self, act: &Act, who: RoleId, wanted: ItemId) -> bool {
        match act {
            Act::TakeOff { wearer, item, together_with, .. } if self.off => {
                *wearer == who && (*item == wanted || together_with.contains(&wanted))
            }
            Act::PutOn { wearer, item, .. } if !self.off => *wearer == who && *item == wanted,
            _ => false,
        }
    }
}
