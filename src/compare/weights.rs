//! What a change does to people's protection, by rules that each bear a name.
//!
//! In: a difference and both policies. Out: its weight and the rule that gave it. Must never call a change editorial that
//! somebody acts on, and weighs the same change seen from the other side the other way round.

use serde::Serialize;

use super::change::{Weight, What};
use super::differences::{Difference, confirming};
use super::field::Field;
use super::likeness::same_words;
use super::lines;
use super::view::{Kind, Word};
use crate::policy::{Cleaner, Policy, Role};
use crate::syntax::MONTHS;

/// Why a change weighs what it does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct WeightRule {
    pub name: &'static str,
    /// A sentence.
    pub says: &'static str,
}

macro_rules! rules {
    ($($id:ident: $name:literal, $says:literal;)*) => {
        $(const $id: WeightRule = WeightRule { name: $name, says: $says };)*
        /// Every rule, for readers and for tests.
        pub const ALL: &[WeightRule] = &[$($id,)*];
    };
}

rules! {
    HOLD: "hold point", "A hold point lets nobody go on before it is confirmed.";
    CONFIRMATION: "confirmation", "What is confirmed at a hold point is looked at by somebody.";
    WAY_OUT: "hold way out", "A hold point that fails needs a way out.";
    HANDS: "hand cleaning", "Clean hands break the chain between one touch and the next.";
    CLEANING: "cleaning", "Cleaning takes the hazard off what is touched next.";
    CHECK: "check", "A check finds a fault while it can still be put right.";
    KIT_STEP: "kit step", "Kit that nobody puts on covers nobody.";
    SEQUENCE: "procedure", "A procedure that is not written is not followed.";
    WATCHER: "watcher", "Somebody who watches and touches nothing sees what the wearer cannot.";
    CONTINGENCY: "event drill", "People follow a drill when something goes wrong.";
    CAUTION: "caution", "Words of caution, and what to look for and to stop at, keep a hand from the wrong place.";
    CONDITION: "condition", "A protective step that is done only in some cases is left out in the others.";
    STRENGTH: "strength", "A weaker solution, or a shorter wet time, kills less.";
    TIME: "cleaning time", "Cleaning that is cut short cleans less.";
    CLEANER: "cleaner", "A weaker cleaner leaves more of the hazard behind.";
    STAY: "longest stay", "The longer the stay, the more the hazard gets to the kit.";
    RUNNING: "running time", "A blower that runs for less time leaves less room for delay.";
    COVERAGE: "coverage", "Skin that is not covered is bare.";
    MARGIN: "margin", "A margin says how near the hazard may come.";
    KIT: "kit list", "What is not on the list is not worn.";
    LEVEL: "level", "A level says who wears what against which hazard.";
    HAZARD: "hazard met", "A level is checked against the hazards and routes that it names.";
    ASSUMPTION: "assumption", "The check takes as contaminated what the level says.";
    WISH: "house rule", "A rule of the house is checked only where a level asks for it.";
    QUALITY: "quality", "Standards, fit tests and single use say what the kit can be trusted with.";
    ACCEPTED: "accepted finding", "A finding that is accepted does not stop anybody.";
    AID: "aid", "People follow the aids that hang and lie where they work.";
    PRINTING: "printing", "Paper, copies and film change no step.";
    APPROVAL: "approval", "Two who sign see more than one.";
    PAPER: "document control", "Titles, dates and names change no step.";
    SOURCE: "reason", "Reasons and sources are read, not acted on.";
    HEADING: "heading", "A heading changes no step.";
    SAME_WORDS: "same words", "The words are the same but for signs, case or articles.";
    WORDS: "other words", "People read and hear other words; the program cannot judge what they mean.";
    NAME: "name", "People read another name on every aid.";
    ORDER: "order", "The order of steps is what people learn.";
    CHOICE: "choice of level", "Other answers lead to other kit.";
    STEP: "practice", "People do something otherwise.";
}

