//! One level: every case at once, and then each thing noticed again in its own least case, played alone.
//!
//! What is told to people comes from the play of the single case, never from the merged one; what does not come out the
//! same is a fault of this program, and is told as one.

use std::collections::BTreeMap;

use super::cast::Cast;
use super::event::{Case, Event, Link, StepRef, What};
use super::play::{Key, Play, Seen, Sighting, answer_in};
use super::playthrough::Playthrough;
use super::profile::Profile;
use super::script::Script;
use super::state::{Decision, Node, Trail};
use super::{Nearest, Run, Spell};
use crate::policy::{FactId, LevelId, Policy};

pub fn run(policy: &Policy, level: LevelId) -> Run {
    let script = Script::new(policy, level);
    let cast = Cast::new(policy, level, &script);
    let all = Play::new(policy, &script, &cast, None).run();
    let mut solo = Solo { policy, script: &script, cast: &cast, plays: BTreeMap::new() };
    let spells = solo.spells();
    let mut events: Vec<Event> =
        all.events.iter().map(|(key, sighting)| solo.event(&all.trail, key, *sighting, None)).collect();
    // What happens on the main way too is no fault of the drill.
    let of_drills = all.in_drills.iter().filter(|((_, key), _)| !all.events.contains_key(key));
    events.extend(of_drills.map(|((drill, key), sighting)| solo.event(&all.trail, key, *sighting, Some(*drill))));
    events.sort_by_key(|event| (event.step, event.actor));
    // A slip in one case may come nearer than that case as planned, and no nearer than another as planned: it tells nothing.
    let planned = |number: usize| all.nearest.get(&(0, number)).map(|(sighting, _)| sighting.distance);
    let tells = |slips: usize, number: usize, distance: u16| {
        slips == 0 || planned(number).is_none_or(|planned| distance < planned)
    };
    let nearest =
        all.nearest.iter().filter(|((slips, number), (sighting, _))| tells(*slips, *number, sighting.distance));
    let nearest = nearest.map(|(&which, &sighting)| solo.nearest(&all.trail, which, sighting)).collect();
    let branches = script.facts().len() + script.forking_holds().len();
    Run {
        level,
        events,
        nearest,
        spells,
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

/// Looks for something in what a play has seen so far.
type Sought<'s> = &'s dyn Fn(&Seen) -> Option<Sighting>;

/// Plays of single cases: each is played once, and only as far as something is sought in it.
struct Solo<'a> {
    policy: &'a Policy,
    script: &'a Script<'a>,
    cast: &'a Cast,
    /// By what is not as on an ordinary day.
    plays: BTreeMap<Case, Playthrough<'a>>,
}

impl<'a> Solo<'a> {
    fn play(&mut self, case: &Case) -> &mut Playthrough<'a> {
        let Solo { policy, script, cast, .. } = *self;
        let case = self.in_short(case.clone());
        self.plays.entry(case).or_insert_with_key(|case| begin(policy, script, cast, case))
    }

    /// Nothing but the answers that are not as on an ordinary day.
    fn in_short(&self, mut case: Case) -> Case {
        case.facts.retain(|&(fact, holds)| holds != answer_in(&Case::default(), self.policy, fact));
        case
    }

    /// Plays no further than where it is found.
    fn find(&mut self, case: &Case, sought: Sought) -> Option<Sighting> {
        self.play(case).until(sought)
    }

    fn spells(&mut self) -> Vec<Spell> {
        let plain = self.play(&Case::default());
        plain.up_to(usize::MAX);
        plain.seen().spells.clone()
    }

    /// The case in which a sighting was made, with every fact answered that is not as on an ordinary day.
    fn case_of(&self, trail: &Trail, sighting: Sighting) -> Case {
        self.in_short(decided(trail, sighting))
    }

    /// Takes from a case whatever it does without.
    fn least(&mut self, mut case: Case, sought: Sought) -> Case {
        for at in (0..case.failing.len()).rev() {
            let mut without = case.clone();
            without.failing.remove(at);
            if self.find(&without, sought).is_some() {
                case = without;
            }
        }
        for at in (0..case.facts.len()).rev() {
            let mut without = case.clone();
            without.facts.remove(at);
            if self.find(&without, sought).is_some() {
                case = without;
            }
        }
        // An ordinary answer belongs to the case, too, where the other answer would undo it.
        for (fact, other) in self.others(&case, sought) {
            if self.find(&other, sought).is_none() {
                case.facts.push((fact, answer_in(&case, self.policy, fact)));
            }
        }
        case.facts.sort();
        case
    }

    /// For each ordinary answer given before what is sought came about, the case with the other answer. All is the same up to
    /// the question, so their plays branch off there.
    fn others(&mut self, case: &Case, sought: Sought) -> Vec<(FactId, Case)> {
        let Some(found) = self.find(case, sought) else { return Vec::new() };
        let is_ordinary = |fact: FactId| !case.facts.iter().any(|(known, _)| *known == fact);
        let asked = self.play(case).seen().asked.iter().map(|(&fact, &at)| (at, fact));
        let mut asked: Vec<(usize, FactId)> =
            asked.filter(|&(at, fact)| at <= found.entry && is_ordinary(fact)).collect();
        asked.sort();
        let mut follower: Option<Playthrough> = None;
        let mut others = Vec::new();
        for (at, fact) in asked {
            let mut other = case.clone();
            other.facts.push((fact, !answer_in(case, self.policy, fact)));
            other.facts.sort();
            if !self.plays.contains_key(&other) {
                let follower = follower.get_or_insert_with(|| begin(self.policy, self.script, self.cast, case));
                follower.up_to(at);
                self.plays.insert(other.clone(), follower.branched_off(&other));
            }
            others.push((fact, other));
        }
        others
    }

    fn event(&mut self, trail: &Trail, key: &Key, sighting: Sighting, drill: Option<usize>) -> Event {
        let again = |seen: &Seen| {
            let again = match drill {
                None => seen.events.get(key),
                Some(drill) => seen.in_drills.get(&(drill, key.clone())),
            };
            again.copied().filter(|again| again.distance == sighting.distance)
        };
        let case = self.case_of(trail, sighting);
        let mut what = key.what.clone();
        if self.find(&case, &again).is_none() {
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
        let case = self.least(case, &again);
        let chain = self.chain(&case, &again);
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
        Event { what, step: key.step, who: key.who, actor: key.actor, case, chain, earlier: key.earlier }
    }

    fn nearest(
        &mut self,
        trail: &Trail,
        which: (usize, usize),
        (sighting, step): (Sighting, Option<StepRef>),
    ) -> Nearest {
        let again = |seen: &Seen| {
            let again = seen.nearest.get(&which).map(|(again, _)| *again);
            again.filter(|again| again.distance == sighting.distance)
        };
        let (slips, surface, distance) = (which.0, self.cast.surfaces.at(which.1), sighting.distance);
        let case = self.case_of(trail, sighting);
        if self.find(&case, &again).is_none() {
            // The play of all cases stands, with whatever was answered on the way; there is no chain to show.
            return Nearest { slips, surface, distance, step, case: decided(trail, sighting), chain: Vec::new() };
        }
        let case = self.least(case, &again);
        let chain = self.chain(&case, &again);
        let step = self.play(&case).seen().nearest.get(&which).and_then(|(_, step)| *step);
        Nearest { slips, surface, distance, step, case, chain }
    }

    /// How the hazard comes there, in a case.
    fn chain(&mut self, case: &Case, sought: Sought) -> Vec<Link> {
        let node = self.find(case, sought).and_then(|found| found.node);
        let cast = self.cast;
        node.map(|node| links(cast, &self.play(case).seen().trail, node)).unwrap_or_default()
    }
}

/// The case in which a sighting was made, with every fact that was asked on the way.
fn decided(trail: &Trail, sighting: Sighting) -> Case {
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
    case.facts.sort();
    case.failing.sort();
    case
}

/// What a walk chart shows is left out: it is of all cases.
fn begin<'a>(policy: &'a Policy, script: &'a Script<'a>, cast: &'a Cast, case: &Case) -> Playthrough<'a> {
    Playthrough::new(Play { notes_moments: false, ..Play::new(policy, script, cast, Some(case)) })
}

fn links(cast: &Cast, trail: &Trail, node: u32) -> Vec<Link> {
    let mut from = None;
    let link = |node: &Node| {
        let surface = cast.surfaces.at(node.surface as usize);
        let (from, how) = (from.replace(surface).unwrap_or(surface), node.how);
        Link { surface, from, how, distance: node.distance, step: node.step }
    };
    trail.chain(node).iter().map(link).collect()
}
