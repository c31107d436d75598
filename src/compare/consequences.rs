//! What the new edition does to people's protection: findings, margins, levels given, times and kit, before and after.
//!
//! In: both editions as checked, and which line is which. Out: [`Consequences`]. Must never take a figure of a level with lines
//! that are not understood for a true one.

use std::collections::BTreeMap;

use serde::Serialize;

use super::change::{Named, Rename, Weight};
use super::choosing::{Chosen, chosen};
use super::differences::Pair;
use super::view::{Kind, Word};
use crate::aids::for_one_entry;
use crate::findings::{Finding, Signal};
use crate::policy::{LevelId, Part as Heading, Policy, Step};
use crate::session::{Approach, Checked, Part, Timing};
use crate::text::Span;
use crate::walk::telling::{case_words, chain_words};

#[derive(Clone, Debug, Serialize)]
pub struct Consequences {
    pub findings: Findings,
    /// Every person and area, changed ones first.
    pub approaches: Vec<Approached>,
    pub choice: Chosen,
    pub times: Vec<Timed>,
    pub kit: Vec<Counted>,
    /// What the figures do not speak of, each a sentence.
    pub not_looked_at: Vec<String>,
}

#[derive(Clone, Debug, Default, Serialize)]
pub struct Findings {
    pub new: Vec<Told>,
    pub gone: Vec<Told>,
    /// Told of both editions.
    pub unchanged: Vec<Told>,
    /// Open before, accepted by an exception now.
    pub newly_accepted: Vec<Told>,
    /// Accepted before, open now: the exception lapsed or was taken out.
    pub no_longer_accepted: Vec<Told>,
}

/// A finding, as it is told in a comparison.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Told {
    pub name: String,
    pub signal: Signal,
    pub title: String,
    pub message: String,
    pub line: String,
    pub case: Vec<String>,
    pub chain: Vec<String>,
    pub accepted: Option<String>,
}

/// The nearest approach to one surface of one person, in touches; none where the hazard does not reach it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Approached {
    pub level: String,
    pub who: String,
    pub reached: String,
    pub part: Part,
    /// As planned, after one slip, after two.
    pub before: [Option<u16>; 3],
    pub after: [Option<u16>; 3],
    pub weight: Weight,
    /// Where it is nearer than before: how the hazard comes there, and under which answers.
    pub chain: Vec<String>,
    pub case: Vec<String>,
}

/// One sequence: none where it is not in that edition or its time is not written.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Timed {
    pub sequence: String,
    pub before: Option<Range>,
    pub after: Option<Range>,
    pub read_aloud_before: Option<u32>,
    pub read_aloud_after: Option<u32>,
}

/// Shortest and longest, in seconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Range {
    pub shortest_seconds: u32,
    pub longest_seconds: u32,
}

/// How many of one item one entry takes.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Counted {
    pub level: String,
    pub role: String,
    pub item: String,
    pub before: usize,
    pub after: usize,
}

pub struct Editions<'a> {
    pub old: &'a Checked,
    pub new: &'a Checked,
    /// The old policy in the names of the new.
    pub renamed: &'a Policy,
    pub renames: &'a [Rename],
}

pub fn consequences(editions: &Editions, pairs: &[Pair]) -> Consequences {
    Consequences {
        findings: findings(editions, pairs),
        approaches: approaches(editions),
        choice: chosen(editions.renamed, &editions.new.reading.policy),
        times: times(editions),
        kit: kit(editions),
        not_looked_at: not_looked_at(editions),
    }
}

impl Editions<'_> {
    /// A name of the old edition as the new one has it.
    fn now(&self, kind: Kind, name: &str) -> String {
        let word = Word::name(name);
        let found = self
            .renames
            .iter()
            .find(|rename| rename.of == Named::Entry(kind) && Word::name(&rename.from.shown) == word);
        found.map_or_else(|| name.to_owned(), |rename| rename.to.shown.clone())
    }
}

/// Where findings lie: the sequence or contingency by its title, and the line.
struct Places {
    starts: BTreeMap<Span, (Kind, String, usize)>,
}

