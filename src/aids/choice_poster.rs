//! The poster for the choice of level: the lines of the decision table, from top to bottom.
//!
//! In: the questions and what their answers give. Out: a [`Choice`]. Must never reorder the lines: the first that fits gives
//! the level.

use super::plan::{Choice, ChoiceAnswer, ChoiceRow};
use super::words::{Words, say};
use crate::policy::{self, Policy};

pub fn choice(policy: &Policy, words: &Words, choice: &policy::Choice) -> Choice {
    let tell = |key: &str| say(&words.choice, key, &[]);
    let rows = choice.verdicts.iter().map(|verdict| ChoiceRow {
        asked: verdict
            .answers
            .iter()
            .filter_map(|&(id, is_yes)| {
                let question = choice.questions.get(id.index())?;
                Some(ChoiceAnswer { words: question.words.clone(), is_yes })
            })
            .collect(),
        level: policy.level(verdict.level).name.clone(),
    });
    let ranks = choice.outranks.iter().map(|&(higher, lower)| {
        let (higher, lower) = (&policy.level(higher).name, &policy.level(lower).name);
        say(&words.choice, "outranks", &[("higher", higher), ("lower", lower)])
    });
    Choice {
        intro: tell("intro"),
        rows: rows.collect(),
        yes: tell("yes"),
        no: tell("no"),
        all: tell("all"),
        otherwise: tell("otherwise"),
        notes: ranks.collect(),
    }
}
