//! A mask, respirator, goggles or shield is taken by its front.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Item};
use crate::rules::telling::{Said, capital, fitting, is_are, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Front;

impl Rule for Front {
    fn name(&self) -> Name {
        Name { family: "touch", word: "front" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("front.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events() {
            let What::FrontGrip { item } = event.what else { continue };
            let grip = event.step.and_then(|at| match &brief.step(at).act {
                Act::TakeOff { grip, .. } => grip.clone(),
                _ => None,
            });
            let named = grip.filter(|part| part != "front");
            let lies =
                named.map_or_else(String::new, |part| format!(" “{}” counts as part of the front.", capital(&part)));
            let thing = the_item(brief.policy, item);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: fitting(
                        format!("{} {} taken by the front", capital(&thing), is_are(brief.policy, item)),
                        "Taken off the face by its front",
                    ),
                    message: format!("The hand meets what lies on the front, right before eyes, nose and mouth.{lies}"),
                    way_out: clean_part(brief.policy.item(item)),
                },
            ));
        }
    }
}

/// The parts that published bodies name, by what the item is (GUIDANCE.md U5, U6).
fn clean_part(item: &Item) -> String {
    if item.covers.has(Area::Eyes) {
        "Take it by the headband, the sides or the back.".to_string()
    } else {
        "Take it by the straps or ties, from behind: the lower first, then the upper.".to_string()
    }
}