impl Places {
    fn of(policy: &Policy, places_of: &Policy) -> Places {
        let mut starts = BTreeMap::new();
        let mut add = |kind, title: &str, parts: &[Heading], steps: &[Step]| {
            for (at, step) in steps.iter().enumerate() {
                let line = at + parts.iter().filter(|part| part.first <= at).count();
                starts.insert(step.span, (kind, title.to_owned(), line));
            }
        };
        for (sequence, named) in policy.sequences.iter().zip(&places_of.sequences) {
            add(Kind::Sequence, &named.title, &sequence.parts, &sequence.steps);
        }
        for (drill, named) in policy.contingencies.iter().zip(&places_of.contingencies) {
            add(Kind::Contingency, &named.title, &[], &drill.steps);
        }
        Places { starts }
    }

    fn of_finding(&self, finding: &Finding) -> Option<&(Kind, String, usize)> {
        self.starts.get(&finding.span)
    }
}

fn findings(editions: &Editions, pairs: &[Pair]) -> Findings {
    let (old, new) = (&editions.old.findings, &editions.new.findings);
    let before = Places::of(&editions.old.reading.policy, editions.renamed);
    let after = Places::of(&editions.new.reading.policy, &editions.new.reading.policy);
    // The old line where the new edition has it.
    let moved_to = |finding: &Finding| -> Option<(Kind, String, usize)> {
        let (kind, title, line) = before.of_finding(finding)?;
        let pair = pairs.iter().find(|pair| pair.new.kind == *kind && pair.new.name.key == *title)?;
        Some((*kind, title.clone(), pair.matching.new_of.get(*line).copied().flatten()?))
    };
    let at_old: Vec<_> = old.iter().map(moved_to).collect();
    let at_new: Vec<_> = new.iter().map(|finding| after.of_finding(finding).cloned()).collect();
    let mut of_new: Vec<Option<usize>> = vec![None; new.len()];
    let mut taken = vec![false; old.len()];
    // First what is the same in every way, then what is at the same line, then what is called the same.
    type Same<'a> = Box<dyn Fn(usize, usize) -> bool + 'a>;
    let same_line = |o: usize, n: usize| at_old[o].is_some() && at_old[o] == at_new[n];
    let passes: [Same; 4] = [
        Box::new(|o, n| old[o].title == new[n].title && same_line(o, n) && old[o].case == new[n].case),
        Box::new(|o, n| old[o].title == new[n].title && (same_line(o, n) || old[o].sentence == new[n].sentence)),
        Box::new(same_line),
        Box::new(|o, n| old[o].title == new[n].title),
    ];
    for same in &passes {
        for n in 0..new.len() {
            let is_same =
                |&o: &usize| !taken[o] && old[o].name == new[n].name && old[o].signal == new[n].signal && same(o, n);
            if of_new[n].is_none()
                && let Some(o) = (0..old.len()).find(is_same)
            {
                of_new[n] = Some(o);
                taken[o] = true;
            }
        }
    }
    let mut found = Findings::default();
    for (finding, before) in new.iter().zip(&of_new) {
        let was_accepted = before.map(|at| old[at].accepted.is_some());
        match (was_accepted, finding.accepted.is_some()) {
            (None, _) => found.new.push(told(finding)),
            (Some(false), true) => found.newly_accepted.push(told(finding)),
            (Some(true), false) => found.no_longer_accepted.push(told(finding)),
            _ => found.unchanged.push(told(finding)),
        }
    }
    found.gone = old.iter().zip(&taken).filter(|(_, taken)| !**taken).map(|(finding, _)| told(finding)).collect();
    for list in [&mut found.new, &mut found.gone, &mut found.unchanged] {
        list.sort_by_key(|told| told.signal);
    }
    found
}

fn told(finding: &Finding) -> Told {
    Told {
        name: finding.name.to_string(),
        signal: finding.signal,
        title: finding.title.clone(),
        message: finding.message.clone(),
        line: finding.sentence.trim().to_owned(),
        case: finding.case.clone(),
        chain: finding.chain.clone(),
        accepted: finding.accepted.clone(),
    }
}

