//! The overview as a table of comma-separated values, a line for each policy.
//!
//! In: an overview. Out: RFC 4180 text, in the order of the overview. Must never write a word that a spreadsheet would
//! reckon with.

use super::{Entry, Overview};
use crate::text::table::{guarded, row};

pub const COLUMNS: [&str; 19] = [
    "policy",
    "site",
    "edition",
    "fingerprint",
    "state",
    "owner",
    "needs action",
    "due",
    "review by",
    "review opens",
    "days left",
    "danger",
    "warning",
    "caution",
    "notice",
    "accepted",
    "release",
    "remarks",
    "file",
];

pub fn csv(overview: &Overview) -> String {
    // A number is none that a spreadsheet reckons with, though it be overdue and so begin with a minus.
    let put = |field: String| if field.parse::<i32>().is_ok() { field } else { guarded(&field) };
    let rows = overview.policies.iter().map(|policy| row(&fields(policy, overview).map(put)));
    std::iter::once(row(&COLUMNS)).chain(rows).collect()
}

fn fields(policy: &Entry, overview: &Overview) -> [String; COLUMNS.len()] {
    let words = |words: &Option<String>| words.clone().unwrap_or_default();
    let day = |day: Option<crate::policy::Day>| day.map(|day| day.0.to_string()).unwrap_or_default();
    let review = policy.review.as_ref();
    [
        words(&policy.title),
        words(&policy.site),
        policy.edition.map(|number| number.to_string()).unwrap_or_default(),
        policy.fingerprint.clone(),
        policy.state.word().to_owned(),
        words(&policy.owner),
        if policy.needs_action { "yes" } else { "no" }.to_owned(),
        day(policy.due),
        day(review.map(|review| review.by)),
        day(review.and_then(|review| review.opens)),
        review.map(|review| review.days_left.to_string()).unwrap_or_default(),
        policy.findings.danger.to_string(),
        policy.findings.warning.to_string(),
        policy.findings.caution.to_string(),
        policy.findings.notice.to_string(),
        policy.findings.accepted.to_string(),
        policy
            .release
            .as_ref()
            .map_or(String::new(), |release| release.stage.words().trim_start_matches("a ").to_owned()),
        policy.sentences(overview.today).join(" "),
        policy.file.clone(),
    ]
}