/// Both editions; the old one in the names of the new.
pub struct Context<'a> {
    pub old: &'a Policy,
    pub new: &'a Policy,
}

type Weighed = (&'static WeightRule, Weight);

pub fn weigh(difference: &Difference, context: &Context) -> Weighed {
    of_line(difference, context)
        .or_else(|| of_entry(difference, context))
        .or_else(|| of_field(difference))
        .unwrap_or((&STEP, Weight::ChangesPractice))
}

/// Gone weakens, come strengthens.
fn lost_or_gained(difference: &Difference, rule: &'static WeightRule) -> Option<Weighed> {
    match (difference.what, difference.before.is_empty(), difference.after.is_empty()) {
        (What::TakenOut, ..) => Some((rule, Weight::Weakens)),
        (What::Added, ..) => Some((rule, Weight::Strengthens)),
        (_, false, true) => Some((rule, Weight::Weakens)),
        (_, true, false) => Some((rule, Weight::Strengthens)),
        _ => None,
    }
}

/// The other way round.
fn gained_or_lost(difference: &Difference, rule: &'static WeightRule) -> Option<Weighed> {
    lost_or_gained(difference, rule).map(|(rule, weight)| (rule, weight.mirrored()))
}

/// Lines that came, went or moved.
fn of_line(difference: &Difference, context: &Context) -> Option<Weighed> {
    let line = difference.line()?;
    if let Some(field) = difference.field {
        return of_line_field(difference, field, context);
    }
    if line.is_heading() {
        return Some((&HEADING, Weight::Editorial));
    }
    if difference.what == What::Moved {
        return Some((&ORDER, Weight::ChangesPractice));
    }
    let rule = match line.key(Field::Act) {
        lines::HOLD => &HOLD,
        lines::CLEANS_HANDS => &HANDS,
        lines::WIPES | lines::SPRAYS => &CLEANING,
        lines::CHECKS => &CHECK,
        lines::PUTS_ON => &KIT_STEP,
        _ => return None,
    };
    lost_or_gained(difference, rule)
}

fn is_protective(act: &str) -> Option<&'static WeightRule> {
    let acts = [lines::HOLD, lines::CLEANS_HANDS, lines::WIPES, lines::SPRAYS, lines::CHECKS, lines::PUTS_ON];
    acts.contains(&act).then_some(&CONDITION)
}

fn of_line_field(difference: &Difference, field: Field, context: &Context) -> Option<Weighed> {
    let act = difference.line().map_or("", |line| line.key(Field::Act));
    match field {
        Field::Confirms => lost_or_gained(difference, &CONFIRMATION).or_else(|| watched(difference, context)),
        Field::IfNot => lost_or_gained(difference, &WAY_OUT),
        Field::Caution | Field::Warning | Field::Danger | Field::StopIf | Field::LookFor => {
            lost_or_gained(difference, &CAUTION)
        }
        // A condition that is new leaves the step out in some cases.
        Field::Condition => is_protective(act).and_then(|rule| gained_or_lost(difference, rule)),
        Field::CleanedFor => compared(difference, &TIME, seconds),
        Field::Cleaner => cleaner(difference, context),
        Field::Actor if matches!(act, lines::CHECKS) => watched(difference, context),
        Field::Takes | Field::Because => Some((&SOURCE, Weight::Editorial)),
        Field::Object if difference.line().is_some_and(|line| line.is_heading()) => Some((&HEADING, Weight::Editorial)),
        _ => None,
    }
    .or_else(|| words(difference))
}

/// Texts: the same words are editorial, others are not for the program to judge.
fn words(difference: &Difference) -> Option<Weighed> {
    let text = |words: &[Word]| words.iter().map(|word| word.key.as_str()).collect::<Vec<_>>().join(" ");
    match difference.what {
        What::Reworded if same_words(&text(&difference.before), &text(&difference.after)) => {
            Some((&SAME_WORDS, Weight::Editorial))
        }
        What::Reworded => Some((&WORDS, Weight::ChangesPractice)),
        What::Added | What::TakenOut if difference.field.is_some() => Some((&WORDS, Weight::ChangesPractice)),
        What::Renamed => Some((&NAME, Weight::ChangesPractice)),
        _ => None,
    }
}

