//! Both editions side by side: no line left out, and each marked with what changed about it.

use anteroom::compare::sides::Mark;
use anteroom::compare::{Weight, compare};

use super::edits::random_edits;

#[test]
fn every_line_stands_there_once_and_what_weakens_is_marked_where_it_stands() {
    for (each, text) in random_edits(60) {
        let (old, new) = (each.check(&each.text), each.check(&text));
        let comparison = compare(("old", &old), ("new", &new), None, &[]);
        for sides in &comparison.sides {
            let steps = |policy: &anteroom::policy::Policy| {
                let sequence = policy.sequences.iter().find(|each| each.title == sides.title);
                let sequence = sequence.map(|each| each.steps.len() + each.parts.len());
                let drill = policy.contingencies.iter().find(|each| each.title == sides.title);
                sequence.or(drill.map(|each| each.steps.len())).unwrap_or_default()
            };
            let told = [
                sides.rows.iter().filter(|row| row.old.is_some()).count(),
                sides.rows.iter().filter(|row| row.new.is_some()).count(),
            ];
            assert_eq!(
                told,
                [steps(&old.reading.policy), steps(&new.reading.policy)],
                "{}, {}",
                each.name,
                sides.title
            );
            for row in &sides.rows {
                assert_eq!(row.weight.is_none(), row.mark == Mark::Same, "{}: {row:?}", each.name);
            }
        }
        for change in comparison.changes.iter().filter(|change| change.weight == Weight::Weakens) {
            let Some(at) = change.at() else { continue };
            let is_there = comparison
                .sides
                .iter()
                .filter(|sides| sides.title == at.sequence)
                .any(|sides| sides.rows.iter().any(|row| row.weight == Some(Weight::Weakens)));
            assert!(is_there, "{}: {}", each.name, change.sentence);
        }
    }
}
