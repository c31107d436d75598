//! Cuffs are taped though the level forbids it, or are not though it asks for it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Asks, Policy, SequenceId, Step, Wish};
use crate::rules::barriers::enters;
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::Run;

pub struct Taping;

impl Rule for Taping {
    fn name(&self) -> Name {
        Name { family: "house", word: "taping" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("taping.md")
    }

    /// Told by words: the language has no act of taping, so that a `does` step, a prompt or an item names the tape.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            for wish in &policy.level(run.level).wishes {
                match wish.asks {
                    Asks::NoTaping => self.forbidden(policy, run, wish, findings),
                    Asks::Taping => self.missing(policy, run, wish, findings),
                    _ => {}
                }
            }
        }
    }
}

impl Taping {
    fn forbidden(&self, policy: &Policy, run: &Run, wish: &Wish, findings: &mut Vec<Finding>) {
        let sequences: Vec<SequenceId> = policy.sequences_of(run.level).map(|(id, _)| id).collect();
        for (_, step) in steps_of(policy, &sequences).filter(|(_, step)| puts_tape(policy, step)) {
            let said = Said {
                title: "Something is taped".to_string(),
                message: "Tape can tear the glove or the sleeve as it comes off, and bare the skin. This level forbids taping."
                    .to_string(),
                way_out: "Take the tape out of the step, and let the cuff of the glove hold the sleeve.".to_string(),
            };
            findings.push(Finding {
                related: vec![(wish.span, "The level forbids it here.".to_string())],
                ..plain(self, step.span, said)
            });
        }
    }

    fn missing(&self, policy: &Policy, run: &Run, wish: &Wish, findings: &mut Vec<Finding>) {
        let level = policy.level(run.level);
        for who in level.kits.iter().map(|kit| kit.role).filter(|&role| enters(policy, run.level, role)) {
            let dresses = |step: &&Step| matches!(step.act, Act::PutOn { wearer, .. } if wearer == who);
            let own = |&sequence: &SequenceId| policy.sequence(sequence).steps.iter().any(|step| dresses(&step));
            let sequences: Vec<SequenceId> = run.putting_on.iter().copied().filter(own).collect();
            let steps: Vec<&Step> = steps_of(policy, &sequences).map(|(_, step)| step).collect();
            let Some(first) = steps.iter().copied().find(dresses) else { continue };
            if steps.iter().any(|step| puts_tape(policy, step)) {
                continue;
            }
            let said = Said {
                title: "The cuffs are not taped".to_string(),
                message: "People who were taught to tape their cuffs find no step for it. This level asks for taping."
                    .to_string(),
                way_out: "Add the step, such as `helper does \"Tape both cuffs, with a pull tab\"`.".to_string(),
            };
            findings.push(Finding {
                related: vec![(wish.span, "The level asks for it here.".to_string())],
                ..plain(self, first.span, said)
            });
        }
    }
}

/// Tape is named in what is done or put on, or in a line beneath that says what to do; not in a warning of it.
fn puts_tape(policy: &Policy, step: &Step) -> bool {
    let of_item = match &step.act {
        Act::PutOn { item, .. } => Some(policy.item(*item).printed.as_str()),
        Act::Other(words) => Some(words.as_str()),
        _ => None,
    };
    let takes_away = matches!(step.act, Act::TakeOff { .. } | Act::Cut { .. } | Act::Check(_));
    let told = step.prompts.say.iter().chain(&step.prompts.print_as).map(String::as_str).filter(|_| !takes_away);
    of_item.into_iter().chain(told).any(speaks_of_tape)
}

fn speaks_of_tape(words: &str) -> bool {
    let words = words.to_lowercase();
    let forbids = ["no tape", "not tape", "never tape", "remove", "peel", "cut ", "without"];
    let mut each = words.split(|c: char| !c.is_alphanumeric());
    each.any(|word| ["tape", "tapes", "taped", "taping"].contains(&word)) && !forbids.iter().any(|no| words.contains(no))
}
