//! At a high-consequence level, kit goes on and comes off in one place, or a way leads back against the stream.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, LevelId, PlaceId, PlaceKind, Policy, RoleId, SequenceId, Step};
use crate::rules::kits::{is_high_consequence, steps_of};
use crate::rules::telling::{Said, plain, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, StepRef, What};

pub struct Shared;

impl Rule for Shared {
    fn name(&self) -> Name {
        Name { family: "place", word: "shared" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("shared.md")
    }

    /// Where kit goes on in a contaminated place, `place donning` and `place sequence` tell of that instead; where nobody has
    /// sent them to the place of the heading, `place absent` does.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: Vec<(PlaceId, PlaceId)> = Vec::new();
        for run in brief.walk.runs.iter().filter(|run| is_high_consequence(policy, run)) {
            for kit in &policy.level(run.level).kits {
                let Some((on, off, place)) = same_place(policy, run, kit.role) else { continue };
                if told.contains(&(place, place)) || policy.place(place).kind == PlaceKind::Contaminated {
                    continue;
                }
                told.push((place, place));
                let said = Said {
                    title: "Kit goes on where kit comes off".to_string(),
                    message: format!(
                        "What comes off leaves the hazard behind, and the next one dresses in it. Here {} does both in the {}.",
                        the_role(policy, kit.role),
                        policy.place(place).name
                    ),
                    way_out: "Let kit go on in a place of its own, on the way in.".to_string(),
                };
                findings.push(Finding {
                    related: vec![(brief.step(off).span, format!("Here it comes off: {}", brief.step(off).words))],
                    ..plain(self, brief.step(on).span, said)
                });
            }
            self.against_the_stream(brief, run.level, &mut told, findings);
        }
    }
}

impl Shared {
    /// Dirty to clean on the way out, never back: from the place for taking off in to the hazard again, or from the hazard
    /// out by way of the place for putting on.
    fn against_the_stream(
        &self,
        brief: &Brief,
        level: LevelId,
        told: &mut Vec<(PlaceId, PlaceId)>,
        findings: &mut Vec<Finding>,
    ) {
        let policy = brief.policy;
        let kind = |place: PlaceId| policy.place(place).kind;
        for way in &policy.ways {
            for pair in way.places.windows(2) {
                let (from, to) = (pair[0], pair[1]);
                let back = match (kind(from), kind(to)) {
                    (PlaceKind::ForTakingOff, PlaceKind::Contaminated) => "Whoever is half out of the kit meets the hazard",
                    (PlaceKind::Contaminated, PlaceKind::ForPuttingOn) => "The hazard comes to where clean kit is put on",
                    _ => continue,
                };
                if told.contains(&(from, to)) || !(uses(policy, level, from) && uses(policy, level, to)) {
                    continue;
                }
                told.push((from, to));
                let said = Said {
                    title: "A way leads back against the stream".to_string(),
                    message: format!(
                        "{back}. This way leads from the {} to the {}.",
                        policy.place(from).name,
                        policy.place(to).name
                    ),
                    way_out: "Let the ways lead in one direction: clean, putting on, hazard, taking off, clean."
                        .to_string(),
                };
                findings.push(plain(self, way.span, said));
            }
        }
    }
}

/// The steps at which somebody puts on and takes off in one place, and that place.
fn same_place(policy: &Policy, run: &Run, who: RoleId) -> Option<(StepRef, StepRef, PlaceId)> {
    let puts_on = |act: &Act| matches!(act, Act::PutOn { wearer, .. } if *wearer == who);
    let takes_off = |act: &Act| matches!(act, Act::TakeOff { wearer, .. } if *wearer == who);
    let on = done_at(policy, &run.putting_on, who, puts_on);
    let mut off = done_at(policy, &run.taking_off, who, takes_off);
    off.retain(|(at, _)| !is_absent(run, who, at.sequence));
    on.iter().find_map(|(on, place)| {
        let off = off.iter().find(|(_, other)| other == place)?;
        Some((*on, off.0, *place))
    })
}

/// Acts in a sequence in whose place they are not.
fn is_absent(run: &Run, who: RoleId, sequence: SequenceId) -> bool {
    let here = |event: &Event| event.who == who && event.step.is_some_and(|at| at.sequence == sequence);
    run.events.iter().any(|event| matches!(event.what, What::NotHere { .. }) && here(event))
}

/// The steps of a kind with the place where somebody is: that of the sequence, until they go elsewhere.
fn done_at(
    policy: &Policy,
    sequences: &[SequenceId],
    who: RoleId,
    is_it: impl Fn(&Act) -> bool,
) -> Vec<(StepRef, PlaceId)> {
    let mut done = Vec::new();
    for &sequence in sequences {
        let mut place = policy.sequence(sequence).place;
        for (at, step) in steps_of(policy, &[sequence]) {
            if let Act::Go(to) = step.act
                && step.actor == who
            {
                place = Some(to);
            }
            done.extend(place.filter(|_| is_it(&step.act)).map(|place| (at, place)));
        }
    }
    done
}

/// Whether the level's sequences happen there or lead there.
fn uses(policy: &Policy, level: LevelId, place: PlaceId) -> bool {
    let goes = |step: &Step| step.act == Act::Go(place);
    policy.sequences_of(level).any(|(_, sequence)| sequence.place == Some(place) || sequence.steps.iter().any(goes))
}
