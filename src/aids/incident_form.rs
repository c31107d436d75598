//! The form for a possible exposure: what happened, to which skin, what was done, who was told.
//!
//! In: a policy, and the level where it is known. Out: a [`Form`]. Must never ask whose fault it was.

use super::forms;
use super::pattern::capital;
use super::plan::{Form, FormRow, FormSection};
use super::words::{Words, say};
use crate::policy::{Area, LevelId, Policy};

pub fn form(policy: &Policy, words: &Words, level: Option<LevelId>) -> Form {
    let asked = &words.forms;
    let tell = |key: &str| say(asked, key, &[]);
    let titled = |key: &str, rows: Vec<FormRow>| forms::section(tell(key), rows);
    let level = level.map(|id| policy.level(id).name.clone()).unwrap_or_default();
    let of_level = forms::known(asked, "level", &level, 2);
    let mut events: Vec<String> = policy.contingencies.iter().map(|drill| drill.title.clone()).collect();
    events.push(tell("something_else"));
    let areas = Area::ALL.into_iter().filter_map(|area| words.chart_areas.get(area.word())).map(|word| capital(word));
    let happened = vec![
        FormRow::Fields(vec![
            forms::known(asked, "date", "", 1),
            forms::known(asked, "time", "", 1),
            forms::known(asked, "place", "", 2),
            of_level,
        ]),
        forms::fields(asked, &[("who", 2), ("role", 1), ("watched_by", 2)]),
        FormRow::Ticks(events),
        forms::fields(asked, &[("step_number", 2), ("kit_at_fault", 3)]),
        forms::tall(asked, "in_words"),
    ];
    let reached = vec![
        FormRow::Ticks(areas.collect()),
        forms::ticks(asked, &["skin_whole", "skin_broken", "eyes_nose_mouth", "not_known"]),
    ];
    let done =
        vec![forms::tall(asked, "done_at_once"), forms::fields(asked, &[("washed_for", 1), ("first_aid_by", 2)])];
    let owner = policy.paper.owner.clone().unwrap_or_default();
    let told = vec![
        FormRow::Fields(vec![forms::known(asked, "told_owner", &owner, 3), forms::known(asked, "time", "", 1)]),
        forms::fields(asked, &[("told_health", 3), ("time", 1)]),
        forms::fields(asked, &[("told_lead", 3), ("time", 1)]),
    ];
    let after = vec![
        forms::fields(asked, &[("watch_from", 1), ("watch_until", 1), ("watch_by", 2)]),
        forms::fields(asked, &[("signed", 3), ("date", 1)]),
    ];
    let sections = vec![
        titled("happened", happened),
        titled("reached", reached),
        titled("done_first", done),
        titled("told", told),
        FormSection { note: tell("watch_note"), ..titled("afterwards", after) },
    ];
    Form { intro: tell("incident_intro"), sections }
}
