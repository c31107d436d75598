//! The container stands in another place than the person who needs it.

use std::collections::BTreeMap;

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Dest, PlaceId, Policy, RoleId, Sequence, SequenceId, Step};
use crate::rules::headings::is_misnamed;
use crate::rules::telling::{Said, capital, plain, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::What;

/// Further steps that a message lists.
const MOST_RELATED: usize = 12;

pub struct Elsewhere;

impl Rule for Elsewhere {
    fn name(&self) -> Name {
        Name { family: "waste", word: "elsewhere" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("elsewhere.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: BTreeMap<(String, PlaceId), usize> = BTreeMap::new();
        for (at, sequence) in policy.sequences.iter().enumerate() {
            let id = SequenceId::new(at);
            let misnamed = is_misnamed(policy, id);
            for (at, step) in sequence.steps.iter().enumerate() {
                let Some((stands, name)) = stands(policy, step) else { continue };
                let Some(is) = place_of(sequence, at, step.actor, misnamed) else { continue };
                if is == stands || is_unsent(brief, id, step.actor) {
                    continue;
                }
                if let Some(&at) = told.get(&(name.to_owned(), is)) {
                    if findings[at].related.len() < MOST_RELATED {
                        findings[at].related.push((step.span, step.words.clone()));
                    }
                    continue;
                }
                told.insert((name.to_owned(), is), findings.len());
                let (here, there) = (&policy.place(is).name, &policy.place(stands).name);
                findings.push(plain(
                    self,
                    step.span,
                    Said {
                        title: "The container stands in another place".to_owned(),
                        message: format!(
                            "A contaminated item is carried about or dropped. {} is in the {here}, and the {name} stands in the {there}.",
                            capital(&the_role(policy, step.actor))
                        ),
                        way_out: format!("Send the item to a container that stands in the {here}, or move this one."),
                    },
                ));
            }
        }
    }
}

/// Who acts in a sequence to which no step has sent them is told of by `place absent`.
fn is_unsent(brief: &Brief, sequence: SequenceId, who: RoleId) -> bool {
    brief.events().any(|(_, event)| {
        let here = event.who == who && event.step.is_some_and(|at| at.sequence == sequence);
        here && matches!(event.what, What::NotHere { .. })
    })
}

/// Where the container of a removal stands, and its name.
fn stands<'a>(policy: &'a Policy, step: &Step) -> Option<(PlaceId, &'a str)> {
    let container = match &step.act {
        Act::TakeOff { into: Some(Dest::Container(id)), .. } | Act::Put { into: Dest::Container(id), .. } => *id,
        Act::TakeOff { item, into: None, .. } | Act::Change { item, .. } => policy.item(*item).goes_to?,
        _ => return None,
    };
    let container = policy.container(container);
    Some((container.place?, &container.name))
}

/// Where somebody is at a step, as far as the sequence says for certain: where they last went, or else the sequence's own
/// place; none after a move that happens in some cases only, nor where the heading names a wrong place.
fn place_of(sequence: &Sequence, at: usize, who: RoleId, misnamed: bool) -> Option<PlaceId> {
    let went = sequence.steps[..at].iter().rev().find_map(|step| match step.act {
        Act::Go(place) if step.actor == who => Some(step.guard.is_always().then_some(place)),
        _ => None,
    });
    went.unwrap_or(sequence.place.filter(|_| !misnamed))
}
