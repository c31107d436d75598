//! One level: every case at once, and then each thing noticed again in its own least case, played alone.
//!
//! What is told to people comes from the play of the single case, never from the merged one; what does not come out the
//! same is a fault of this program, and is told as one.

use std::collections::HashMap;
use std::rc::Rc;

use super::cast::Cast;
use super::event::{Case, Event, Link, StepRef, What};
use super::play::{Key, Play, Seen, Sighting, answer_in};
use super::profile::Profile;
use super::script::Script;
use super::state::{Decision, Trail};
use super::{Nearest, Run};
use crate::policy::{FactId, LevelId, Policy};

pub fn run(policy: &Policy, level: LevelId) -> Run {
    let script = Script::new(policy, level);
    let cast = Cast::new(policy, level, &script);
    let all = Play::new(policy, &script, &cast, None).run();
    let facts = script.facts_with_drills();
    let mut solo = Solo { policy, script: &script, cast: &cast, facts: &facts, plays: HashMap::new() };
    let mut events: Vec<Event> =
        all.events.iter().map(|(key, sighting)| solo.event(&all.trail, key, *sighting, None)).collect();
    // What happens on the main way too is no fault of the drill.
    let of_drills = all.in_drills.iter().filter(|((_, key), _)| !all.events.contains_key(key));
    events.extend(of_drills.map(|((drill, key), sighting)| solo.event(&all.trail, key, *sighting, Some(*drill))));
    events.sort_by_key(|event| (event.step, event.actor));
    let nearest =
        all.nearest.iter().map(|(&which, (sighting, _))| solo.nearest(&all.trail, which, *sighting)).collect();
    let plain = solo.play(&Case::default());
    let branches = script.facts().len() + script.forking_holds().len();
    Run {
        level,
        events,
        nearest,
        spells: plain.spells.clone(),
        cases: 1u128.checked_shl(branches as u32).filter(|&cases| cases > 0).unwrap_or(u128::MAX),
        reached: all.reached,
        profile: Profile::new(&cast, all.moments),
        drills: script.drills.iter().map(|drill| (drill.contingency, drill.happening)).collect(),
        strikes: all.strikes,
        steps_played: all.steps_played,
        gave_up: all.gave_up,
        dressed_unseen: cast.dressed_unseen(policy),
        met_unseen: cast.met_unseen(&script),
        putting_on: script.putting_on.clone(),
        taking_off: script.taking_off.clone(),
        surfaces: cast.surfaces,
    }
}

/// Plays of single cases, each done once.
struct Solo<'a> {
    policy: &'a Policy,
    script: &'a Script<'a>,
    cast: &'a Cast,
    facts: &'a [FactId],
    plays: HashMap<String, Rc<Seen>>,
}

