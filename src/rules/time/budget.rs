//! Ten or more steps to read aloud before the next pause on an observer card.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::print::{AidKind, Subject};
use crate::policy::{Act, Part, SequenceId, Step};
use crate::rules::telling::{Said, known_words, plain};
use crate::rules::{Brief, Rule};
use crate::walk::tally::{Budget as Work, Known, has_longer_row, longest_row, needed};

pub struct Budget;

impl Rule for Budget {
    fn name(&self) -> Name {
        Name { family: "time", word: "budget" }
    }
    fn signal(&self) -> Signal {
        Signal::Caution
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("budget.md")
    }

    /// A pause is a hold, or the heading of a part: a natural break in the reading.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: Vec<SequenceId> = Vec::new();
        for print in policy.aids_asked().iter().filter(|print| print.kind == AidKind::ObserverCard) {
            let Subject::Sequence(id) = print.subject else { continue };
            if told.contains(&id) {
                continue;
            }
            told.push(id);
            let sequence = policy.sequence(id);
            for stretch in stretches(&sequence.steps, &sequence.parts) {
                let [first, .., last] = stretch[..] else { continue };
                let Some((count, case)) = too_many(&stretch) else { continue };
                let said = Said {
                    title: "Too many steps before the next pause".to_string(),
                    message: format!(
                        "After nine steps in a row people begin to skip. \
                         The observer reads {count} here before a hold or a new part."
                    ),
                    way_out: "Begin a new part, or add a hold, where the work has a natural break.".to_string(),
                };
                findings.push(Finding {
                    case: known_words(policy, &case),
                    related: vec![(last.span, format!("The last of them: {}", last.words))],
                    ..plain(self, first.span, said)
                });
            }
        }
    }
}

/// Fewer than ten.
const MOST: u64 = 9;

/// How many of these steps follow one another at most, where that is too many, and the answers without which it is not. A
/// hold that happens only in some cases is a pause only there.
fn too_many(stretch: &[&Step]) -> Option<(u64, Known)> {
    let mut work = Work(100_000);
    let is_pause = |step: &Step| matches!(step.act, Act::Hold(_));
    let (most, case) = longest_row(stretch, &mut work, is_pause).filter(|(most, _)| *most > MOST)?;
    let case = needed(&case, &mut |given| has_longer_row(stretch, given, MOST, &mut work, is_pause));
    Some((most, case))
}

/// The steps from one pause to the next: holds that always happen, and headings.
fn stretches<'a>(steps: &'a [Step], parts: &[Part]) -> Vec<Vec<&'a Step>> {
    let mut stretches: Vec<Vec<&Step>> = vec![Vec::new()];
    for (at, step) in steps.iter().enumerate() {
        let is_pause = matches!(step.act, Act::Hold(_)) && step.guard.is_always();
        if is_pause || parts.iter().any(|part| part.first == at) {
            stretches.push(Vec::new());
        }
        if let Some(stretch) = stretches.last_mut().filter(|_| !is_pause) {
            stretch.push(step);
        }
    }
    stretches
}
