//! What a new edition does to protection, against what the check says of each edition alone.

use std::collections::BTreeMap;

use anteroom::aids::plan::{Body, ReviewRow};
use anteroom::aids::plan_of_two;
use anteroom::compare::{Weight, compare, json, report};
use anteroom::findings::Signal;
use anteroom::session::Checked;

use super::edits::random_edits;
use crate::properties::written;

/// How many findings there are of each name and signal word.
fn counted<'n>(names: impl Iterator<Item = (String, Signal)> + 'n) -> BTreeMap<(String, Signal), i64> {
    let mut counts = BTreeMap::new();
    names.for_each(|name| *counts.entry(name).or_default() += 1);
    counts
}

fn of_check(checked: &Checked) -> BTreeMap<(String, Signal), i64> {
    counted(checked.findings.iter().map(|finding| (finding.name.to_string(), finding.signal)))
}

#[test]
fn findings_and_margins_are_those_of_each_edition_alone() {
    for (each, text) in random_edits(80) {
        let (old, new) = (each.check(&each.text), each.check(&text));
        let comparison = compare(("old", &old), ("new", &new), None, &[]);
        let findings = &comparison.consequences.findings;
        let of = |told: &[anteroom::compare::consequences::Told]| {
            told.iter().map(|told| (told.name.clone(), told.signal)).collect::<Vec<_>>()
        };
        let stay = [&findings.unchanged, &findings.newly_accepted, &findings.no_longer_accepted];
        let stay: Vec<_> = stay.into_iter().flat_map(|told| of(told)).collect();
        let before = counted(stay.iter().cloned().chain(of(&findings.gone)));
        let after = counted(stay.iter().cloned().chain(of(&findings.new)));
        assert_eq!((before, after), (of_check(&old), of_check(&new)), "{}", each.name);
        for approach in &comparison.consequences.approaches {
            let touches = |checked: &Checked| {
                let same = checked.examined.approaches.iter().find(|known| {
                    (&known.level, &known.who, &known.reached) == (&approach.level, &approach.who, &approach.reached)
                });
                same.map_or([None; 3], |known| known.touches)
            };
            assert_eq!((approach.before, approach.after), (touches(&old), touches(&new)), "{}", each.name);
            let nearer =
                (0..3).any(|at| approach.after[at].unwrap_or(u16::MAX) < approach.before[at].unwrap_or(u16::MAX));
            assert_eq!(approach.weight == Weight::Weakens, nearer);
            assert_eq!(approach.chain.is_empty(), !nearer, "what came nearer says how: {approach:?}");
        }
    }
}

/// Policies with faults, and policies that have nothing to do with one another.
#[test]
fn any_two_policies_can_be_compared() {
    let all = written();
    let checked: Vec<(String, Checked)> =
        all.iter().step_by(3).map(|each| (each.name.clone(), each.check(&each.text))).collect();
    for pair in checked.windows(2) {
        let comparison = compare((&pair[0].0, &pair[0].1), (&pair[1].0, &pair[1].1), None, &[]);
        assert!(!comparison.changes.is_empty());
        let told: String = report::report(&comparison).iter().flat_map(|section| section.items.clone()).collect();
        for change in &comparison.changes {
            assert!(told.contains(&change.sentence), "{}", change.sentence);
            assert!(
                !change.sentence.contains("  ") && change.sentence.trim_end_matches('”').ends_with(['.', '?', '!']),
                "{}",
                change.sentence
            );
        }
        assert!(json::report(std::slice::from_ref(&comparison), &[], &[]).contains(&comparison.new.fingerprint));
        // Each place in which protection is weaker stands on the review sheet once.
        let plan = plan_of_two(&comparison, &pair[0].1, &pair[1].1);
        let Some(Body::Review(sheet)) = plan.aids.first().map(|aid| &aid.body) else { panic!("a review sheet") };
        let rows = sheet.sections.iter().flat_map(|section| &section.rows);
        assert_eq!(rows.map(ReviewRow::weaker).sum::<usize>(), comparison.counts.weakens, "{}", pair[1].0);
        let twice = compare((&pair[0].0, &pair[0].1), (&pair[1].0, &pair[1].1), None, &[]);
        assert_eq!(format!("{comparison:?}"), format!("{twice:?}"), "the same each time");
    }
}