fn approaches(editions: &Editions) -> Vec<Approached> {
    let key = |approach: &Approach| {
        (
            editions.now(Kind::Level, &approach.level),
            editions.now(Kind::Role, &approach.who),
            editions.now(Kind::Item, &approach.reached),
        )
    };
    let (old, new) = (&editions.old.examined.approaches, &editions.new.examined.approaches);
    let old: Vec<_> = old.iter().map(|approach| (key(approach), approach)).collect();
    let own = |approach: &Approach| (approach.level.clone(), approach.who.clone(), approach.reached.clone());
    let mut all = Vec::new();
    for approach in new {
        let before = old.iter().find(|(key, _)| *key == own(approach)).map_or([None; 3], |(_, known)| known.touches);
        all.push(approached(editions, own(approach), approach.part, before, approach.touches));
    }
    for ((level, who, reached), approach) in &old {
        if !new.iter().any(|now| own(now) == (level.clone(), who.clone(), reached.clone())) {
            let key = (level.clone(), who.clone(), reached.clone());
            all.push(approached(editions, key, approach.part, approach.touches, [None; 3]));
        }
    }
    // A level that is in one edition only has no before and after.
    let is_in =
        |policy: &Policy, level: &str| policy.levels.iter().any(|each| Word::name(&each.name) == Word::name(level));
    all.retain(|approach| {
        is_in(editions.renamed, &approach.level) && is_in(&editions.new.reading.policy, &approach.level)
    });
    all.sort_by_key(|approach| approach.weight);
    all
}

fn approached(
    editions: &Editions,
    (level, who, reached): (String, String, String),
    part: Part,
    before: [Option<u16>; 3],
    after: [Option<u16>; 3],
) -> Approached {
    let far = |touches: Option<u16>| touches.map_or(u32::MAX, u32::from);
    let nearer = (0..3).find(|&slips| far(after[slips]) < far(before[slips]));
    let farther = (0..3).any(|slips| far(after[slips]) > far(before[slips]));
    let weight = match (nearer, farther) {
        (Some(_), _) => Weight::Weakens,
        (None, true) => Weight::Strengthens,
        (None, false) => Weight::Editorial,
    };
    let (chain, case) = nearer.and_then(|slips| chain(editions.new, &level, &who, &reached, slips)).unwrap_or_default();
    Approached { level, who, reached, part, before, after, weight, chain, case }
}

/// How the hazard comes to a surface after at most so many slips, and under which answers.
fn chain(checked: &Checked, level: &str, who: &str, reached: &str, slips: usize) -> Option<(Vec<String>, Vec<String>)> {
    let policy = &checked.reading.policy;
    let run = checked.walk.runs.iter().find(|run| policy.level(run.level).name == level)?;
    let is_it = |surface| {
        let told = crate::session::reached(policy, surface);
        told.is_some_and(|(person, area, _)| person == who && area == reached)
    };
    let those = run.nearest.iter().filter(|nearest| nearest.slips <= slips && is_it(nearest.surface));
    let nearest = those.min_by_key(|nearest| (nearest.distance, nearest.slips))?;
    Some((chain_words(policy, run, nearest.step, &nearest.chain), case_words(policy, &nearest.case)))
}

fn times(editions: &Editions) -> Vec<Timed> {
    let title = |timing: &Timing| editions.now(Kind::Sequence, &timing.sequence);
    let (old, new) = (&editions.old.examined.timings, &editions.new.examined.timings);
    let span = |timing: &Timing| {
        let (shortest, longest) = (timing.shortest_seconds?.0, timing.longest_seconds?.0);
        (longest > 0).then_some(Range { shortest_seconds: shortest, longest_seconds: longest })
    };
    let told = |before: Option<&Timing>, after: Option<&Timing>, sequence: String| Timed {
        sequence,
        before: before.and_then(span),
        after: after.and_then(span),
        read_aloud_before: before.and_then(|timing| Some(timing.read_aloud_seconds?.0)),
        read_aloud_after: after.and_then(|timing| Some(timing.read_aloud_seconds?.0)),
    };
    let mut all: Vec<Timed> = new
        .iter()
        .map(|now| told(old.iter().find(|then| title(then) == now.sequence), Some(now), now.sequence.clone()))
        .collect();
    let gone = old.iter().filter(|then| !new.iter().any(|now| title(then) == now.sequence));
    all.extend(gone.map(|then| told(Some(then), None, then.sequence.clone())));
    all
}

