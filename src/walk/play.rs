//! Plays a script: every case at once, or one case alone.
//!
//! Where branches meet again with the same people wearing the same things and the same answers still in play, their
//! states become one, each surface keeping the lesser distance: steps only ever take the least of distances, or add to
//! one, so nothing is lost by it.

use std::collections::{BTreeMap, BTreeSet};

use super::body::Body;
use super::cast::Cast;
use super::contact::Contact;
use super::event::{Case, How, StepRef, Strike, What};
use super::playthrough::Playthrough;
use super::profile::Moment;
use super::quick::{Quick, QuickMap};
use super::script::{Entry, Script};
use super::state::{Arrival, Decision, Done, FAR, Mark, Op, State, Trail};
use super::surfaces::Surface;
use crate::policy::{Act, Fact, FactId, FactKind, Guard, IfNot, Policy, RoleId, SequenceId, Step};

/// What a guard comes to with the answers that a state has so far; none while it can still come to either.
pub fn decided(guard: &Guard, state: &State) -> Option<bool> {
    let mut is_open = false;
    for all in &guard.any {
        let answers: Vec<Option<bool>> =
            all.iter().map(|literal| state.answer(literal.fact).map(|holds| holds == literal.holds)).collect();
        if answers.contains(&Some(false)) {
            continue;
        }
        if !answers.contains(&None) {
            return Some(true);
        }
        is_open = true;
    }
    if is_open { None } else { Some(false) }
}

/// More states at once than this, and the play gives up: a policy built to explode.
pub const MOST_STATES: usize = 2048;
/// Nor are more steps than these played: a long procedure has a hundred.
pub const MOST_STEPS: usize = 4000;
/// Nor are more kept than this of what one hold has played again, for what may happen meanwhile.
pub const MOST_REPLAYED: usize = 4 * MOST_STATES;
/// Nor is any more played than this, over all states and drills together: some seconds.
pub const MOST_PLAYED: u64 = 400_000;

/// What was noticed, without its distances: the least over all cases is kept.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key {
    pub step: Option<StepRef>,
    pub what: What,
    pub who: RoleId,
    pub actor: RoleId,
    pub earlier: Option<StepRef>,
}

#[derive(Clone, Copy, Debug)]
pub struct Sighting {
    pub distance: u16,
    pub path: u32,
    pub node: Option<u32>,
    /// The entry of the script that was in hand.
    pub entry: usize,
}

/// What one play saw.
#[derive(Clone, Debug, Default)]
pub struct Seen {
    pub events: BTreeMap<Key, Sighting>,
    /// What was noticed after the event of a contingency, by its place in the policy.
    pub in_drills: BTreeMap<(usize, Key), Sighting>,
    /// Every event of a contingency that was let happen.
    pub strikes: BTreeSet<Strike>,
    /// The entry at which each fact was first asked.
    pub asked: BTreeMap<FactId, usize>,
    /// By number of slips and of surface, for skin and own clothes; and the step.
    pub nearest: BTreeMap<(usize, usize), (Sighting, Option<StepRef>)>,
    /// When each piece first went on and came off: only for a play of one case.
    pub spells: Vec<super::Spell>,
    pub reached: BTreeSet<StepRef>,
    /// How near the hazard is after each step.
    pub moments: BTreeMap<StepRef, Moment>,
    pub steps_played: u64,
    pub gave_up: bool,
    pub trail: Trail,
}

#[derive(Clone)]
pub struct Play<'a> {
    pub policy: &'a Policy,
    pub script: &'a Script<'a>,
    pub cast: &'a Cast,
    /// None: every case.
    pub alone: Option<Case>,
    pub seen: Seen,
    /// Whether to note how near the hazard is after each step: what only looks for one finding does without.
    pub notes_moments: bool,
    /// The entry of the script that is in hand, or comes next.
    pub entry: usize,
    /// The contingency whose event has happened in the states in hand.
    pub drill: Option<usize>,
    /// What the hold in hand has played again, or started instead, in the cases in which it is not confirmed.
    pub replay: Option<Replay>,
    /// What the step in hand has done to the marks so far.
    pub done: Vec<Done>,
    /// What seats and sheets touched before the step in hand: touches that only last are none of its own.
    pub lasting: Vec<Contact>,
    /// Touches of the step in hand that come nearer than a margin.
    pub arrivals: Vec<Arrival>,
    /// Skin and clothes that the step in hand set back, as they were just before: after so many slips, by number.
    pub raised: Vec<(usize, usize, Mark)>,
}

