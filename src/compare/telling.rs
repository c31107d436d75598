//! A change as one line for a committee's paper.
//!
//! In: a difference and its weight. Out: a [`Change`] with its sentence. Must never blame, and never say that all is well.

use super::Counts;
use super::change::{At, Change, Weight, What};
use super::differences::Difference;
use super::field::Field;
use super::lines::DOES;
use super::view::{Kind, Word};
use super::weights::WeightRule;

pub fn change(difference: Difference, rule: &'static WeightRule, weight: Weight) -> Change {
    let sentence = sentence(&difference);
    // A reason that stood there before is none for what is otherwise now.
    let known = difference.old.as_ref().map_or(&[][..], |(_, line)| line.fields.get(Field::Because));
    let given = difference.new.as_ref().map_or(&[][..], |(_, line)| line.fields.get(Field::Because));
    let reasons: Vec<&str> =
        given.iter().filter(|word| !known.contains(word)).map(|word| word.shown.as_str()).collect();
    let reason = (!reasons.is_empty()).then(|| reasons.join(" "));
    let shown = |words: &[Word]| words.iter().map(|word| word.shown.clone()).collect();
    Change {
        what: difference.what,
        weight,
        rule,
        kind: difference.kind,
        of: difference.of.clone(),
        field: difference.field,
        before: shown(&difference.before),
        after: shown(&difference.after),
        before_at: difference.old.map(|(at, _)| at),
        after_at: difference.new.map(|(at, _)| at),
        sentence,
        reason,
        edits: difference.edits,
    }
}

/// What all of it comes to, for the first line of a review.
pub fn headline(counts: &Counts) -> String {
    let places = |count: usize| if count == 1 { "one place".to_owned() } else { format!("{count} places") };
    match (counts.weakens, counts.changes_practice + counts.strengthens, counts.editorial) {
        (0, 0, 0) => "Nothing changed in what the policy says.".to_owned(),
        (0, 0, _) => "Editorial: nobody does anything otherwise, by the rules of this comparison.".to_owned(),
        (0, ..) => {
            "Nothing was found to weaken protection. People do things otherwise and have to be briefed.".to_owned()
        }
        (weakens, ..) => format!("Protection is weaker than before in {}. Read these first.", places(weakens)),
    }
}

fn sentence(difference: &Difference) -> String {
    match (&difference.old, &difference.new, difference.field) {
        (_, _, None) if difference.what == What::Renamed => renamed(difference),
        (None, None, None) => entry(difference),
        (None, None, Some(field)) => stopped(format!("{}: {}", subject(difference), becomes(field, difference))),
        (old, new, None) => line(difference, old.as_ref().map(|(at, _)| at), new.as_ref().map(|(at, _)| at)),
        (_, Some((at, _)), Some(field)) | (Some((at, _)), None, Some(field)) => {
            stopped(format!("“{}”, {}: {}", at.sequence, named(at), becomes(field, difference)))
        }
    }
}

/// `step 4 (wearer puts on gown)`; the names of holds and headings say all.
fn named(at: &At) -> String {
    if at.name.contains('“') { at.name.clone() } else { format!("{} ({})", at.name, at.words) }
}

/// The line's own words after a colon, where its name does not say them.
fn in_words(at: &At) -> String {
    if at.name.contains('“') { String::new() } else { format!(": {}", at.words) }
}

/// With a full stop, unless the words quoted last have one.
fn stopped(sentence: String) -> String {
    let has_one = [".”", "?”", "!”"].iter().any(|end| sentence.ends_with(end));
    if has_one { sentence } else { format!("{sentence}.") }
}

fn renamed(difference: &Difference) -> String {
    let name = |words: &[Word]| words.first().map_or(String::new(), |word| word.shown.clone());
    let kind = difference.kind.word();
    format!("The {kind} “{}” is called “{}” now, everywhere.", name(&difference.before), name(&difference.after))
}

fn subject(difference: &Difference) -> String {
    match difference.kind {
        Kind::Paper => "Document control".to_owned(),
        Kind::Choice => "Choice of level".to_owned(),
        Kind::Kit => format!("Kit list of the {}", difference.of),
        Kind::Print => format!("To print: {}", difference.of),
        Kind::Exception => format!("Accepted: {}", difference.of),
        Kind::Deviation => format!("The reason for departing at “{}”", difference.of),
        kind => format!("The {} “{}”", kind.word(), difference.of),
    }
}

fn entry(difference: &Difference) -> String {
    let does = match difference.what {
        What::Added => "is new",
        What::TakenOut => "is taken out",
        What::Moved => "stands elsewhere among the others",
        _ => "is changed",
    };
    match difference.kind {
        Kind::Exception | Kind::Print => format!("{} {does}.", subject(difference).replace(": ", ": “") + "”"),
        _ => format!("{} {does}.", subject(difference)),
    }
}

fn line(difference: &Difference, old: Option<&At>, new: Option<&At>) -> String {
    match (old, new) {
        (None, Some(at)) => format!("“{}”, {} is new{}.", at.sequence, at.name, in_words(at)),
        (Some(at), None) => format!("“{}”, {} is taken out{}.", at.sequence, at.name, in_words(at)),
        (Some(old), Some(new)) => {
            let count = match difference.lines {
                1 => String::new(),
                2 => " and one line with it".to_owned(),
                lines => format!(" and {} lines with it", lines - 1),
            };
            let elsewhere =
                if old.sequence == new.sequence { String::new() } else { format!(" of “{}”", new.sequence) };
            let later = if (old.sequence == new.sequence) && new.line > old.line { "later" } else { "earlier" };
            let later = if elsewhere.is_empty() { later } else { "to another sequence" };
            let now = if old.name == new.name { String::new() } else { format!(", now {}{elsewhere}", new.name) };
            format!("“{}”, {}{count} moved {later}{now}{}.", old.sequence, old.name, in_words(new))
        }
        (None, None) => String::new(),
    }
}

/// `who does it: “wearer” becomes “helper”`
fn becomes(field: Field, difference: &Difference) -> String {
    let is_flag = |words: &[Word]| words.first().is_some_and(|word| word.key == "yes");
    let shown = |words: &[Word]| words.iter().map(|word| format!("“{}”", word.shown)).collect::<Vec<_>>().join(", ");
    let are = |words: &[Word]| if words.len() == 1 { "is" } else { "are" };
    let told = match (difference.before.is_empty(), difference.after.is_empty()) {
        (true, _) if is_flag(&difference.after) => "now so".to_owned(),
        (_, true) if is_flag(&difference.before) => "no longer so".to_owned(),
        (true, _) => format!("{} {} new", shown(&difference.after), are(&difference.after)),
        (_, true) => format!("{} {} gone", shown(&difference.before), are(&difference.before)),
        _ if difference.before.len() == 1 => {
            format!("{} becomes {}", shown(&difference.before), shown(&difference.after))
        }
        _ => format!("{} become {}", shown(&difference.before), shown(&difference.after)),
    };
    // What somebody does in words of the policy's own is nothing that something is done to.
    let is_own_words = field == Field::Object && difference.line().is_some_and(|line| line.key(Field::Act) == DOES);
    format!("{}: {told}", if is_own_words { "the words" } else { field.words() })
}
