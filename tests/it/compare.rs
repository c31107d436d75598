//! Two editions compared: every change found, each as what it is, and none that is none. The laws are those of any
//! comparison (it is empty of a thing and itself, it gives the new from the old, it is the same from the other side); the
//! fewest moves that turn one order into another are the number of things less a longest rising row (Knuth, The Art of
//! Computer Programming 3, 5.1.4), found here by trying all.

use anteroom::compare::change::{Change, Key, What};
use anteroom::compare::view::{Kind, View};
use anteroom::compare::{Weight, changed, entries, weights};
use anteroom::policy::Policy;
use anteroom::policy::meaning::meaning;

use crate::properties::{Written, random, written};

mod applied;
mod commands;
mod consequences;
mod edits;
mod known;
mod sides;
mod weighed;

pub fn changes(old: &Policy, new: &Policy) -> Vec<Change> {
    changed(old, new).changes
}

fn policy(of: &Written, text: &str) -> Policy {
    of.read(text).policy
}

pub fn told(changes: &[Change]) -> String {
    changes.iter().map(|change| format!("{:?} {:?}: {}\n", change.what, change.field, change.sentence)).collect()
}

#[test]
fn a_policy_and_itself_do_not_differ() {
    for each in written().iter().chain(&random(300)) {
        let policy = policy(each, &each.text);
        let found = changes(&policy, &policy);
        assert!(found.is_empty(), "{}\n{}", each.name, told(&found));
    }
}

#[test]
fn the_changes_give_the_new_edition_from_the_old() {
    for (each, text) in edits::random_edits(240) {
        let (old, new) = (policy(&each, &each.text), policy(&each, &text));
        let found = changed(&old, &new);
        let given = applied::applied(&found.before, &found.changes);
        assert_eq!(sorted(&given), sorted(&entries::view(&new)), "{}\n{}", each.name, told(&found.changes));
    }
}

/// Entries whose order means nothing, sorted.
fn sorted(view: &View) -> Vec<(Kind, String, String)> {
    let mut all: Vec<(Kind, usize, String, String)> = Vec::new();
    for (at, entry) in view.entries.iter().enumerate() {
        let Key { kind, name } = Key::of(entry);
        let place = if kind.is_ordered() { at } else { 0 };
        all.push((
            kind,
            place,
            name,
            format!("{:#?}\n{:#?}", entry.fields, entry.lines.iter().map(|l| &l.fields).collect::<Vec<_>>()),
        ));
    }
    all.sort();
    all.into_iter().map(|(kind, _, name, says)| (kind, name, says)).collect()
}

/// The fingerprint rests on the meaning: whoever signs a fingerprint signs what the comparison shows.
#[test]
fn what_changes_the_fingerprint_is_a_change_and_the_other_way_round() {
    for (each, text) in edits::random_edits(240) {
        let (old, new) = (policy(&each, &each.text), policy(&each, &text));
        let found = changes(&old, &new);
        // A withdrawal is no part of the meaning.
        let of_meaning =
            found.iter().filter(|change| change.field != Some(anteroom::compare::field::Field::WithdrawnOn));
        assert_eq!(of_meaning.count() > 0, meaning(&old) != meaning(&new), "{}\n{}\n{text}", each.name, told(&found));
    }
}

#[test]
fn from_the_other_side_every_change_is_mirrored() {
    for (each, text) in edits::random_edits(240) {
        let (old, new) = (policy(&each, &each.text), policy(&each, &text));
        let (there, back) = (changes(&old, &new), changes(&new, &old));
        let mut one: Vec<String> = there.iter().map(|change| seen(change, false)).collect();
        let mut other: Vec<String> = back.iter().map(|change| seen(change, true)).collect();
        one.sort();
        other.sort();
        assert_eq!(one, other, "{}\n{}\n{}", each.name, told(&there), told(&back));
    }
}