/// From somebody who watches to somebody who does not, or back.
fn watched(difference: &Difference, context: &Context) -> Option<Weighed> {
    let watches = |policy: &Policy, words: &[Word]| {
        let who = words.first().map_or("", confirming);
        role(policy, who).is_some_and(|role| role.watches)
    };
    let (before, after) = (watches(context.old, &difference.before), watches(context.new, &difference.after));
    match (before, after) {
        (true, false) => Some((&WATCHER, Weight::Weakens)),
        (false, true) => Some((&WATCHER, Weight::Strengthens)),
        _ => None,
    }
}

fn role<'p>(policy: &'p Policy, key: &str) -> Option<&'p Role> {
    policy.roles.iter().find(|role| Word::name(&role.name).key == key)
}

fn cleaner(difference: &Difference, context: &Context) -> Option<Weighed> {
    let find = |policy: &'_ Policy, words: &[Word]| -> Option<Cleaner> {
        let key = &words.first()?.key;
        policy.cleaners.iter().find(|cleaner| Word::name(&cleaner.name).key == *key).cloned()
    };
    let (before, after) = (find(context.old, &difference.before)?, find(context.new, &difference.after)?);
    let by_strength = match (before.strength_ppm, after.strength_ppm) {
        (Some(before), Some(after)) => after.cmp(&before),
        _ => std::cmp::Ordering::Equal,
    };
    let by_soil = before.not_on_visible_soil.cmp(&after.not_on_visible_soil);
    match by_strength.then(by_soil) {
        std::cmp::Ordering::Less => Some((&CLEANER, Weight::Weakens)),
        std::cmp::Ordering::Greater => Some((&CLEANER, Weight::Strengthens)),
        std::cmp::Ordering::Equal => None,
    }
}

/// Entries that came, went, moved or bear another name.
fn of_entry(difference: &Difference, context: &Context) -> Option<Weighed> {
    if difference.field.is_some() || difference.line().is_some() {
        return None;
    }
    match (difference.kind, difference.what) {
        (Kind::Paper, _) => Some((&PAPER, Weight::Editorial)),
        (Kind::Source | Kind::Deviation, _) => Some((&SOURCE, Weight::Editorial)),
        (Kind::Print, What::Moved) => Some((&PRINTING, Weight::Editorial)),
        (Kind::Print, _) => Some((&AID, Weight::ChangesPractice)),
        (_, What::Renamed) => Some((&NAME, Weight::ChangesPractice)),
        (_, What::Moved) => Some((&ORDER, Weight::ChangesPractice)),
        (Kind::Sequence, _) => lost_or_gained(difference, &SEQUENCE),
        (Kind::Contingency, _) => lost_or_gained(difference, &CONTINGENCY),
        (Kind::Question, _) => Some((&CHOICE, Weight::ChangesPractice)),
        (Kind::Level, _) => lost_or_gained(difference, &LEVEL),
        (Kind::Kit, _) => lost_or_gained(difference, &KIT),
        (Kind::Hazard, _) => lost_or_gained(difference, &HAZARD),
        (Kind::Role, _) => {
            let name = Word::name(&difference.of).key;
            let watches =
                [context.old, context.new].iter().any(|policy| role(policy, &name).is_some_and(|it| it.watches));
            watches.then(|| lost_or_gained(difference, &WATCHER)).flatten()
        }
        (Kind::Exception, _) => gained_or_lost(difference, &ACCEPTED),
        _ => None,
    }
}

