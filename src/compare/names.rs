//! Names that one edition has in place of another's, so that a rename is one change and not fifty.
//!
//! In: two policies. Out: the renames, and the old policy with the new names. Must never take a thing for another that does
//! something else: what bears the new name says most of what the old one said.

use super::change::{Named, Rename};
use super::entries::view;
use super::field::Field;
use super::likeness::likeness;
use super::matching::matched;
use super::view::{Entry, Kind, Line, View, Word};
use crate::policy::{Act, Event, FactKind, IfNot, Policy, SequenceId, Step};

/// Kinds whose entries bear names that other lines use; what others are named by comes before them.
const NAMED: [Kind; 12] = [
    Kind::Hazard,
    Kind::Place,
    Kind::Role,
    Kind::Container,
    Kind::Cleaner,
    Kind::Surface,
    Kind::Item,
    Kind::Level,
    Kind::Question,
    Kind::Source,
    Kind::Sequence,
    Kind::Contingency,
];

/// Old and new names that are held against each other. Who renames more than fifty things of a kind wrote another policy.
const MOST_PAIRS: usize = 2_500;

/// How much of what the old one says the new one has to say.
const ALIKE: f64 = 0.6;

/// The old policy in the names of the new one, and what was renamed.
pub fn renamed(old: &Policy, new: &View) -> (Policy, Vec<Rename>) {
    let mut policy = old.clone();
    let mut renames = Vec::new();
    let mut before = view(&policy);
    for kind in NAMED {
        let found = renamed_of(kind, &before, new);
        if found.is_empty() {
            continue;
        }
        for (from, to) in found {
            put(&mut policy, kind, &from, &to.shown);
            renames.push(Rename { of: Named::Entry(kind), from, to });
        }
        before = view(&policy);
    }
    for at in 0..policy.sequences.len() {
        titles_within(&mut policy, at, new, &mut renames);
    }
    (policy, renames)
}

/// Names that are gone, each with the new name that is most like it; a name is taken once.
fn renamed_of(kind: Kind, old: &View, new: &View) -> Vec<(Word, Word)> {
    let gone: Vec<&Entry> = old.of(kind).filter(|entry| new.entry(kind, &entry.name.key).is_none()).collect();
    let come: Vec<&Entry> = new.of(kind).filter(|entry| old.entry(kind, &entry.name.key).is_none()).collect();
    if gone.is_empty() || come.is_empty() || gone.len() * come.len() > MOST_PAIRS {
        return Vec::new();
    }
    let alone = gone.len() == 1 && come.len() == 1;
    let mut pairs: Vec<(f64, usize, usize)> = Vec::new();
    for (from, before) in gone.iter().enumerate() {
        for (to, after) in come.iter().enumerate() {
            let alike = alikeness(before, after, alone);
            if alike >= ALIKE {
                pairs.push((alike, from, to));
            }
        }
    }
    pairs.sort_by(|a, b| b.0.total_cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut found: Vec<(usize, usize)> = Vec::new();
    for (_, from, to) in pairs {
        if !found.iter().any(|&(one, other)| one == from || other == to) {
            found.push((from, to));
        }
    }
    found.sort();
    found.into_iter().map(|(from, to)| (gone[from].name.clone(), come[to].name.clone())).collect()
}

fn alikeness(old: &Entry, new: &Entry, alone: bool) -> f64 {
    let names = likeness(&old.name.key, &new.name.key);
    let lines = || {
        let kept = matched(&old.lines, &new.lines).new_of.iter().flatten().count();
        2.0 * kept as f64 / (old.lines.len() + new.lines.len()).max(1) as f64
    };
    let said = || {
        let differ = old.fields.differences(&new.fields);
        let telling = |field: &Field| *field != Field::Printed;
        let fields = |entry: &Entry| entry.fields.iter().filter(|(field, _)| telling(field)).count();
        let differ = differ.iter().filter(|(field, ..)| telling(field)).count();
        let all = fields(old).max(fields(new)).max(1);
        1.0 - (differ as f64 / all as f64).min(1.0)
    };
    match old.kind {
        Kind::Sequence | Kind::Contingency => lines(),
        // What says little of itself is known by being the only one, or by its name.
        Kind::Place | Kind::Role | Kind::Hazard | Kind::Level | Kind::Surface | Kind::Container | Kind::Question => {
            if alone {
                said().max(names)
            } else {
                said() * (0.6 + 0.4 * names) - if names > 0.0 { 0.0 } else { 0.3 }
            }
        }
        _ => said() * 0.9 + names * 0.1 + if alone { 0.05 } else { 0.0 },
    }
}

/// Parts and holds of one sequence whose titles are new.
fn titles_within(policy: &mut Policy, at: usize, new: &View, renames: &mut Vec<Rename>) {
    let title = policy.sequences[at].title.clone();
    let Some(after) = new.of(Kind::Sequence).find(|entry| entry.name.key == title) else { return };
    let before = super::lines::of(policy, &policy.sequences[at].parts, &policy.sequences[at].steps);
    let matching = matched(&before, &after.lines);
    let titles = |lines: &[Line], heading: bool| -> Vec<Option<Word>> {
        let is = |line: &Line| if heading { line.is_heading() } else { line.is_hold() };
        lines.iter().map(|line| line.fields.one(Field::Object).filter(|_| is(line)).cloned()).collect()
    };
    for heading in [true, false] {
        let (olds, news) = (titles(&before, heading), titles(&after.lines, heading));
        let is_gone = |word: &Word| !news.iter().flatten().any(|other| other == word);
        let is_new = |word: &Word| !olds.iter().flatten().any(|other| other == word);
        for (line, word) in olds.iter().enumerate() {
            let Some(from) = word.as_ref().filter(|word| is_gone(word)) else { continue };
            let Some(to) = matching.new_of[line].and_then(|new| news[new].as_ref()).filter(|word| is_new(word)) else {
                continue;
            };
            retitle(policy, at, heading, &from.key, &to.key);
            let of = if heading { Named::Part(at) } else { Named::Hold(at) };
            renames.push(Rename { of, from: from.clone(), to: to.clone() });
        }
    }
}

fn retitle(policy: &mut Policy, at: usize, heading: bool, from: &str, to: &str) {
    let sequence = &mut policy.sequences[at];
    let swap = |title: &mut String| {
        if title == from {
            to.clone_into(title);
        }
    };
    if heading {
        sequence.parts.iter_mut().for_each(|part| swap(&mut part.title));
    }
    for step in &mut sequence.steps {
        if let Act::Hold(hold) = &mut step.act {
            if !heading {
                swap(&mut hold.title);
            }
            if let Some(IfNot::GoBack { title, .. }) = &mut hold.if_not {
                swap(title);
            }
        }
    }
    policy.exceptions.iter_mut().for_each(|exception| swap(&mut exception.at));
}

/// Gives a thing another name, everywhere.
fn put(policy: &mut Policy, kind: Kind, from: &Word, to: &str) {
    let is = |name: &str| Word::name(name) == *from;
    match kind {
        Kind::Hazard => {
            policy.hazards.iter_mut().filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name))
        }
        Kind::Place => {
            policy.places.iter_mut().filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name))
        }
        Kind::Role => {
            policy.roles.iter_mut().filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name))
        }
        Kind::Surface => {
            policy.surfaces.iter_mut().filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name))
        }
        Kind::Level => {
            policy.levels.iter_mut().filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name));
            policy.exceptions.iter_mut().filter(|each| is(&each.at)).for_each(|each| to.clone_into(&mut each.at));
        }
        Kind::Source => {
            policy.citations.iter_mut().filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name))
        }
        Kind::Container => policy
            .containers
            .iter_mut()
            .filter(|each| is(&each.name))
            .for_each(|each| set(&mut each.name, &mut each.printed, to)),
        Kind::Cleaner => policy
            .cleaners
            .iter_mut()
            .filter(|each| is(&each.name))
            .for_each(|each| set(&mut each.name, &mut each.printed, to)),
        Kind::Item => policy
            .items
            .iter_mut()
            .filter(|each| is(&each.name))
            .for_each(|each| set(&mut each.name, &mut each.printed, to)),
        Kind::Question => {
            let questions = policy.choice.iter_mut().flat_map(|choice| &mut choice.questions);
            questions.filter(|each| is(&each.name)).for_each(|each| to.clone_into(&mut each.name));
        }
        Kind::Sequence => title_sequence(policy, &from.key, to),
        Kind::Contingency => {
            policy
                .contingencies
                .iter_mut()
                .filter(|each| each.title == from.key)
                .for_each(|each| to.clone_into(&mut each.title));
            policy
                .exceptions
                .iter_mut()
                .filter(|each| each.at == from.key)
                .for_each(|each| to.clone_into(&mut each.at));
        }
        _ => {}
    }
    let is_spoken_of =
        matches!(kind, Kind::Item | Kind::Role | Kind::Surface | Kind::Container | Kind::Place | Kind::Question);
    if is_spoken_of {
        spoken_of(policy, &from.key, to);
    }
}

