//! Document control: what every face of every aid says of the policy it comes from.
//!
//! In: a checked policy, as it is printed, and what the aid is of. Out: [`Control`]. Must never leave a field empty that a policy can fill:
//! what is missing is told as missing.

use super::plan::Control;
use super::words::{Words, say};
use crate::policy::{Code, LevelId, PlaceId, Policy};
use crate::session::Checked;

pub fn of(
    checked: &Checked,
    policy: &Policy,
    words: &Words,
    level: Option<LevelId>,
    place: Option<PlaceId>,
) -> Control {
    let paper = &policy.paper;
    let tell = |key: &str, slots: &[(&str, &str)]| say(&words.control, key, slots);
    let dated = |key: &str, missing: &str, day: Option<crate::policy::Day>| match day {
        Some(day) => tell(key, &[("date", &words.day(day))]),
        None => tell(missing, &[]),
    };
    let title = paper.title.clone().unwrap_or_else(|| tell("no_title", &[]));
    let level = level.or_else(|| (policy.levels.len() == 1).then(|| LevelId::new(0)));
    let replaces = paper.replaces.map(|number| number.to_string()).unwrap_or_default();
    let edition = match paper.edition {
        Some(number) => tell("edition", &[("number", &number.to_string()), ("replaces", &replaces)]),
        None => tell("no_edition", &[]),
    };
    Control {
        policy: title.clone(),
        site: paper.site.clone().unwrap_or_default(),
        level: level.map(|id| policy.level(id).name.clone()).unwrap_or_else(|| tell("all_levels", &[])),
        place: place.map(|id| super::pattern::capital(&policy.place(id).name)).unwrap_or_default(),
        code_alt: tell(
            "code_alt",
            &[
                ("policy", &title),
                ("edition", &edition),
                ("fingerprint_label", &words.labels.fingerprint),
                ("fingerprint", &checked.fingerprint),
            ],
        ),
        code: Code::of(&checked.reading.policy.paper, &checked.fingerprint).text(),
        edition,
        in_force: dated("in_force", "no_in_force", paper.in_force),
        review: dated("review", "no_review", paper.review_by),
        owner: match &paper.owner {
            Some(owner) => tell("owner", &[("owner", owner)]),
            None => tell("no_owner", &[]),
        },
        approval: match &paper.approval {
            Some(approval) => tell("approval", &[("by", &approval.by), ("date", &words.day(approval.on))]),
            None => tell("no_approval", &[]),
        },
        fingerprint: checked.fingerprint.clone(),
        date: paper.in_force.map(|day| day.0.to_string()),
        caution: tell("caution", &[]),
    }
}