impl Solo<'_> {
    fn play(&mut self, case: &Case) -> Rc<Seen> {
        let name = format!("{case:?}");
        if let Some(seen) = self.plays.get(&name) {
            return seen.clone();
        }
        let seen = Rc::new(Play::new(self.policy, self.script, self.cast, Some(case)).run());
        self.plays.insert(name, seen.clone());
        seen
    }

    /// The case in which a sighting was made, with every fact answered that is not as on an ordinary day.
    fn case_of(&self, trail: &Trail, sighting: Sighting) -> Case {
        let mut case = Case::default();
        for decision in trail.decisions(sighting.path, sighting.node) {
            match decision {
                Decision::Fact(fact, holds) if !case.facts.iter().any(|(known, _)| *known == fact) => {
                    case.facts.push((fact, holds));
                }
                Decision::Fails(at) if !case.failing.contains(&at) => case.failing.push(at),
                Decision::Strikes(strike) => case.strike = case.strike.or(Some(strike)),
                _ => {}
            }
        }
        case.facts.retain(|&(fact, holds)| holds != answer_in(&Case::default(), self.policy, fact));
        case.facts.sort();
        case.failing.sort();
        case
    }

    /// Takes from a case whatever it does without: `still` says whether it is the same thing yet, `when` at which step it
    /// came about, if that is certain.
    fn least(
        &mut self,
        mut case: Case,
        still: &mut dyn FnMut(&mut Self, &Case) -> bool,
        when: &mut dyn FnMut(&mut Self, &Case) -> Option<StepRef>,
    ) -> Case {
        for at in (0..case.failing.len()).rev() {
            let mut without = case.clone();
            without.failing.remove(at);
            if still(self, &without) {
                case = without;
            }
        }
        for at in (0..case.facts.len()).rev() {
            let mut without = case.clone();
            without.facts.remove(at);
            if still(self, &without) {
                case = without;
            }
        }
        // An ordinary answer belongs to the case, too, where the other answer would undo it.
        let asked = if case.strike.is_some() { self.facts } else { self.script.facts() };
        // What is asked only later cannot: where nothing is played again, all is the same up to then.
        let in_order = case.failing.is_empty() && case.strike.is_none();
        let came_about = if in_order { when(self, &case).and_then(|step| self.script.entry_of(step)) } else { None };
        for &fact in asked {
            if came_about.is_some_and(|at| self.script.is_asked_later(fact, at)) {
                continue;
            }
            if case.facts.iter().any(|(known, _)| *known == fact) {
                continue;
            }
            let plain = answer_in(&case, self.policy, fact);
            let mut other = case.clone();
            other.facts.push((fact, !plain));
            other.facts.sort();
            if !still(self, &other) {
                case.facts.push((fact, plain));
                case.facts.sort();
            }
        }
        case
    }

    fn event(&mut self, trail: &Trail, key: &Key, sighting: Sighting, drill: Option<usize>) -> Event {
        let again = |seen: &Seen| match drill {
            None => seen.events.get(key).copied(),
            Some(drill) => seen.in_drills.get(&(drill, key.clone())).copied(),
        };
        let seen_again = |solo: &mut Self, case: &Case| {
            again(&solo.play(case)).is_some_and(|again| again.distance == sighting.distance)
        };
        let case = self.case_of(trail, sighting);
        let mut what = key.what.clone();
        if !seen_again(self, &case) {
            return Event {
                what: What::NotReplayed,
                step: key.step,
                who: key.who,
                actor: key.actor,
                case,
                chain: Vec::new(),
                earlier: None,
            };
        }
        // These are noticed in the step that they are told of, and no other.
        let in_step = matches!(
            key.what,
            What::Near { .. } | What::NearAfterSlip { .. } | What::BareHand { .. } | What::UncleanHands { .. }
        );
        let when = if in_step && drill.is_none() { key.step } else { None };
        let case = self.least(case, &mut |solo, case| seen_again(solo, case), &mut |_, _| when);
        let seen = self.play(&case);
        let chain = again(&seen).and_then(|again| again.node).map(|node| self.links(&seen.trail, node));
        match &mut what {
            What::Near { distance, .. }
            | What::NearAfterSlip { distance, .. }
            | What::StillNear { distance, .. }
            | What::UncleanHands { distance, .. }
            | What::DirtyEntry { distance, .. } => {
                *distance = sighting.distance;
            }
            _ => {}
        }
        Event {
            what,
            step: key.step,
            who: key.who,
            actor: key.actor,
            case,
            chain: chain.unwrap_or_default(),
            earlier: key.earlier,
        }
    }

    fn nearest(&mut self, trail: &Trail, which: (usize, usize), sighting: Sighting) -> Nearest {
        let same = |solo: &mut Self, case: &Case| {
            let seen = solo.play(case);
            seen.nearest.get(&which).is_some_and(|(again, _)| again.distance == sighting.distance)
        };
        let case = self.case_of(trail, sighting);
        let case = self.least(case, &mut |solo, case| same(solo, case), &mut |solo, case| {
            solo.play(case).nearest.get(&which).and_then(|(_, step)| *step)
        });
        let seen = self.play(&case);
        let again = seen.nearest.get(&which).copied();
        Nearest {
            slips: which.0,
            surface: self.cast.surfaces.at(which.1),
            distance: sighting.distance,
            step: again.and_then(|(_, step)| step),
            case,
            chain: again
                .and_then(|(again, _)| again.node)
                .map(|node| self.links(&seen.trail, node))
                .unwrap_or_default(),
        }
    }

    fn links(&self, trail: &Trail, node: u32) -> Vec<Link> {
        let nodes = trail.chain(node);
        let mut from = None;
        nodes
            .iter()
            .map(|node| {
                let surface = self.cast.surfaces.at(node.surface as usize);
                let link = Link {
                    surface,
                    from: from.unwrap_or(surface),
                    how: node.how,
                    distance: node.distance,
                    step: node.step,
                };
                from = Some(surface);
                link
            })
            .collect()
    }
}
