//! Hands are cleaned while gloves are on, though the level forbids it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Asks, Policy, RoleId};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, StepRef};

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
            for &sequence in run.putting_on.iter().chain(&run.taking_off) {
                for (step, data) in policy.sequence(sequence).steps.iter().enumerate() {
                    let at = StepRef { sequence, step };
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
                    finding.sentence = data.words.clone();
                    finding.related = vec![(wish.span, "The level forbids it here.".to_string())];
                    findings.push(finding);
                }
            }
        }
    }
}

/// Whether the actor has gloves on at a step, on an ordinary day.
fn wears_gloves(policy: &Policy, run: &Run, who: RoleId, at: StepRef) -> bool {
    let order: Vec<_> = run.putting_on.iter().chain(&run.taking_off).copied().collect();
    let place = |at: StepRef| (order.iter().position(|&sequence| sequence == at.sequence), at.step);
    run.spells.iter().any(|spell| {
        spell.wearer == who
            && policy.item(spell.item).covers.has(Area::Hands)
            && spell.on_at.is_none_or(|on| place(on) < place(at))
            && spell.off_at.is_none_or(|off| place(at) < place(off))
    })
}
