//! Who must act when an edition is replaced: what is printed anew and recalled, who is briefed and assessed again.
//!
//! In: both editions, their changes, and what is known of copies out and of translations. Out: [`Acting`]. Must never leave
//! out a copy that the register holds.

use std::collections::BTreeMap;

use serde::Serialize;

use super::change::{Change, Weight};
use super::consequences::{Consequences, Editions};
use super::field::Field;
use super::view::{Kind, Word};
use crate::aids;
use crate::aids::plan::Aid;
use crate::policy::{Act, Policy, Step};
use crate::press::register::Edition;
pub use crate::press::register::Register;

#[derive(Clone, Debug, Default, Serialize)]
pub struct Acting {
    pub aids: Vec<AidToPrint>,
    /// Copies of the old edition, or of earlier ones, that are still out; none where no register was given.
    pub copies: Option<Vec<Copies>>,
    pub roles: Vec<RoleToBrief>,
    /// Sequences of which a competence assessed on the old edition is to be assessed again.
    pub competences: Vec<String>,
    pub translations: Vec<TranslationStale>,
    /// Kit lists of which the number or kind of something differs.
    pub trolleys: Vec<Trolley>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct AidToPrint {
    /// `Observer card, Taking off`
    pub aid: String,
    pub state: AidState,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum AidState {
    /// It says something else than before.
    Changed,
    /// No edition before had it.
    New,
    /// The new edition does not print it: its copies come down and nothing takes their place.
    Gone,
    /// It says the same; only its edition and fingerprint are others.
    SameSteps,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Copies {
    pub aid: String,
    pub place: String,
    pub copies: Vec<String>,
    pub edition: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoleToBrief {
    pub role: String,
    /// The sequences and contingencies in which something changes for them.
    pub on: Vec<String>,
}

/// A word file beside the new edition.
#[derive(Clone, Debug)]
pub struct WordFileKnown {
    pub language: String,
    pub file: String,
    /// Of the edition that it translates.
    pub fingerprint: Option<String>,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TranslationStale {
    pub language: String,
    pub file: String,
}

#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Trolley {
    pub level: String,
    /// `suit: 2 before, 3 now`
    pub items: Vec<String>,
}

pub fn acting(
    editions: &Editions,
    changes: &[Change],
    consequences: &Consequences,
    register: Option<&Register>,
    words: &[WordFileKnown],
) -> Acting {
    let same = editions.old.fingerprint == editions.new.fingerprint;
    if same {
        return Acting::default();
    }
    Acting {
        aids: aids_to_print(editions),
        copies: register.map(|register| copies(editions, register)),
        roles: roles(editions, changes),
        competences: competences(changes),
        translations: stale(editions, words),
        trolleys: trolleys(editions, changes, consequences),
    }
}

fn aids_to_print(editions: &Editions) -> Vec<AidToPrint> {
    let (old, new) = (aids::plan(editions.old).aids, aids::plan(editions.new).aids);
    let says = |aid: &Aid| serde_json::to_value(&aid.body).unwrap_or_default();
    let name = |aid: &Aid| format!("{}, {}", aid.kind, aid.title);
    let is_same = |one: &Aid, other: &Aid| one.file == other.file;
    let mut all: Vec<AidToPrint> = new
        .iter()
        .map(|aid| {
            let before = old.iter().find(|before| is_same(before, aid));
            let state = match before {
                None => AidState::New,
                Some(before) if says(before) == says(aid) && before.title == aid.title => AidState::SameSteps,
                Some(_) => AidState::Changed,
            };
            AidToPrint { aid: name(aid), state }
        })
        .collect();
    let gone = old.iter().filter(|before| !new.iter().any(|aid| is_same(before, aid)));
    all.extend(gone.map(|aid| AidToPrint { aid: name(aid), state: AidState::Gone }));
    all.sort_by_key(|aid| aid.state);
    all
}

/// Copies by aid and place, in the order of the register.
fn copies(editions: &Editions, register: &Register) -> Vec<Copies> {
    let paper = &editions.new.reading.policy.paper;
    let edition = Edition {
        policy: paper.title.as_deref().unwrap_or_default(),
        site: paper.site.as_deref().unwrap_or_default(),
        number: paper.edition,
        fingerprint: &editions.new.fingerprint,
    };
    let mut all: Vec<Copies> = Vec::new();
    for line in register.recalled(&edition, std::slice::from_ref(&editions.old.fingerprint)) {
        let same =
            |known: &&mut Copies| known.aid == line.aid && known.place == line.place && known.edition == line.edition;
        match all.iter_mut().find(same) {
            Some(known) => known.copies.push(line.copy),
            None => {
                all.push(Copies { aid: line.aid, place: line.place, copies: vec![line.copy], edition: line.edition })
            }
        }
    }
    all
}

fn is_acted_on(change: &Change) -> bool {
    change.weight != Weight::Editorial
}

fn roles(editions: &Editions, changes: &[Change]) -> Vec<RoleToBrief> {
    let mut on: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    let policies = [editions.renamed, &editions.new.reading.policy];
    for change in changes.iter().filter(|change| is_acted_on(change)) {
        for (role, what) in concerned(&policies, change) {
            let told = on.entry(role).or_default();
            if !told.contains(&what) {
                told.push(what);
            }
        }
    }
    let new = &editions.new.reading.policy;
    on.into_iter().filter_map(|(role, on)| Some(RoleToBrief { role: new.roles.get(role)?.name.clone(), on })).collect()
}

/// The roles of the new edition that a change concerns, each with where.
fn concerned(policies: &[&Policy; 2], change: &Change) -> Vec<(usize, String)> {
    let new = policies[1];
    let place = |name: &str| new.roles.iter().position(|role| Word::name(&role.name) == Word::name(name));
    let ats = [change.before_at.as_ref(), change.after_at.as_ref()];
    if ats.iter().any(Option::is_some) {
        let mut all = Vec::new();
        for (policy, at) in policies.iter().zip(ats) {
            let Some(at) = at else { continue };
            let steps = steps_of(policy, &at.sequence);
            let step = steps.iter().find(|step| words(step) == at.words);
            let those = step.map_or(Vec::new(), |step| people(policy, step));
            all.extend(those.iter().filter_map(|name| Some((place(name)?, at.sequence.clone()))));
        }
        return all;
    }
    match change.kind {
        // Everybody who has a part in it.
        Kind::Sequence | Kind::Contingency => {
            let steps =
                policies.iter().flat_map(|policy| steps_of(policy, &change.of).iter().map(move |s| (*policy, s)));
            let names = steps.flat_map(|(policy, step)| people(policy, step));
            names.filter_map(|name| Some((place(&name)?, change.of.clone()))).collect()
        }
        Kind::Kit => {
            let who = change.of.split(" at ").next().unwrap_or_default();
            place(who).map(|role| (role, format!("the kit list of the {}", change.of))).into_iter().collect()
        }
        Kind::Paper | Kind::Source | Kind::Print | Kind::Exception => Vec::new(),
        kind => (0..new.roles.len()).map(|role| (role, format!("the {} “{}”", kind.word(), change.of))).collect(),
    }
}

fn words(step: &Step) -> String {
    step.words.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn steps_of<'p>(policy: &'p Policy, title: &str) -> &'p [Step] {
    let sequence = policy.sequences.iter().find(|each| each.title == title).map(|each| each.steps.as_slice());
    let drill = || policy.contingencies.iter().find(|each| each.title == title).map(|each| each.steps.as_slice());
    sequence.or_else(drill).unwrap_or_default()
}

/// Who acts, who is helped and who confirms.
fn people(policy: &Policy, step: &Step) -> Vec<String> {
    let mut roles = vec![step.actor];
    match &step.act {
        Act::Hold(hold) => roles = hold.confirms.iter().map(|(who, _)| *who).collect(),
        Act::PutOn { wearer, .. }
        | Act::TakeOff { wearer, .. }
        | Act::PullUp { wearer, .. }
        | Act::Change { wearer, .. } => {
            roles.push(*wearer);
        }
        _ => {}
    }
    roles.sort();
    roles.dedup();
    roles.into_iter().map(|id| policy.role(id).name.clone()).collect()
}

fn competences(changes: &[Change]) -> Vec<String> {
    let mut titles = Vec::new();
    for change in changes.iter().filter(|change| is_acted_on(change)) {
        let at = change.at().map(|at| at.sequence.clone());
        let whole = (change.kind == Kind::Sequence && change.what != super::What::TakenOut).then(|| change.of.clone());
        titles.extend(at.or(whole).filter(|title| !titles.contains(title)));
    }
    titles
}

fn stale(editions: &Editions, words: &[WordFileKnown]) -> Vec<TranslationStale> {
    let is_stale = |known: &&WordFileKnown| known.fingerprint.as_deref() != Some(editions.new.fingerprint.as_str());
    let stale = words.iter().filter(is_stale);
    stale.map(|known| TranslationStale { language: known.language.clone(), file: known.file.clone() }).collect()
}

fn trolleys(editions: &Editions, changes: &[Change], consequences: &Consequences) -> Vec<Trolley> {
    let mut all: Vec<Trolley> = Vec::new();
    let mut add = |level: &str, item: String| match all.iter_mut().find(|trolley| trolley.level == level) {
        Some(trolley) => trolley.items.push(item),
        None => all.push(Trolley { level: level.to_owned(), items: vec![item] }),
    };
    for counted in consequences.kit.iter().filter(|counted| counted.before != counted.after) {
        let told =
            format!("{}, for the {}: {} before, {} now", counted.item, counted.role, counted.before, counted.after);
        add(&counted.level, told);
    }
    let tells = |change: &&Change| {
        change.kind == Kind::Item
            && matches!(change.field, Some(Field::Printed | Field::Meets | Field::Sizes | Field::SingleUse))
    };
    let new = &editions.new.reading.policy;
    for change in changes.iter().filter(tells) {
        for level in &new.levels {
            let mut worn = level.kits.iter().flat_map(|kit| &kit.items);
            if worn.any(|worn| Word::name(&new.item(worn.item).name) == Word::name(&change.of)) {
                add(&level.name, format!("{}: another one than before", change.of));
            }
        }
    }
    all
}