/// A change as it is seen from here, or from the other side.
fn seen(change: &Change, mirrored: bool) -> String {
    let what = match (change.what, mirrored) {
        (What::Added, true) => What::TakenOut,
        (What::TakenOut, true) => What::Added,
        (what, _) => what,
    };
    let weight = if mirrored { change.weight.mirrored() } else { change.weight };
    let (before, after) = if mirrored { (&change.after, &change.before) } else { (&change.before, &change.after) };
    let at = |at: &Option<anteroom::compare::change::At>| {
        at.as_ref().map(|at| (at.sequence.clone(), at.name.clone(), at.words.clone()))
    };
    let (was, is) = (at(&change.before_at), at(&change.after_at));
    let (was, is) = if mirrored { (is, was) } else { (was, is) };
    let rule = change.rule.name;
    // A line that moved between sequences is told of the one that it left.
    let kind = (change.what != What::Moved).then_some(change.kind);
    format!("{what:?} {weight:?} {rule} {kind:?} {:?} {before:?} {after:?} {was:?} {is:?}", change.field)
}

/// A sequence of steps that are all different.
fn ordered(order: &[usize]) -> String {
    let steps: String = order.iter().map(|step| format!("  wearer does \"Step called {step}\"\n")).collect();
    format!("policy \"Orders\"\nrole wearer\nlevel One against contact\nsequence \"Doing\" for One\n{steps}")
}

fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let mut all = Vec::new();
    for shorter in orders(count - 1) {
        for at in 0..count {
            let mut order = shorter.clone();
            order.insert(at, count - 1);
            all.push(order);
        }
    }
    all
}

/// By trying every choice of them.
fn longest_rise(order: &[usize]) -> usize {
    let rises = |chosen: &u32| {
        let kept: Vec<usize> = (0..order.len()).filter(|at| chosen >> at & 1 == 1).map(|at| order[at]).collect();
        kept.windows(2).all(|pair| pair[0] < pair[1])
    };
    (0..1_u32 << order.len()).filter(rises).map(u32::count_ones).max().unwrap_or(0) as usize
}

#[test]
fn as_few_steps_move_as_can_be() {
    let first = &random(1)[0];
    assert_eq!(first.read(&ordered(&[0, 1])).problems, []);
    for count in 1..=6 {
        let old = policy(first, &ordered(&(0..count).collect::<Vec<_>>()));
        for order in orders(count) {
            let new = policy(first, &ordered(&order));
            let found = changes(&old, &new);
            assert!(found.iter().all(|change| change.what == What::Moved), "{order:?}\n{}", told(&found));
            let moved: usize = found.iter().map(|change| change.edits.len()).sum();
            assert_eq!(moved, count - longest_rise(&order), "{order:?}\n{}", told(&found));
        }
    }
}

#[test]
fn every_weight_rule_has_a_name_of_its_own_and_a_sentence() {
    let mut names: Vec<&str> = weights::ALL.iter().map(|rule| rule.name).collect();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), weights::ALL.len());
    for rule in weights::ALL {
        assert!(rule.says.ends_with('.') && rule.says.split_whitespace().count() < 20, "{}", rule.says);
    }
    assert_eq!(Weight::ALL[0], Weight::Weakens);
}

/// Who renames more than fifty things of a kind wrote another policy: it is told thing by thing, and ends.
#[test]
fn a_policy_in_which_everything_has_another_name_is_compared_to_the_end() {
    let first = &random(1)[0];
    let items = |name: &str| {
        let items: String = (0..60).map(|at| format!("item {name} {at}\n  covers hands\n")).collect();
        format!("policy \"Many\"\n{items}")
    };
    let found = changes(&policy(first, &items("glove")), &policy(first, &items("mitten")));
    let count = |what: What| found.iter().filter(|change| change.what == what).count();
    assert_eq!((count(What::Added), count(What::TakenOut), found.len()), (60, 60, 120), "{}", told(&found));
}
