//! Something comes off and hands are not cleaned next, though the level asks for it after every item.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks, Policy, SequenceId, Step};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Hands;

impl Rule for Hands {
    fn name(&self) -> Name {
        Name { family: "house", word: "hands" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("hands.md")
    }

    /// Of each person, the next act that uses the hands is to be a hand cleaning, in every case in which the item comes off.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            let wishes = policy.level(run.level).wishes.iter();
            for wish in wishes.filter(|wish| wish.asks == Asks::HandsAfterEveryItem) {
                for step in run.taking_off.iter().flat_map(|&sequence| uncleaned(policy, sequence)) {
                    let said = Said {
                        title: "No hand hygiene after this item".to_string(),
                        message: "What the item left on the hands goes on to the next one. This level asks for clean hands \
                                  after every item."
                            .to_string(),
                        way_out: "Add the step that cleans hands straight after this one.".to_string(),
                    };
                    let mut finding = plain(self, step.span, said);
                    finding.related = vec![(wish.span, "The level asks for it here.".to_string())];
                    findings.push(finding);
                }
            }
        }
    }
}

fn uncleaned(policy: &Policy, sequence: SequenceId) -> Vec<&Step> {
    let steps = &policy.sequence(sequence).steps;
    let next_is_clean = |at: usize| {
        let removal = &steps[at];
        let mut later = steps[at + 1..].iter().filter(|step| step.actor == removal.actor);
        let next = later.find(|step| !matches!(step.act, Act::Go(_) | Act::Check(_) | Act::Hold(_) | Act::Other(_)));
        next.is_some_and(|step| {
            matches!(step.act, Act::CleanHands(_)) && (step.guard.is_always() || step.guard == removal.guard)
        })
    };
    let removals = steps.iter().enumerate().filter(|(_, step)| matches!(step.act, Act::TakeOff { .. }));
    removals.filter(|(at, _)| !next_is_clean(*at)).map(|(_, step)| step).collect()
}
