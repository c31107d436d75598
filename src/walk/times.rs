//! How long the procedure takes, as far as its lines say: each sequence, each stay with the hazard, each battery.
//!
//! In: a policy. Out: [`Times`]: sums of what is written, over all cases, every hold confirmed at once. Must never guess how
//! long a step takes: one without a time counts as nothing, and is counted as such.

use super::script::{Entry, Script, wearer_of};
use super::tally::{Budget, Known, Tally, needed, tally};
use crate::policy::{Act, ItemId, LevelId, PlaceKind, Policy, RoleId, Seconds, SequenceId, Step, Target};

#[derive(Debug, Default)]
pub struct Times {
    /// In the order of the sequences; none where conditions lead to more ways than are looked at.
    pub sequences: Vec<Option<Duration>>,
    /// Stays that are longer than the level's limit.
    pub stays: Vec<Stay>,
    /// Batteries that do not last for the level's stay, what comes before and after it, and the [`RESERVE`].
    pub batteries: Vec<Battery>,
    /// Conditions lead to more ways than are looked at: a stay or a battery may be missing.
    pub gave_up: bool,
}

#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Duration {
    pub shortest: Seconds,
    pub longest: Seconds,
    /// The answers without which it is not the longest.
    pub longest_when: Known,
    /// Steps and holds without a time.
    pub untimed: usize,
}

/// Somebody's own steps in contaminated places.
#[derive(Debug)]
pub struct Stay {
    pub level: LevelId,
    pub who: RoleId,
    /// The first of these steps that has a time, by its sequence and place.
    pub at: (SequenceId, usize),
    pub takes: Seconds,
    pub limit: Seconds,
    pub case: Known,
}

#[derive(Debug)]
pub struct Battery {
    pub level: LevelId,
    pub who: RoleId,
    pub item: ItemId,
    pub runs_for: Seconds,
    /// The level's stay.
    pub stay: Seconds,
    /// Its wearer's own steps outside contaminated places while it runs.
    pub besides: Seconds,
    pub case: Known,
}

const MOST_PLAYED: u64 = 1_000_000;

/// What a battery keeps for getting out. Common practice, no source; short enough that 3 h 50 min remain open to a battery of
/// 4 hours (NIOSH 2013-146).
pub const RESERVE: Seconds = Seconds(5 * 60);

/// How long a step takes by its own lines: `takes`, the time of its cleaning, the time that a surface is to stay wet.
pub fn written(policy: &Policy, step: &Step) -> Option<Seconds> {
    let cleaning = match &step.act {
        Act::CleanHands(with) => with.time,
        Act::Wipe { with, .. } | Act::Spray { with, .. } => with.time.max(policy.cleaner(with.cleaner).wet_for),
        _ => None,
    };
    step.prompts.takes.max(cleaning)
}

/// How fast people read aloud to somebody who acts on it: 150 words a minute. From memory; common practice, no source.
pub const WORDS_A_MINUTE: usize = 150;

/// How long it takes to read this aloud, in whole seconds, rounded up.
pub fn read_aloud<'a>(texts: impl Iterator<Item = &'a str>) -> Seconds {
    let words: usize = texts.map(|text| text.split_whitespace().filter(|word| is_spoken(word)).count()).sum();
    Seconds(u32::try_from((words * 60).div_ceil(WORDS_A_MINUTE)).unwrap_or(u32::MAX))
}

/// A dash between blanks is no word.
fn is_spoken(word: &str) -> bool {
    word.chars().any(char::is_alphanumeric)
}

pub fn times(policy: &Policy) -> Times {
    let mut play = Play { policy, budget: Budget(MOST_PLAYED), times: Times::default() };
    for at in 0..policy.levels.len() {
        play.level(LevelId::new(at));
    }
    for sequence in &policy.sequences {
        let steps: Vec<&Step> = sequence.steps.iter().collect();
        let duration = play.duration(&steps);
        play.times.sequences.push(duration);
    }
    play.times
}

struct Play<'a> {
    policy: &'a Policy,
    budget: Budget,
    times: Times,
}

impl<'a> Play<'a> {
    fn tally<M: Ord + Clone>(
        &mut self,
        steps: &[&Step],
        given: &Known,
        mode: M,
        count: impl Fn(&M, &Step) -> (M, u64),
    ) -> Option<Tally> {
        let tally = tally(steps, given, mode, &mut self.budget, count);
        self.times.gave_up |= tally.is_none();
        tally
    }

    fn duration(&mut self, steps: &[&Step]) -> Option<Duration> {
        let policy = self.policy;
        let untimed = steps.iter().filter(|step| written(policy, step).is_none()).count();
        let count = |(): &(), step: &Step| ((), seconds(policy, step));
        let all = tally(steps, &Known::new(), (), &mut self.budget, count)?;
        // Its own budget, so that what is told besides takes nothing away.
        let mut budget = Budget(MOST_PLAYED / 10);
        let mut is_longest =
            |given: &Known| tally(steps, given, (), &mut budget, count).map(|tally| tally.least >= all.most);
        let longest_when = if all.least < all.most { needed(&all.case, &mut is_longest) } else { Known::new() };
        Some(Duration { shortest: whole(all.least), longest: whole(all.most), longest_when, untimed })
    }

