//! A tight-fitting respirator goes on and nobody checks its seal.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, ItemId, PlaceKind, Policy, Sequence, Step, Target};
use crate::rules::barriers::is_tight;
use crate::rules::telling::{Said, plain, the_item};
use crate::rules::{Brief, Rule};

pub struct Seal;

impl Rule for Seal {
    fn name(&self) -> Name {
        Name { family: "kit", word: "seal" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("seal.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for sequence in &policy.sequences {
            for (at, step) in sequence.steps.iter().enumerate() {
                let Act::PutOn { item, .. } = step.act else { continue };
                if !is_tight(policy.item(item)) || checked(policy, sequence, at, item) {
                    continue;
                }
                let what = the_item(policy, item);
                findings.push(plain(
                    self,
                    step.span,
                    Said {
                        title: "Nobody checks the seal of the respirator".to_owned(),
                        message: format!(
                            "The wearer breathes unfiltered air where {what} gapes. A seal check shows that each time it goes on."
                        ),
                        way_out: "After this step, add a hold at which somebody confirms the seal.".to_owned(),
                    },
                ));
            }
        }
    }
}

/// Whether a step after this one, before anybody goes in to the hazard, speaks of the seal or looks at the item: a seal that
/// is tried beside the hazard has let it through already.
fn checked(policy: &Policy, sequence: &Sequence, from: usize, item: ItemId) -> bool {
    let goes_in = |step: &Step| match step.act {
        Act::Go(place) => policy.place(place).kind == PlaceKind::Contaminated,
        _ => false,
    };
    sequence.steps[from..].iter().take_while(|step| !goes_in(step)).any(|step| {
        let looks = matches!(step.act, Act::Check(Target::Item { item: what, .. }) if what == item);
        looks || words(step).any(speaks_of_seal)
    })
}

fn words(step: &Step) -> impl Iterator<Item = &str> {
    let prompts = &step.prompts;
    let said = [&prompts.say, &prompts.look_for, &prompts.stop_if, &prompts.caution, &prompts.warning, &prompts.danger];
    let hold = match &step.act {
        Act::Hold(hold) => Some(hold),
        _ => None,
    };
    let confirmed = hold.into_iter().flat_map(|hold| {
        std::iter::once(hold.title.as_str()).chain(hold.confirms.iter().map(|(_, what)| what.as_str()))
    });
    let other = match &step.act {
        Act::Other(words) => Some(words.as_str()),
        _ => None,
    };
    said.into_iter().flatten().map(String::as_str).chain(confirmed).chain(other).chain(prompts.print_as.as_deref())
}

/// A gap counts where it is one at the face: one between glove and sleeve, or a suit that gapes, says nothing of the seal.
fn speaks_of_seal(words: &str) -> bool {
    let words = words.to_lowercase();
    let has = |signs: &[&str]| signs.iter().any(|sign| words.contains(sign));
    let at_the_face = has(&["face", "cheek", "nose", "chin", "mask", "respirator"]);
    let seal = words.split(|c: char| !c.is_alphanumeric()).any(|word| word == "seal");
    seal || has(&["fit check", "leak", "no air", "fits the face"]) || at_the_face && has(&["gap", "sealed", "seals"])
}
