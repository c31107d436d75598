//! What must hold of every procedure, tried on random ones. The laws are the model's own; no outside source.

use std::collections::{BTreeMap, BTreeSet};

use anteroom::policy::{Act, Area, FactId, LevelId, Policy, Step};
use anteroom::session;
use anteroom::walk::cast::Cast;
use anteroom::walk::play::{Key, Play, Seen, answer_in};
use anteroom::walk::profile::Touches;
use anteroom::walk::script::Script;
use anteroom::walk::state::MOST_SLIPS;
use anteroom::walk::{Case, Event, StepRef, Surface, What, walk};
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use super::procedures::{ELSEWHERE, WARD, act, plain, policy, policy_with_drills};
use super::{Nothing, policy_of};

/// Distances by what they are of: an event at its step, or a surface over the whole of the play.
#[derive(Default)]
struct Sum {
    events: BTreeMap<Key, u16>,
    /// By contingency, from its event on.
    in_drills: BTreeMap<(usize, Key), u16>,
    /// By number of slips, and of surface.
    nearest: BTreeMap<(usize, usize), u16>,
    /// After each step: of skin and own clothes, and of each person's hands.
    after: BTreeMap<StepRef, Vec<Touches>>,
}

impl Sum {
    fn of(seen: &Seen) -> Sum {
        Sum {
            events: seen.events.iter().map(|(key, sighting)| (key.clone(), sighting.distance)).collect(),
            in_drills: seen.in_drills.iter().map(|(key, sighting)| (key.clone(), sighting.distance)).collect(),
            nearest: seen.nearest.iter().map(|(&which, (sighting, _))| (which, sighting.distance)).collect(),
            after: seen.moments.iter().map(|(&at, moment)| (at, [&moment.near[..], &moment.hands].concat())).collect(),
        }
    }

    fn add(&mut self, other: Sum) {
        for (key, distance) in other.events {
            let least = self.events.entry(key).or_insert(distance);
            *least = distance.min(*least);
        }
        for (key, distance) in other.in_drills {
            let least = self.in_drills.entry(key).or_insert(distance);
            *least = distance.min(*least);
        }
        for (which, distance) in other.nearest {
            let least = self.nearest.entry(which).or_insert(distance);
            *least = distance.min(*least);
        }
        for (at, touches) in other.after {
            let least = self.after.entry(at).or_insert_with(|| touches.clone());
            for (least, touches) in least.iter_mut().zip(touches) {
                *least = std::array::from_fn(|slips| least[slips].min(touches[slips]));
            }
        }
    }

    /// The nearest by so many slips or fewer: a slip that brings the hazard no nearer than the plan does is not noted.
    fn nearest_by(&self, slips: usize) -> BTreeMap<usize, u16> {
        let mut nearest = BTreeMap::new();
        for (&(_, surface), &distance) in self.nearest.iter().filter(|((with, _), _)| *with <= slips) {
            let least = nearest.entry(surface).or_insert(distance);
            *least = distance.min(*least);
        }
        nearest
    }

    /// Some things are told only where they are new: skin that the hazard has reached, where it comes nearer than before. In
    /// the play of all cases, "before" is the nearest of all cases. What is told of one case is therefore not told again of
    /// another, later and no nearer: it comes to light when the first has been mended. Nothing else may be missing.
    fn tells_already(&self, key: &Key, distance: u16) -> bool {
        let wanted = reached(&key.what);
        self.events.iter().any(|(told, &at)| match (&told.what, &key.what) {
            (What::Near { .. } | What::NearAfterSlip { .. }, _) => {
                wanted.is_some() && reached(&told.what) == wanted && at <= distance
            }
            // Bare where the hazard is: no touch away.
            (What::Bare { area, clothes: false, .. }, _) if wanted.is_some() => {
                wanted == Some(Surface::Skin { who: told.who, area: *area })
            }
            (What::Bare { clothes: true, .. }, _) if wanted.is_some() => {
                matches!(wanted, Some(Surface::Front { who, .. } | Surface::Back { who, .. }) if who == told.who)
            }
            (What::Bare { clothes: true, .. }, What::Bare { clothes: true, .. }) => told.who == key.who,
            (What::Bare { area, .. }, What::Bare { area: wanted, .. }) => told.who == key.who && area == wanted,
            (What::Bare { area: Area::Hands, .. }, What::BareHand { .. }) => told.who == key.actor,
            (What::UncleanHands { surface, .. }, What::UncleanHands { surface: wanted, .. }) => surface == wanted,
            _ => false,
        })
    }
}

/// The skin or clothes that something is told of as too near.
fn reached(what: &What) -> Option<Surface> {
    match what {
        What::Near { surface, .. } | What::NearAfterSlip { surface, .. } => Some(*surface),
        _ => None,
    }
}