    fn level(&mut self, level: LevelId) {
        let policy = self.policy;
        let Some(limit) = policy.level(level).stay else { return };
        let script = Script::new(policy, level);
        let entries: Vec<_> = script
            .entries
            .iter()
            .filter_map(|entry| match *entry {
                Entry::Step(at, step) => Some(((at.sequence, at.step), step)),
                _ => None,
            })
            .collect();
        for who in goers(policy, &entries) {
            self.stay(level, who, limit, &entries);
        }
        for kit in &policy.level(level).kits {
            for worn in &kit.items {
                if let Some(runs_for) = policy.item(worn.item).runs_for {
                    let battery = Battery {
                        level,
                        who: kit.role,
                        item: worn.item,
                        runs_for,
                        stay: limit,
                        besides: Seconds(0),
                        case: Known::new(),
                    };
                    self.battery(battery, &entries);
                }
            }
        }
    }

    fn stay(&mut self, level: LevelId, who: RoleId, limit: Seconds, entries: &[((SequenceId, usize), &Step)]) {
        let policy = self.policy;
        let steps: Vec<&Step> = entries.iter().map(|(_, step)| *step).collect();
        let count = |inside: &bool, step: &Step| match step.act {
            Act::Go(place) if step.actor == who => (is_contaminated(policy, place), 0),
            _ => (*inside, if *inside && concerns(step, who) { seconds(policy, step) } else { 0 }),
        };
        let Some(tally) = self.tally(&steps, &Known::new(), false, count) else { return };
        if tally.most <= u64::from(limit.0) {
            return;
        }
        let most = u64::from(limit.0);
        let mut is_over = |given: &Known| self.tally(&steps, given, false, count).map(|tally| tally.least > most);
        let case = needed(&tally.case, &mut is_over);
        let longest = entries
            .iter()
            .filter(|(_, step)| concerns(step, who))
            .skip_while(|(_, step)| !matches!(step.act, Act::Go(place) if is_contaminated(policy, place)))
            .find(|(_, step)| !matches!(step.act, Act::Go(_)) && written(policy, step).is_some());
        if let Some(&(at, _)) = longest {
            self.times.stays.push(Stay { level, who, at, takes: whole(tally.most), limit, case });
        }
    }

    fn battery(&mut self, battery: Battery, entries: &[((SequenceId, usize), &Step)]) {
        let (policy, who, item) = (self.policy, battery.who, battery.item);
        let steps: Vec<&Step> = entries.iter().map(|(_, step)| *step).collect();
        let own = Target::Item { item, wearer: who };
        let switched = steps.iter().any(|step| step.act == Act::SwitchOn(own));
        let count = |&(runs, inside): &(bool, bool), step: &Step| {
            let here = if runs && !inside && concerns(step, who) { seconds(policy, step) } else { 0 };
            let mode = match &step.act {
                Act::Go(place) if step.actor == who => (runs, is_contaminated(policy, *place)),
                Act::SwitchOn(target) if *target == own => (true, inside),
                Act::SwitchOff(target) if *target == own => (false, inside),
                Act::PutOn { wearer, item: on, .. } if (*wearer, *on) == (who, item) => (runs || !switched, inside),
                Act::TakeOff { wearer, item: off, together_with, .. } if *wearer == who => {
                    (runs && *off != item && !together_with.contains(&item), inside)
                }
                _ => (runs, inside),
            };
            (mode, here)
        };
        let lasts = battery.runs_for.0.saturating_sub(RESERVE.0);
        let spare = u64::from(lasts.saturating_sub(battery.stay.0));
        let Some(tally) = self.tally(&steps, &Known::new(), (false, false), count) else { return };
        if battery.stay.0 > lasts {
            self.times.batteries.push(Battery { besides: whole(tally.most), ..battery });
        } else if tally.most > spare {
            let mut runs_out =
                |given: &Known| self.tally(&steps, given, (false, false), count).map(|tally| tally.least > spare);
            let case = needed(&tally.case, &mut runs_out);
            self.times.batteries.push(Battery { besides: whole(tally.most), case, ..battery });
        }
    }
}

fn seconds(policy: &Policy, step: &Step) -> u64 {
    written(policy, step).map_or(0, |time| u64::from(time.0))
}

fn whole(seconds: u64) -> Seconds {
    Seconds(u32::try_from(seconds).unwrap_or(u32::MAX))
}

fn is_contaminated(policy: &Policy, place: crate::policy::PlaceId) -> bool {
    policy.place(place).kind == PlaceKind::Contaminated
}

/// Who is sent to a contaminated place.
fn goers(policy: &Policy, entries: &[((SequenceId, usize), &Step)]) -> Vec<RoleId> {
    let goes = |step: &Step| matches!(step.act, Act::Go(place) if is_contaminated(policy, place));
    let mut goers: Vec<RoleId> = entries.iter().filter(|(_, step)| goes(step)).map(|(_, step)| step.actor).collect();
    goers.sort();
    goers.dedup();
    goers
}

/// A step that somebody does, or that is done to them or to what they wear. While others do something else, time passes
/// for them too; but nothing says that they wait for it.
fn concerns(step: &Step, who: RoleId) -> bool {
    let target = match &step.act {
        Act::Wipe { target, .. } | Act::Spray { target, .. } | Act::Check(target) => Some(target),
        _ => None,
    };
    let is_theirs = target.is_some_and(|target| match target {
        Target::Item { wearer, .. } => *wearer == who,
        Target::Person(person) => *person == who,
        _ => false,
    });
    step.actor == who || wearer_of(&step.act) == Some(who) || is_theirs
}