fn kit(editions: &Editions) -> Vec<Counted> {
    let count = |policy: &Policy| {
        let mut counts: Vec<([String; 3], usize)> = Vec::new();
        for level in (0..policy.levels.len()).map(LevelId::new) {
            for (role, item, number) in for_one_entry(policy, level) {
                let names = [&policy.level(level).name, &policy.role(role).name, &policy.item(item).name];
                counts.push((names.map(|name| name.to_owned()), number));
            }
        }
        counts
    };
    let (before, after) = (count(editions.renamed), count(&editions.new.reading.policy));
    let alike =
        |one: &[String; 3], other: &[String; 3]| one.iter().zip(other).all(|(a, b)| Word::name(a) == Word::name(b));
    let find = |counts: &[([String; 3], usize)], names: &[String; 3]| {
        counts.iter().find(|(known, _)| alike(known, names)).map_or(0, |(_, number)| *number)
    };
    let gone = before.iter().filter(|(names, _)| !after.iter().any(|(known, _)| alike(known, names)));
    let all = after.iter().chain(gone).map(|(names, _)| {
        let [level, role, item] = names.clone();
        Counted { level, role, item, before: find(&before, names), after: find(&after, names) }
    });
    all.collect()
}

fn not_looked_at(editions: &Editions) -> Vec<String> {
    let mut told = Vec::new();
    for (edition, checked) in [("old", editions.old), ("new", editions.new)] {
        let policy = &checked.reading.policy;
        let unread = checked
            .findings
            .iter()
            .filter(|finding| finding.name.family == "reading" && finding.signal <= Signal::Warning);
        match unread.count() {
            0 => {}
            1 => told.push(format!("One place of the {edition} edition is not understood: no figure rests on it.")),
            many => told
                .push(format!("{many} places of the {edition} edition are not understood: no figure rests on them.")),
        }
        let gave_up =
            checked.walk.runs.iter().any(|run| run.gave_up || run.is_doubtful()) || checked.walk.times.gave_up;
        if gave_up {
            told.push(format!("The check of the {edition} edition did not come to its end."));
        }
        for level in &checked.examined.unfinished {
            told.push(format!("How near the hazard comes at {} in the {edition} edition.", policy.level(*level).name));
        }
    }
    if chosen(editions.renamed, &editions.new.reading.policy).gave_up {
        told.push("Which answers give another level: there are too many questions to go through.".to_owned());
    }
    told
}

impl Consequences {
    /// What each of them does to protection, as far as it differs.
    pub fn weights(&self) -> impl Iterator<Item = Weight> {
        let findings = &self.findings;
        let new = findings.new.iter().filter_map(Told::weight);
        let gone = findings.gone.iter().filter_map(Told::weight).map(Weight::mirrored);
        let nearer =
            self.approaches.iter().map(|approach| approach.weight).filter(|weight| *weight != Weight::Editorial);
        let lapsed = findings.no_longer_accepted.iter().map(|_| Weight::Strengthens);
        new.chain(gone).chain(nearer).chain(lapsed).chain(self.choice.combinations.iter().map(|each| each.weight))
    }
}

impl Told {
    /// What it does to protection that this is told of the new edition and was not of the old; none where it does nothing, and
    /// where an exception accepts it: the exception is a change of its own.
    pub fn weight(&self) -> Option<Weight> {
        let of_people = self.signal <= Signal::Caution && !self.name.starts_with("paper ");
        (of_people && self.accepted.is_none()).then_some(Weight::Weakens)
    }
}