fn of_field(difference: &Difference) -> Option<Weighed> {
    let field = difference.field?;
    match field {
        Field::ApprovalNeeds => compared(difference, &APPROVAL, first_number),
        _ if difference.kind == Kind::Paper => Some((&PAPER, Weight::Editorial)),
        _ if matches!(difference.kind, Kind::Source | Kind::Deviation) => Some((&SOURCE, Weight::Editorial)),
        _ if difference.kind == Kind::Print => Some((&PRINTING, Weight::Editorial)),
        Field::Covers | Field::KeepCovered => lost_or_gained(difference, &COVERAGE),
        Field::Margins => lost_or_gained(difference, &MARGIN).or_else(|| compared(difference, &MARGIN, last_number)),
        Field::Wears => lost_or_gained(difference, &KIT).or_else(|| compared(difference, &KIT, first_number)),
        Field::Against | Field::Routes | Field::SpreadsBy => lost_or_gained(difference, &HAZARD),
        Field::Assume => compared(difference, &ASSUMPTION, assumed),
        Field::Stay => lost_or_gained(difference, &STAY)
            .or_else(|| compared(difference, &STAY, seconds).map(|(rule, weight)| (rule, weight.mirrored()))),
        Field::Needs | Field::Forbids => lost_or_gained(difference, &WISH),
        Field::Meets | Field::FitTest | Field::SingleUse => lost_or_gained(difference, &QUALITY),
        Field::RunsFor => compared(difference, &RUNNING, seconds),
        Field::Strength | Field::Worth => compared(difference, &STRENGTH, first_number),
        Field::WetFor => compared(difference, &STRENGTH, seconds),
        Field::Endings => lost_or_gained(difference, &CONTINGENCY),
        Field::Lines | Field::Outranks | Field::Asked => Some((&CHOICE, Weight::ChangesPractice)),
        Field::NotOnSoil => lost_or_gained(difference, &CLEANER),
        Field::Watches => lost_or_gained(difference, &WATCHER),
        Field::Until => compared(difference, &ACCEPTED, day).map(|(rule, weight)| (rule, weight.mirrored())),
        Field::Accepted => Some((&SOURCE, Weight::Editorial)),
        _ => None,
    }
    .or_else(|| words(difference))
}

/// Less weakens, more strengthens; nothing counts as none.
fn compared(
    difference: &Difference,
    rule: &'static WeightRule,
    number: impl Fn(&str) -> Option<u64>,
) -> Option<Weighed> {
    let of = |words: &[Word]| words.first().map_or(Some(0), |word| number(&word.key));
    match of(&difference.after)?.cmp(&of(&difference.before)?) {
        std::cmp::Ordering::Less => Some((rule, Weight::Weakens)),
        std::cmp::Ordering::Greater => Some((rule, Weight::Strengthens)),
        std::cmp::Ordering::Equal => None,
    }
}

fn first_number(text: &str) -> Option<u64> {
    text.split(|c: char| !c.is_ascii_digit()).find(|digits| !digits.is_empty())?.parse().ok()
}

fn last_number(text: &str) -> Option<u64> {
    text.rsplit(|c: char| !c.is_ascii_digit()).find(|digits| !digits.is_empty())?.parse().ok()
}

/// `2 minutes 30 seconds`
fn seconds(text: &str) -> Option<u64> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let parts = words.chunks(2).map(|pair| {
        let number: u64 = pair.first()?.parse().ok()?;
        let unit = match pair.get(1)?.trim_end_matches('s') {
            "second" => 1,
            "minute" => 60,
            "hour" => 3600,
            _ => return None,
        };
        Some(number * unit)
    });
    parts.sum()
}

/// Where nothing is said, fronts are taken to be contaminated.
fn assumed(text: &str) -> Option<u64> {
    Some(u64::from(text.starts_with("every")))
}

/// `30 November 2026`, later dates being greater.
fn day(text: &str) -> Option<u64> {
    let mut words = text.split_whitespace();
    let day: u64 = words.next()?.parse().ok()?;
    let month = words.next()?;
    let month = MONTHS.iter().position(|name| *name == month)? as u64;
    Some(words.next()?.parse::<u64>().ok()? * 10_000 + month * 100 + day)
}