/// The printed words follow the name where they are the name.
fn set(name: &mut String, printed: &mut String, to: &str) {
    if name == printed {
        to.clone_into(printed);
    }
    to.clone_into(name);
}

fn title_sequence(policy: &mut Policy, from: &str, to: &str) {
    policy.sequences.iter_mut().filter(|each| each.title == from).for_each(|each| to.clone_into(&mut each.title));
    policy.exceptions.iter_mut().filter(|each| each.at == from).for_each(|each| to.clone_into(&mut each.at));
    let Some(renamed) = policy.sequences.iter().position(|each| each.title == to).map(SequenceId::new) else { return };
    let drills = policy.contingencies.iter_mut().flat_map(|drill| &mut drill.steps);
    let steps = policy.sequences.iter_mut().flat_map(|sequence| &mut sequence.steps).chain(drills);
    for Step { act, .. } in steps {
        let Act::Hold(hold) = act else { continue };
        match &mut hold.if_not {
            Some(IfNot::GoBack { title, .. }) if title == from => to.clone_into(title),
            Some(IfNot::Start { title, sequence }) if *sequence == renamed => to.clone_into(title),
            _ => {}
        }
    }
}

/// Facts, events and wishes say names within their own words.
fn spoken_of(policy: &mut Policy, from: &str, to: &str) {
    for fact in &mut policy.facts {
        fact.words = within(&fact.words, from, to);
        if let FactKind::Found { subject, .. } = &mut fact.kind {
            *subject = within(subject, from, to);
        }
    }
    for drill in &mut policy.contingencies {
        let Event { words, .. } = &mut drill.event;
        *words = within(words, from, to);
    }
    for wish in policy.levels.iter_mut().flat_map(|level| &mut level.wishes) {
        wish.words = within(&wish.words, from, to);
    }
}

/// `from` where it stands as whole words.
fn within(words: &str, from: &str, to: &str) -> String {
    let folded = Word::name(words).key;
    let (all, wanted): (Vec<&str>, Vec<&str>) = (folded.split(' ').collect(), from.split(' ').collect());
    let Some(at) = all.windows(wanted.len().max(1)).position(|window| window == wanted) else {
        return words.to_owned();
    };
    let to = Word::name(to).key;
    let renamed: Vec<&str> =
        all[..at].iter().copied().chain([to.as_str()]).chain(all[at + wanted.len()..].iter().copied()).collect();
    renamed.join(" ")
}