fn seen(policy: &Policy, case: Option<&Case>) -> Seen {
    let script = Script::new(policy, LevelId::new(0));
    let cast = Cast::new(policy, LevelId::new(0), &script);
    Play::new(policy, &script, &cast, case).run()
}

fn play(policy: &Policy, case: Option<&Case>) -> Sum {
    Sum::of(&seen(policy, case))
}

/// The nearest that the hazard comes to each skin and to own clothes.
fn nearest(policy: &Policy, slips: usize) -> BTreeMap<Surface, u16> {
    let script = Script::new(policy, LevelId::new(0));
    let cast = Cast::new(policy, LevelId::new(0), &script);
    let seen = Play::new(policy, &script, &cast, None).run();
    let nearest = Sum::of(&seen).nearest_by(slips);
    nearest.into_iter().map(|(number, distance)| (cast.surfaces.at(number), distance)).collect()
}

fn every_case(policy: &Policy) -> Vec<Case> {
    let script = Script::new(policy, LevelId::new(0));
    let (facts, holds) = (script.facts_with_drills(), script.forking_holds());
    let cases = 0..1usize << (facts.len() + holds.len());
    cases
        .map(|bits| Case {
            facts: facts.iter().enumerate().map(|(at, &fact)| (fact, bits >> at & 1 == 1)).collect(),
            failing: (holds.iter().enumerate())
                .filter(|(at, _)| bits >> (facts.len() + at) & 1 == 1)
                .map(|(_, &hold)| hold)
                .collect(),
            strike: None,
        })
        .collect()
}

/// How near it was, where this is what an event comes to in a case that is played alone.
fn again(seen: &Seen, event: &Event) -> Option<u16> {
    let mut what = event.what.clone();
    match &mut what {
        What::Near { distance, .. }
        | What::NearAfterSlip { distance, .. }
        | What::StillNear { distance, .. }
        | What::UncleanHands { distance, .. }
        | What::DirtyEntry { distance, .. } => *distance = 0,
        _ => {}
    }
    let key = Key { step: event.step, what, who: event.who, actor: event.actor, earlier: event.earlier };
    let sighting = match event.case.strike {
        None => seen.events.get(&key),
        Some(strike) => seen.in_drills.get(&(strike.contingency, key)),
    };
    sighting.map(|sighting| sighting.distance)
}

/// An answer that is given otherwise in a case.
fn with(case: &Case, fact: FactId, holds: bool) -> Case {
    let mut other = case.clone();
    other.facts.retain(|(known, _)| *known != fact);
    other.facts.push((fact, holds));
    other.facts.sort();
    other
}

/// Of all that is told: what is not named in its case does not undo it, whichever answer is otherwise than on an ordinary
/// day; and an ordinary answer that is named would undo it.
fn cases_say_what_matters(policy: &Policy) -> Result<(), TestCaseError> {
    let facts = Script::new(policy, LevelId::new(0)).facts_with_drills();
    let mut played: BTreeMap<Case, Seen> = BTreeMap::new();
    let mut check = |case: &Case, distance: &dyn Fn(&Seen) -> Option<u16>| {
        let mut alone =
            |case: &Case| distance(played.entry(case.clone()).or_insert_with_key(|case| seen(policy, Some(case))));
        let told = alone(case);
        prop_assert!(told.is_some(), "{case:?}");
        for &fact in &facts {
            let plain = answer_in(&Case::default(), policy, fact);
            let other = with(case, fact, !plain);
            match case.facts.iter().find(|(known, _)| *known == fact) {
                None => prop_assert_eq!(alone(&other), told, "{:?} is undone by {:?}", case, other),
                Some((_, holds)) if *holds == plain => prop_assert!(alone(&other) != told, "{case:?}, {other:?}"),
                Some(_) => {}
            }
        }
        Ok(())
    };
    for run in walk(policy).runs {
        for event in &run.events {
            check(&event.case, &|seen| again(seen, event))?;
        }
        for near in &run.nearest {
            let which = (near.slips, run.surfaces.number(near.surface).expect("a surface of the run"));
            check(&near.case, &|seen| seen.nearest.get(&which).map(|(sighting, _)| sighting.distance))?;
        }
    }
    Ok(())
}

