//! The form for a possible exposure: what happened, to which skin, what was done, who was told.
//!
//! In: a policy, and the level where it is known. Out: a [`Form`]. Must never ask whose fault it was.

use super::forms;
use super::pattern::capital;
use super::plan::{Form, FormRow, FormSection};
use super::words::{Words, say};
use crate::policy::{Area, LevelId, Policy};

pub fn form(policy: &Policy, words: &Words, level: Option<LevelId>) -> Form {
    let tell = |key: &str| say(&words.forms, key, &[]);
    let titled = |key: &str, note: &str, rows: Vec<FormRow>| FormSection {
        title: tell(key),
        note: note.to_string(),
        columns: Vec::new(),
        rows,
    };
    let level = level.map(|id| policy.level(id).name.clone()).unwrap_or_default();
    let of_level = forms::known(words, "level", &level, 2);
    let mut events: Vec<String> = policy.contingencies.iter().map(|drill| drill.title.clone()).collect();
    events.push(tell("something_else"));
    let areas = Area::ALL.into_iter().filter_map(|area| words.chart_areas.get(area.word())).map(|word| capital(word));
    let happened = vec![
        FormRow::Fields(vec![
            forms::known(words, "date", "", 1),
            forms::known(words, "time", "", 1),
            forms::known(words, "place", "", 2),
            of_level,
        ]),
        forms::fields(words, &[("who", 2), ("role", 1), ("watched_by", 2)]),
        FormRow::Ticks(events),
        forms::fields(words, &[("step_number", 2), ("kit_at_fault", 3)]),
        forms::tall(words, "in_words"),
    ];
    let reached = vec![
        FormRow::Ticks(areas.collect()),
        forms::ticks(words, &["skin_whole", "skin_broken", "eyes_nose_mouth", "not_known"]),
    ];
    let done =
        vec![forms::tall(words, "done_at_once"), forms::fields(words, &[("washed_for", 1), ("first_aid_by", 2)])];
    let owner = policy.paper.owner.clone().unwrap_or_default();
    let told = vec![
        FormRow::Fields(vec![forms::known(words, "told_owner", &owner, 3), forms::known(words, "time", "", 1)]),
        forms::fields(words, &[("told_health", 3), ("time", 1)]),
        forms::fields(words, &[("told_lead", 3), ("time", 1)]),
    ];
    let after = vec![
        forms::fields(words, &[("watch_from", 1), ("watch_until", 1), ("watch_by", 2)]),
        forms::fields(words, &[("signed", 3), ("date", 1)]),
    ];
    let sections = vec![
        titled("happened", "", happened),
        titled("reached", "", reached),
        titled("done_first", "", done),
        titled("told", "", told),
        titled("afterwards", &tell("watch_note"), after),
    ];
    Form { intro: tell("incident_intro"), sections }
}
