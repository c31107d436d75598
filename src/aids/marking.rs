//! What every face of an edition is marked with that is not in force.
//!
//! In: a checked policy, or the edition that has replaced it. Out: the word and the reasons. Must never judge: what holds
//! is the session's to say.

use super::plan::Marking;
use super::words::{Words, say};
use crate::policy::Day;
use crate::session::{Checked, Reason, Standing, standing};

/// `unapproved`: why the words that it is told in make it a draft, whatever the policy is; told in any words.
pub fn of(checked: &Checked, words: &Words, unapproved: impl Fn(&Words) -> Vec<String>) -> Option<Marking> {
    let standing = standing(checked);
    let is_unapproved = !unapproved(words).is_empty();
    let told = |key: &'static str, why: &dyn Fn(&Words) -> Vec<String>| marked(key, words, why);
    let draft = |why: &dyn Fn(&Words) -> Vec<String>| told("draft", &|words| [unapproved(words), why(words)].concat());
    Some(match standing {
        Standing::Withdrawn(day) => told("withdrawn", &|words| vec![dated(words, "withdrawn_why", day)]),
        Standing::Draft(reasons) => draft(&|words| reasons.iter().map(|&reason| reason_in(words, reason)).collect()),
        Standing::InForce if is_unapproved => draft(&|_| Vec::new()),
        Standing::InForce => return None,
        Standing::NotYet(day) if is_unapproved => draft(&|words| vec![dated(words, "not_yet_why", day)]),
        Standing::NotYet(day) => told("not_yet", &|words| vec![dated(words, "not_yet_why", day)]),
    })
}

fn dated(words: &Words, key: &str, day: Day) -> String {
    say(&words.marks, key, &[("date", &words.day(day))])
}

fn marked(key: &str, words: &Words, why: &dyn Fn(&Words) -> Vec<String>) -> Marking {
    let original = if words.original { Vec::new() } else { why(Words::english()) };
    Marking { word: say(&words.marks, key, &[]), reasons: why(words), original }
}

/// Why an edition is a draft, a sentence.
pub fn reason_in(words: &Words, reason: Reason) -> String {
    let counted = |one: &str, many: &str, count: usize| {
        let key = if count == 1 { one } else { many };
        say(&words.marks, key, &[("count", &count.to_string())])
    };
    match reason {
        Reason::Unread(count) => counted("unread_one", "unread_many", count),
        Reason::Open(count) => counted("danger_one", "danger_many", count),
        Reason::Unfinished => say(&words.marks, "unfinished", &[]),
        Reason::Unapproved => say(&words.marks, "unapproved", &[]),
        Reason::Overdue(day) => dated(words, "overdue", day),
    }
}

/// `by`: the number of the edition that has replaced it, where it is known.
pub fn superseded(words: &Words, by: Option<u32>) -> Marking {
    marked("superseded", words, &|words| {
        let later = match by {
            Some(number) => say(&words.marks, "edition", &[("number", &number.to_string())]),
            None => say(&words.marks, "later_edition", &[]),
        };
        vec![say(&words.marks, "superseded_why", &[("later", &later)])]
    })
}