/// Always the same procedures, so that a failure is nobody's luck.
fn tried(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, rng_seed: RngSeed::Fixed(1), failure_persistence: None, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(tried(100))]

    #[test]
    fn all_cases_at_once_are_each_case_alone(text in policy(6)) {
        let policy = policy_of(&WARD.fill(&text));
        let together = play(&policy, None);
        let mut apart = Sum::default();
        for case in every_case(&policy) {
            apart.add(play(&policy, Some(&case)));
        }
        for slips in 0..=MOST_SLIPS {
            prop_assert_eq!(together.nearest_by(slips), apart.nearest_by(slips), "after {} slips", slips);
        }
        prop_assert_eq!(&together.after, &apart.after, "after the steps");
        for (key, &distance) in &together.events {
            let Some(&least) = apart.events.get(key) else {
                return Err(TestCaseError::fail(format!("no case alone has {key:?}")));
            };
            let same = distance == least || distance > least && together.tells_already(key, least);
            prop_assert!(same, "{key:?} at {distance}, alone at {least}");
        }
        for (key, &distance) in &apart.events {
            let told = together.events.contains_key(key) || together.tells_already(key, distance);
            prop_assert!(told, "only a case alone has {:?} at {}", key, distance);
        }
    }
}

proptest! {
    #![proptest_config(tried(24))]

    /// After an event no slip is reckoned with, and nothing depends on what was nearest before: all of it is the same.
    #[test]
    fn all_events_in_all_cases_at_once_are_each_alone(text in policy_with_drills(2)) {
        let policy = policy_of(&WARD.fill(&text));
        let together = seen(&policy, None);
        let (mut apart, mut struck) = (Sum::default(), BTreeSet::new());
        for case in every_case(&policy) {
            apart.add(play(&policy, Some(&case)));
            for &strike in &together.strikes {
                let alone = seen(&policy, Some(&Case { strike: Some(strike), ..case.clone() }));
                prop_assert!(alone.strikes.iter().all(|&other| other == strike), "{:?} alone", strike);
                struck.extend(alone.strikes.iter().copied());
                let in_drills = Sum::of(&alone).in_drills;
                apart.add(Sum { in_drills, ..Sum::default() });
            }
        }
        prop_assert_eq!(&together.strikes, &struck);
        let together = Sum::of(&together);
        prop_assert_eq!(&together.in_drills, &apart.in_drills);
        // A slip is told only where it comes nearer than the plan does, which may be another case's.
        let planned = |sum: &Sum| -> BTreeMap<Key, u16> {
            let after_slip = |key: &Key| matches!(key.what, What::NearAfterSlip { .. });
            sum.events.clone().into_iter().filter(|(key, _)| !after_slip(key)).collect()
        };
        prop_assert_eq!(planned(&together), planned(&apart));
    }

    #[test]
    fn cases_of_drills_name_the_answers_that_matter_and_no_others(text in policy_with_drills(2)) {
        cases_say_what_matters(&policy_of(&WARD.fill(&text)))?;
    }
}

