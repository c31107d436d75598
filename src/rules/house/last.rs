//! An item that the level wants off last, or on last, is followed by another.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks, ItemId, Policy, RoleId, Step};
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, capital, comes, is_many, plain, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::Run;

pub struct Last;

impl Rule for Last {
    fn name(&self) -> Name {
        Name { family: "house", word: "last" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("last.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            let level = policy.level(run.level);
            for wish in &level.wishes {
                let asked = match wish.asks {
                    Asks::OffLast(item) => Asked { item, off: true },
                    Asks::OnLast(item) => Asked { item, off: false },
                    _ => continue,
                };
                for (early, later) in level.kits.iter().filter_map(|kit| asked.followed(policy, run, kit.role)) {
                    findings.push(Finding {
                        related: vec![
                            (wish.span, "The level asks for it here.".to_string()),
                            (later.span, format!("This comes after it: {}", later.words)),
                        ],
                        ..plain(self, early.span, asked.said(policy))
                    });
                }
            }
        }
    }
}

struct Asked {
    item: ItemId,
    off: bool,
}

impl Asked {
    fn said(&self, policy: &Policy) -> Said {
        let moves = match (self.off, is_many(policy, self.item)) {
            (true, _) => format!("{} off", comes(policy, self.item)),
            (false, true) => "go on".to_string(),
            (false, false) => "goes on".to_string(),
        };
        Said {
            title: "Not last, as the house has it".to_string(),
            message: format!(
                "People who were taught one order meet another on the card. At this level {} last.",
                format_args!("{} {moves}", the_item(policy, self.item))
            ),
            way_out: format!("{} last, or take the wish out of the level.", capital(&self.put(policy))),
        }
    }

    fn put(&self, policy: &Policy) -> String {
        format!("{} {}", if self.off { "take off" } else { "put on" }, the_item(policy, self.item))
    }

    /// The last step that moves the item, and a later one that moves another of the same person.
    fn followed<'a>(&self, policy: &'a Policy, run: &'a Run, who: RoleId) -> Option<(&'a Step, &'a Step)> {
        let sequences = if self.off { &run.taking_off } else { &run.putting_on };
        let moved = |act: &'a Act| -> Vec<ItemId> {
            match act {
                Act::TakeOff { wearer, item, together_with, .. } if self.off && *wearer == who => {
                    std::iter::once(item).chain(together_with).copied().collect()
                }
                Act::PutOn { wearer, item, .. } | Act::PullUp { wearer, item } if !self.off && *wearer == who => {
                    vec![*item]
                }
                _ => Vec::new(),
            }
        };
        let mut moves: Vec<(&Step, Vec<ItemId>)> =
            steps_of(policy, sequences).map(|(_, step)| (step, moved(&step.act))).collect();
        moves.retain(|(_, items)| items.iter().any(|&item| !policy.item(item).worn_beneath));
        let at = moves.iter().rposition(|(_, items)| items.contains(&self.item))?;
        moves.get(at + 1).map(|(later, _)| (moves[at].0, *later))
    }
}
