//! Who must act when an edition is replaced: what is printed anew and recalled, who is briefed and assessed again.
//!
//! In: both editions, their changes, and what is known of copies out and of translations. Out: [`Acting`]. Must never leave
//! out a copy that the register holds.

use serde::Serialize;

use super::change::{At, Change, Weight, What};
use super::consequences::{Consequences, Editions};
use super::field::Field;
use super::view::{Kind, Line, View, Word};
use crate::aids;
use crate::aids::plan::Aid;
use crate::overview::Words;
use crate::press::register::Edition;
pub use crate::press::register::Register;

#[derive(Clone, Debug, Default, Serialize)]
pub struct Acting {
    pub aids: Vec<AidToPrint>,
    /// Copies of the old edition, or of earlier ones, that are still out; none where no register was given.
    pub copies: Option<Vec<Copies>>,
    pub roles: Vec<RoleToBrief>,
    /// Sequences and contingencies of which a competence assessed on the old edition is to be assessed again.
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
    views: (&View, &View),
    changes: &[Change],
    consequences: &Consequences,
    register: Option<&Register>,
    words: &[Words],
) -> Acting {
    let same = editions.old.fingerprint == editions.new.fingerprint;
    if same {
        return Acting::default();
    }
    Acting {
        aids: aids_to_print(editions),
        copies: register.map(|register| copies(editions, register)),
        roles: roles(views, changes),
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

fn roles((before, after): (&View, &View), changes: &[Change]) -> Vec<RoleToBrief> {
    let mut on: Vec<RoleToBrief> = Vec::new();
    for change in changes.iter().filter(|change| is_acted_on(change)) {
        for (role, what) in concerned((before, after), change) {
            match on.iter_mut().find(|known| known.role == role) {
                Some(known) if known.on.contains(&what) => {}
                Some(known) => known.on.push(what),
                None => on.push(RoleToBrief { role, on: vec![what] }),
            }
        }
    }
    // In the order of the policy; who is no longer in it has nobody to be briefed.
    let order: Vec<&str> = after.of(Kind::Role).map(|role| role.name.key.as_str()).chain(["wearer"]).collect();
    let place = |role: &str| order.iter().position(|known| *known == Word::name(role).key);
    on.retain(|told| place(&told.role).is_some());
    on.sort_by_key(|told| place(&told.role));
    on
}

/// The people whom a change concerns, each with where.
fn concerned((before, after): (&View, &View), change: &Change) -> Vec<(String, String)> {
    let quoted = |title: &str| format!("“{title}”");
    let ats = [(before, change.before_at.as_ref()), (after, change.after_at.as_ref())];
    if ats.iter().any(|(_, at)| at.is_some()) {
        let lines = ats.iter().filter_map(|(view, at)| Some((line(view, (*at)?)?, (*at)?)));
        return lines.flat_map(|(line, at)| people(line).into_iter().map(|who| (who, quoted(&at.sequence)))).collect();
    }
    let what = match change.kind {
        Kind::Sequence | Kind::Contingency => quoted(&change.of),
        kind => format!("the {} “{}”", kind.word(), change.of),
    };
    match change.kind {
        // Everybody who has a part in it.
        Kind::Sequence | Kind::Contingency => {
            let key = Word::text(change.of.clone()).key;
            let entries = [before, after].into_iter().filter_map(|view| view.entry(change.kind, &key));
            entries.flat_map(|entry| &entry.lines).flat_map(people).map(|who| (who, what.clone())).collect()
        }
        Kind::Kit => {
            let who = change.of.split(" at ").next().unwrap_or_default();
            vec![(who.to_owned(), format!("the kit list of the {}", change.of))]
        }
        Kind::Item | Kind::Cleaner | Kind::Container | Kind::Surface | Kind::Place | Kind::Role => {
            let name = Word::name(&change.of).key;
            let lines = after.entries.iter().flat_map(|entry| &entry.lines).filter(|line| speaks_of(line, &name));
            lines.flat_map(people).map(|who| (who, what.clone())).collect()
        }
        Kind::Level if change.field == Some(Field::Stay) => vec![("wearer".to_owned(), what)],
        // Margins and house rules are the check's; answers are whoever's decides.
        _ => Vec::new(),
    }
}

fn line<'v>(view: &'v View, at: &At) -> Option<&'v Line> {
    let told = view.entries.iter().filter(|entry| matches!(entry.kind, Kind::Sequence | Kind::Contingency));
    told.into_iter().find(|entry| entry.name.shown == at.sequence)?.lines.get(at.line)
}

fn speaks_of(line: &Line, name: &str) -> bool {
    let is = |key: &str| key == name || key.strip_prefix("into ").or(key.strip_prefix("onto ")) == Some(name);
    line.fields.iter().any(|(_, value)| value.iter().any(|word| is(&word.key)))
}

/// Who acts, who is helped and who confirms.
fn people(line: &Line) -> Vec<String> {
    let acting = [Field::Actor, Field::Wearer].into_iter().filter_map(|field| line.fields.one(field));
    let acting = acting.map(|word| word.shown.clone());
    let confirming = line.fields.get(Field::Confirms).iter();
    let confirming = confirming.filter_map(|word| Some(word.shown.split_once(": ")?.0.to_owned()));
    acting.chain(confirming).collect()
}

fn competences(changes: &[Change]) -> Vec<String> {
    let mut titles = Vec::new();
    for change in changes.iter().filter(|change| is_acted_on(change)) {
        let at = change.at().map(|at| at.sequence.clone());
        let is_whole = matches!(change.kind, Kind::Sequence | Kind::Contingency)
            && !matches!(change.what, What::TakenOut | What::Renamed);
        let whole = is_whole.then(|| change.of.clone());
        titles.extend(at.or(whole).filter(|title| !titles.contains(title)));
    }
    titles
}

fn stale(editions: &Editions, words: &[Words]) -> Vec<TranslationStale> {
    let is_stale = |words: &&Words| match &words.read {
        Ok(file) => file.fingerprint.as_deref() != Some(editions.new.fingerprint.as_str()),
        Err(_) => true,
    };
    let told = |words: &Words| TranslationStale { language: words.language.clone(), file: words.file.clone() };
    words.iter().filter(is_stale).map(told).collect()
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
            && is_acted_on(change)
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