/// What follows where a hold is not confirmed, for whatever may happen meanwhile.
#[derive(Clone, Debug)]
pub struct Replay {
    pub hold: StepRef,
    /// Something else is started, and the main way ends there.
    pub is_aside: bool,
    /// The states after each of its steps, as an event finds them.
    pub after: BTreeMap<StepRef, Vec<State>>,
    kept: usize,
}

/// The step that is being played.
#[derive(Clone, Copy)]
pub struct Now<'a> {
    pub at: StepRef,
    pub step: &'a Step,
    /// Played again after a hold was not confirmed: what is done already is passed over.
    pub again: bool,
}

impl<'a> Play<'a> {
    pub fn new(policy: &'a Policy, script: &'a Script<'a>, cast: &'a Cast, alone: Option<&Case>) -> Play<'a> {
        Play {
            policy,
            script,
            cast,
            alone: alone.cloned(),
            seen: Seen::default(),
            notes_moments: true,
            entry: 0,
            drill: None,
            replay: None,
            done: Vec::new(),
            lasting: Vec::new(),
            arrivals: Vec::new(),
            raised: Vec::new(),
        }
    }

    /// From the beginning to the end.
    pub fn run(self) -> Seen {
        let mut all = Playthrough::new(self);
        while all.go_on() {}
        all.into_seen()
    }

    pub fn is_long_enough(&self) -> bool {
        self.seen.steps_played > MOST_PLAYED
    }

    /// Plays one entry of the script.
    pub fn enter(&mut self, states: Vec<State>, at: usize, again: bool) -> Vec<State> {
        let mut states = match self.script.entries[at] {
            Entry::Step(here, step) => self.step_all(states, Now { at: here, step, again }, at),
            Entry::Begin(sequence) => self.each(states, |play, state| play.begin(state, sequence)),
            Entry::Meet => self.each(states, |play, state| play.meet(state)),
            Entry::Over(sequence) => self.each(states, |play, state| play.sequence_over(state, sequence)),
        };
        self.forget(&mut states, at);
        self.merge(states)
    }

    /// Answers that no later entry asks for are forgotten, so that states can become one.
    pub fn forget(&self, states: &mut [State], at: usize) {
        for state in states {
            state.facts.retain(|(fact, _)| self.script.is_live(*fact, at));
        }
    }

    fn each(&mut self, mut states: Vec<State>, mut act: impl FnMut(&mut Self, &mut State)) -> Vec<State> {
        for state in &mut states {
            act(self, state);
        }
        states
    }

    pub fn beginning(&mut self) -> State {
        let mut state = State {
            bodies: vec![Body::default(); self.cast.people.len()],
            facts: Vec::new(),
            marks: std::array::from_fn(|_| vec![Mark::FAR; self.cast.surfaces.count()]),
            brought: Vec::new(),
            path: 0,
        };
        self.cast.dress(self.policy, &mut state.bodies);
        for number in self.cast.contaminated_from_the_start(self.policy) {
            self.seen.trail.apply(&mut state, Op::Land(number, How::Starts), None);
        }
        state
    }

    fn step_all(&mut self, states: Vec<State>, now: Now<'a>, entry: usize) -> Vec<State> {
        let mut after = Vec::new();
        for state in states {
            for (mut state, goes) in self.branch(state, &now.step.guard, now.step.actor) {
                if !goes {
                    after.push(state);
                    continue;
                }
                if self.drill.is_none() {
                    self.seen.reached.insert(now.at);
                }
                if let Act::Hold(hold) = &now.step.act {
                    self.hold(&mut state, now);
                    if !now.again
                        && let Some(if_not) = &hold.if_not
                    {
                        self.fork_at_hold(state, now, if_not, entry, &mut after);
                    } else {
                        after.push(state);
                    }
                } else {
                    self.play_step(&mut state, now);
                    after.push(state);
                }
            }
            if after.len() > 2 * MOST_STATES {
                break;
            }
        }
        if self.drill.is_none() {
            self.note_moment(now.at, &after);
        }
        after
    }

    /// Passes, and fails once: what follows a failure is played from the state at the hold.
    fn fork_at_hold(&mut self, state: State, now: Now<'a>, if_not: &IfNot, entry: usize, after: &mut Vec<State>) {
        let fails = match &self.alone {
            Some(case) => vec![case.failing.contains(&now.at)],
            None => vec![false, true],
        };
        for (mut state, fails) in std::iter::repeat_n(state, fails.len()).zip(fails) {
            if !fails {
                after.push(state);
                continue;
            }
            self.seen.trail.decide(&mut state, Decision::Fails(now.at));
            match if_not {
                IfNot::GoBack { step, .. } => {
                    let range = self.script.range(now.at.sequence, *step, entry);
                    self.count_anew(&mut state, range.clone(), now.at.sequence);
                    let mut states = vec![state];
                    for again in range {
                        if let Entry::Step(at, step) = self.script.entries[again] {
                            states = self.step_all(states, Now { at, step, again: true }, again);
                            states = self.merge(states);
                            self.keep_replayed((now.at, false), at, &states);
                        }
                    }
                    for state in &mut states {
                        self.hold(state, now);
                    }
                    after.extend(states);
                }
                // The main way ends here: what the other sequence does is played, and nothing after it.
                IfNot::Start { sequence, .. } => {
                    self.count_anew(&mut state, self.script.range(*sequence, 0, entry), *sequence);
                    self.play_instead(state, *sequence, Some(now.at));
                }
                IfNot::Nowhere => after.push(state),
            }
        }
    }

    pub fn play_aside(&mut self, state: State, sequence: SequenceId) -> Vec<State> {
        self.play_instead(state, sequence, None)
    }

    /// `hold`: the one that was not confirmed, where that is why.
    fn play_instead(&mut self, mut state: State, sequence: SequenceId, hold: Option<StepRef>) -> Vec<State> {
        let policy = self.policy;
        self.begin(&mut state, sequence);
        let mut states = vec![state];
        for (step, data) in policy.sequence(sequence).steps.iter().enumerate() {
            let at = StepRef { sequence, step };
            states = self.step_aside(states, at, data);
            if let Some(hold) = hold {
                self.keep_replayed((hold, true), at, &states);
            }
        }
        states
    }

    /// One step of what is not on the main way.
    pub fn step_aside(&mut self, states: Vec<State>, at: StepRef, step: &'a Step) -> Vec<State> {
        let states = self.step_all(states, Now { at, step, again: true }, usize::MAX);
        self.merge(states)
    }

    /// Before anybody has met the hazard, nothing happens that needs a drill.
    fn keep_replayed(&mut self, (hold, is_aside): (StepRef, bool), after: StepRef, states: &[State]) {
        let is_asked = |case: &Case| case.strike.is_some_and(|strike| strike.again == Some(hold));
        if self.drill.is_some() || self.script.drills.is_empty() || !self.alone.as_ref().is_none_or(is_asked) {
            return;
        }
        let replay = self.replay.get_or_insert_with(|| Replay { hold, is_aside, after: BTreeMap::new(), kept: 0 });
        let met = states.iter().filter(|state| state.bodies.iter().any(|body| body.exposed));
        for state in met {
            replay.kept += 1;
            if replay.kept > MOST_REPLAYED {
                self.seen.gave_up = true;
                return;
            }
            replay.after.entry(after).or_default().push(state.planned());
        }
    }

    /// The states in which a guard is decided, and whether it lets the step happen.
    pub fn branch(&mut self, state: State, guard: &Guard, actor: RoleId) -> Vec<(State, bool)> {
        if guard.is_always() {
            return vec![(state, true)];
        }
        let asked: Vec<FactId> = {
            let mut facts: Vec<FactId> = guard.any.iter().flatten().map(|literal| literal.fact).collect();
            facts.sort();
            facts.dedup();
            facts
        };
        let mut states = vec![state];
        for fact in asked {
            let mut next = Vec::new();
            for state in states {
                // What is decided already asks no more: k conditions within one another make k + 1 states, not 2^k.
                let is_decided = decided(guard, &state).is_some();
                if is_decided || state.answer(fact).is_some() || next.len() > MOST_STATES {
                    next.push(state);
                    continue;
                }
                let plain = plain_answer(self.policy.fact(fact));
                self.seen.asked.entry(fact).or_insert(self.entry);
                let answers = match &self.alone {
                    Some(case) => vec![answer_in(case, self.policy, fact)],
                    None => vec![plain, !plain],
                };
                for (mut state, answer) in std::iter::repeat_n(state, answers.len()).zip(answers) {
                    state.facts.push((fact, answer));
                    state.facts.sort();
                    self.seen.trail.decide(&mut state, Decision::Fact(fact, answer));
                    self.learn_of_soil(&mut state, fact, answer, actor);
                    next.push(state);
                }
            }
            states = next;
        }
        states
            .into_iter()
            .map(|state| {
                let goes = decided(guard, &state) == Some(true);
                (state, goes)
            })
            .collect()
    }

    /// Visible soil on the hands counts from when it is asked about until they are washed.
    fn learn_of_soil(&mut self, state: &mut State, fact: FactId, answer: bool, actor: RoleId) {
        let fact = self.policy.fact(fact);
        let (Some(soil_when), FactKind::Found { item, subject, .. }) = (fact.tells_of_soil(), &fact.kind) else {
            return;
        };
        // Who only watches asks about the hands of those who wear.
        let watches = self.policy.role(actor).watches;
        for person in 0..state.bodies.len() {
            let meant = if watches { self.cast.meets[person] } else { self.cast.people[person] == actor };
            let body = &mut state.bodies[person];
            let of_hands = match item {
                Some(item) => body.top(crate::policy::Area::Hands).is_some_and(|top| top.item == *item),
                None => subject.ends_with("hands"),
            };
            if meant && of_hands {
                body.soiled_hands = answer == soil_when;
            }
        }
    }

    /// One state for each key, in the order in which they first came.
    pub fn merge(&mut self, states: Vec<State>) -> Vec<State> {
        if states.len() < 2 {
            return states;
        }
        let mut by_key: QuickMap<u64, Vec<usize>> = QuickMap::default();
        let mut kept: Vec<State> = Vec::new();
        for state in states {
            let same = by_key.entry(hash_of(&state)).or_default();
            match same.iter().find(|&&at| kept[at].same_key(&state)) {
                Some(&at) => self.seen.trail.merge(&mut kept[at], &state),
                None => {
                    same.push(kept.len());
                    kept.push(state);
                }
            }
        }
        kept
    }

    /// Notes something, keeping the least distance and, among equals, what came first.
    pub fn notice(&mut self, key: Key, sighting: Sighting) {
        let known = match self.drill {
            None => self.seen.events.entry(key).or_insert(sighting),
            Some(drill) => self.seen.in_drills.entry((drill, key)).or_insert(sighting),
        };
        if sighting.distance < known.distance {
            *known = sighting;
        }
    }

    pub fn notice_plain(
        &mut self,
        state: &State,
        now: Option<StepRef>,
        what: What,
        who: RoleId,
        actor: RoleId,
        earlier: Option<StepRef>,
    ) {
        let key = Key { step: now, what, who, actor, earlier };
        self.notice(key, Sighting { distance: FAR, path: state.path, node: None, entry: self.entry });
    }

    /// What is noticed by a mark: as near as it is, and by the touches that made it so.
    pub fn sighting(&self, state: &State, mark: Mark) -> Sighting {
        Sighting { distance: mark.distance, path: state.path, node: Some(mark.node), entry: self.entry }
    }

    pub fn number(&self, surface: Surface) -> Option<usize> {
        self.cast.surfaces.number(surface)
    }
}

fn hash_of(state: &State) -> u64 {
    use std::hash::{Hash, Hasher};
    let mut hasher = Quick::default();
    state.facts.hash(&mut hasher);
    state.bodies.hash(&mut hasher);
    hasher.finish()
}

/// The answer of an ordinary day: nothing torn or soiled, everything supplied, every question answered with no.
pub fn plain_answer(fact: &Fact) -> bool {
    match fact.kind {
        FactKind::Supplied(_) => true,
        FactKind::Asked(_) => false,
        FactKind::Found { .. } => fact.tells_of_soil() == Some(false) || finds_good(fact),
    }
}

fn finds_good(fact: &Fact) -> bool {
    matches!(&fact.kind, FactKind::Found { state, .. } if ["whole", "intact", "dry", "closed", "ready"].contains(&state.as_str()))
}

pub fn answer_in(case: &Case, policy: &Policy, fact: FactId) -> bool {
    let told = case.facts.iter().find(|(known, _)| *known == fact).map(|&(_, holds)| holds);
    told.unwrap_or_else(|| plain_answer(policy.fact(fact)))
}
