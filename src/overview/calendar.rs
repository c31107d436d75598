//! Review dates as a calendar file (RFC 5545): an event of a whole day for each, and one for the day on which it opens.
//!
//! In: an overview. Out: the text of the file, the same for the same policies on the same day. Must never make a date by a
//! rule of recurrence: what falls on the 31st would be left out in shorter months.

use std::collections::BTreeSet;

use super::{Entry, Overview, Review};
use crate::findings::shown::shortened;
use crate::policy::Day;
use crate::policy::meaning::digest;
use crate::session::State;

/// Octets of a line, its end not counted.
const LONGEST_LINE: usize = 75;
/// Letters of a name or a title; what is longer is cut.
const LONGEST_WORDS: usize = 200;

/// Of the editions of one policy only the one in force has a review to come; where none is, the one that is due first.
pub fn calendar(overview: &Overview) -> String {
    let mut text = String::new();
    let mut put = |line: &str| text.push_str(&folded(line));
    put("BEGIN:VCALENDAR");
    put("VERSION:2.0");
    put("PRODID:-//anteroom//status//EN");
    let in_force = |policy: &&Entry| policy.state == State::InForce;
    let first = overview.policies.iter().filter(in_force);
    let others = overview.policies.iter().filter(|policy| !in_force(policy) && !policy.is_over());
    let mut known = BTreeSet::new();
    for policy in first.chain(others) {
        let Some(review) = &policy.review else { continue };
        let name = name(policy);
        if !known.insert(name.clone()) {
            continue;
        }
        let of = shortened(&policy.name(), LONGEST_WORDS);
        if let Some(opens) = review.opens {
            let event = Event { name: format!("{name}-opens"), day: opens, summary: format!("Review opens: {of}") };
            event.lines(policy, review, overview.today).iter().for_each(|line| put(line));
        }
        let event = Event { name, day: review.by, summary: format!("Review due: {of}") };
        event.lines(policy, review, overview.today).iter().for_each(|line| put(line));
    }
    put("END:VCALENDAR");
    text
}

/// What stays the same over all editions of a policy, so that a new review date moves the event and makes no second one.
fn name(policy: &Entry) -> String {
    let identity = match &policy.identity {
        Some(identity) => format!("{}\n{}", identity.title, identity.site.as_deref().unwrap_or_default()),
        None => policy.file.clone(),
    };
    format!("anteroom-review-{}", &digest(identity)[..32])
}

struct Event {
    name: String,
    day: Day,
    summary: String,
}

impl Event {
    fn lines(&self, policy: &Entry, review: &Review, stamp: Day) -> [String; 8] {
        let date = |day: Day| format!("{:04}{:02}{:02}", day.0.year(), day.0.month(), day.0.day());
        [
            "BEGIN:VEVENT".to_owned(),
            format!("UID:{}", self.name),
            format!("DTSTAMP:{}T000000Z", date(stamp)),
            format!("DTSTART;VALUE=DATE:{}", date(self.day)),
            format!("SUMMARY:{}", escaped(&self.summary)),
            format!("DESCRIPTION:{}", escaped(&told(policy, review))),
            // Nobody is busy because a policy is due.
            "TRANSP:TRANSPARENT".to_owned(),
            "END:VEVENT".to_owned(),
        ]
    }
}

fn told(policy: &Entry, review: &Review) -> String {
    let line = |words: &str, of: &Option<String>| {
        of.as_ref().map(|of| format!("{words}: {}.\n", shortened(of, LONGEST_WORDS))).unwrap_or_default()
    };
    let file = shortened(&policy.file, LONGEST_WORDS);
    format!(
        "{}{}Review by {}.\nFile: {file}, fingerprint {}.",
        line("Whose it is", &policy.owner),
        line("Site", &policy.site),
        review.by,
        policy.fingerprint
    )
}

/// Section 3.3.11: text.
fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace(';', "\\;").replace(',', "\\,").replace('\n', "\\n")
}

/// Section 3.1: content lines; no letter is taken apart.
fn folded(line: &str) -> String {
    let mut text = String::with_capacity(line.len() + 8);
    let mut octets = 0;
    for letter in line.chars() {
        if octets + letter.len_utf8() > LONGEST_LINE {
            text.push_str("\r\n ");
            octets = 1;
        }
        text.push(letter);
        octets += letter.len_utf8();
    }
    text + "\r\n"
}