proptest! {
    #![proptest_config(tried(64))]

    #[test]
    fn what_is_told_comes_out_the_same_when_its_case_is_played_alone(text in policy(4)) {
        let policy = policy_of(&WARD.fill(&text));
        for event in walk(&policy).runs.iter().flat_map(|run| &run.events) {
            prop_assert!(event.what != What::NotReplayed, "{:?} of {:?}", event.step, event.case);
        }
    }

    #[test]
    fn cases_name_the_answers_that_matter_and_no_others(text in policy(4)) {
        cases_say_what_matters(&policy_of(&WARD.fill(&text)))?;
    }

    #[test]
    fn other_names_change_no_finding_but_its_words(text in policy(3)) {
        let told = |text: String| {
            let checked = session::check(session::read("ward.ppe", text, &Nothing), None);
            let line = |finding: &anteroom::findings::Finding| checked.reading.sources.start(finding.span).line;
            let facts = checked.findings.iter().map(|finding| {
                (finding.name, finding.signal, line(finding), finding.case.len(), finding.chain.len())
            });
            let mut facts: Vec<_> = facts.collect();
            facts.sort();
            facts
        };
        prop_assert_eq!(told(WARD.fill(&text)), told(ELSEWHERE.fill(&text)));
    }

    #[test]
    fn a_longer_rub_never_brings_the_hazard_nearer(text in policy(2), slips in 0..=MOST_SLIPS) {
        let text = WARD.fill(&text);
        let shorter = nearest(&policy_of(&text), slips);
        let longer = nearest(&policy_of(&text.replace("for 10 seconds", "for 25 seconds")), slips);
        for (surface, distance) in longer {
            let was = shorter.get(&surface).copied().unwrap_or(u16::MAX);
            prop_assert!(distance >= was, "{surface:?} at {distance}, with the shorter rub at {was}");
        }
    }

    #[test]
    fn one_layer_more_bares_no_area(acts in prop::collection::vec(act(), 1..14), layer in 0..4usize) {
        let layer = ["LINERS", "MASK", "HOOD", "GOGGLES"][layer];
        let is_other = |act: &&String| !act.contains(layer);
        let rest: String = acts.iter().filter(is_other).map(|act| format!("  {act}\n")).collect();
        // In a sequence of its own, so that the steps of the others keep their numbers and their kind.
        let of = |first: &str| plain(&format!(
            "sequence \"Beneath\" for Full, in dressing room\n  {first}\n  WEARER puts on GOWN\nsequence \"All\" for Full, in \
             dressing room\n{rest}"
        ));
        let with = policy_of(&WARD.fill(&of(&format!("WEARER puts on {layer}"))));
        let without = policy_of(&WARD.fill(&of("WATCHER checks WEARER")));
        let bare = |policy: &Policy| -> Vec<Key> {
            play(policy, None).events.into_keys().filter(|key| matches!(key.what, What::Bare { .. })).collect()
        };
        let known = bare(&without);
        for key in bare(&with) {
            prop_assert!(known.contains(&key), "bare only with the {layer} on: {key:?}");
        }
    }

    #[test]
    fn what_two_do_far_apart_may_change_places(acts in prop::collection::vec((act(), any::<bool>()), 2..12)) {
        let shared = ["helps", "WATCHER", " to ", "wipes", "connects", "sits on"];
        let far = |act: &String| !shared.iter().any(|word| act.contains(word));
        let alone = |act: &str, helper: bool| {
            let act = act.replace(" into bin", "").replace(" onto bench", "").replace("HELPER", "WEARER");
            if helper { act.replace("WEARER", "HELPER") } else { act }
        };
        let steps: String = (acts.iter().filter(|(act, _)| far(act)))
            .map(|(act, helper)| format!("  {}\n", alone(act, *helper)))
            .collect();
        // The wearer in the room, the helper in the lobby.
        let policy = policy_of(&WARD.fill(&plain(&format!(
            "sequence \"All\" for Full, in dressing room\n  WEARER puts on GOWN\n  HELPER goes to lobby\n  WEARER goes to room\n\
             {steps}"
        ))));
        let near = nearest(&policy, 0);
        let all = &policy.sequences[0].steps;
        for at in 3..all.len().saturating_sub(1) {
            if all[at].actor == all[at + 1].actor {
                continue;
            }
            let mut swapped = policy.clone();
            swapped.sequences[0].steps.swap(at, at + 1);
            prop_assert_eq!(&near, &nearest(&swapped, 0), "swapped: {} and {}", all[at].words, all[at + 1].words);
        }
    }

    #[test]
    fn no_procedure_breaks_the_walk(
        lines in prop::collection::vec(prop_oneof![8 => act(), 1 => "\\PC{0,40}", 1 => "[a-zA-Z, \"]{0,40}"], 0..40),
        level in any::<bool>(),
    ) {
        let lines: String = lines.iter().map(|line| format!("  {line}\n")).collect();
        let text = plain(&format!("sequence \"All\" for {}, in room\n{lines}", if level { "Full" } else { "Nothing" }));
        let checked = session::check(session::read("ward.ppe", WARD.fill(&text), &Nothing), None);
        prop_assert!(checked.walk.runs.iter().all(|run| !run.gave_up));
    }
}

/// The generator reaches what the properties are about.
#[test]
fn random_procedures_hold_conditions_holds_and_faults() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    let (mut guarded, mut holds, mut near, mut blocked, mut bare) = (0, 0, 0, 0, 0);
    for _ in 0..20 {
        let policy = policy_of(&WARD.fill(&policy(6).new_tree(&mut runner).unwrap().current()));
        let steps: Vec<&Step> = policy.sequences.iter().flat_map(|sequence| &sequence.steps).collect();
        guarded += steps.iter().filter(|step| !step.guard.is_always()).count();
        holds += steps.iter().filter(|step| matches!(step.act, Act::Hold(_))).count();
        for key in play(&policy, None).events.keys() {
            near += usize::from(matches!(key.what, What::Near { .. }));
            blocked += usize::from(matches!(key.what, What::Blocked { .. }));
            bare += usize::from(matches!(key.what, What::Bare { .. }));
        }
    }
    let (mut strikes, mut again, mut still, mut told) = (0, 0, 0, 0);
    for _ in 0..20 {
        let policy = policy_of(&WARD.fill(&policy_with_drills(2).new_tree(&mut runner).unwrap().current()));
        let seen = seen(&policy, None);
        strikes += seen.strikes.len();
        again += seen.strikes.iter().filter(|strike| strike.again.is_some()).count();
        let new = seen.in_drills.keys().filter(|(_, key)| !seen.events.contains_key(key));
        told += new.clone().count();
        still += new.filter(|(_, key)| matches!(key.what, What::StillNear { .. })).count();
    }
    assert!(strikes > 100 && again > 20, "{strikes} strikes, {again} of them where a hold was not confirmed");
    assert!(still > 5 && told > 50, "{still} still near, {told} told");
    assert!(guarded > 40 && holds > 5, "{guarded} conditions, {holds} holds");
    assert!(near > 5 && blocked > 2 && bare > 20, "{near} near, {blocked} blocked, {bare} bare");
}
