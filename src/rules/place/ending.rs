//! The taking-off is over, and somebody is in a place that is not clean.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, PlaceId, PlaceKind, Policy, RoleId, Step};
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, plain, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::script::wearer_of;
use crate::walk::{Run, StepRef};

pub struct Ending;

impl Rule for Ending {
    fn name(&self) -> Name {
        Name { family: "place", word: "ending" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("ending.md")
    }

    /// Told once for each person and level. Whoever is sent nowhere at all is where the sequences happen, and where no way
    /// leads out, `place missing` tells of that.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in &brief.walk.runs {
            for kit in &policy.level(run.level).kits {
                let Some((at, place)) = ends(policy, run, kit.role) else { continue };
                let Some(clean) = clean_place(policy, place) else { continue };
                let said = Said {
                    title: "The taking-off does not end in a clean place".to_string(),
                    message: format!(
                        "Bare skin and own clothes stay among contaminated kit. When all is done, {} is still in the {}.",
                        the_role(policy, kit.role),
                        policy.place(place).name
                    ),
                    way_out: format!("Write the step that leaves, after the last cleaning of hands: goes to {clean}."),
                };
                let step = brief.step(at);
                findings.push(plain(self, step.span, said));
            }
        }
    }
}

/// The last step of somebody's taking-off and the place where the sequences leave them, where that is not a clean one. What
/// is written after the taking-off, such as a shower, comes after it.
fn ends(policy: &Policy, run: &Run, who: RoleId) -> Option<(StepRef, PlaceId)> {
    let is_theirs = |step: &Step| step.actor == who || wearer_of(&step.act) == Some(who);
    let takes_off = |step: &Step| matches!(step.act, Act::TakeOff { wearer, .. } if wearer == who);
    steps_of(policy, &run.taking_off).find(|(_, step)| takes_off(step))?;
    let others = policy.sequences_of(run.level).map(|(id, _)| id);
    let others = others.filter(|id| !run.putting_on.contains(id) && !run.taking_off.contains(id));
    let (after, before): (Vec<_>, Vec<_>) = others.partition(|id| Some(id) > run.taking_off.last());
    let order = [&run.putting_on, &before, &run.taking_off, &after].map(|sequences| steps_of(policy, sequences));
    let went = order.into_iter().flatten().filter_map(|(_, step)| match step.act {
        Act::Go(place) if step.actor == who => Some(place),
        _ => None,
    });
    let place = went.last().filter(|&place| policy.place(place).kind != PlaceKind::Clean)?;
    let (at, _) = steps_of(policy, &run.taking_off).filter(|(_, step)| is_theirs(step)).last()?;
    Some((at, place))
}

/// A clean place to which the ways lead from there: the next one, if any is.
fn clean_place(policy: &Policy, from: PlaceId) -> Option<&str> {
    let is_clean = |&place: &PlaceId| policy.place(place).kind == PlaceKind::Clean;
    let next = policy.ways.iter().flat_map(|way| way.places.windows(2)).filter(|pair| pair[0] == from).map(|pair| pair[1]);
    let any = (0..policy.places.len()).map(PlaceId::new);
    let place = next.chain(any).find(is_clean).filter(|_| policy.ways.is_empty() || policy.leads_to_clean(from))?;
    Some(&policy.place(place).name)
}
