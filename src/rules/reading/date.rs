//! A date that the calendar does not have, or that can be read as two days.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Day;
use crate::rules::telling::{Said, short, unread};
use crate::rules::{Brief, Rule};
use crate::syntax::problem::ProblemKind;

pub struct Date;

impl Rule for Date {
    fn name(&self) -> Name {
        Name { family: "reading", word: "date" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("date.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for problem in brief.problems {
            let ProblemKind::Date { written } = &problem.kind else { continue };
            let shown = short(written);
            let said = if written.chars().any(|c| c.is_alphabetic()) && written.starts_with(|c: char| c.is_ascii_digit()) {
                Said {
                    title: format!("There is no {shown}"),
                    message: "A date that is no date holds nobody to anything. The calendar has no such day.".to_owned(),
                    way_out: "Write a day that exists, such as `30 November 2026`.".to_owned(),
                }
            } else {
                Said {
                    title: format!("Write the date “{shown}” in words"),
                    message: "One reader takes a date in figures for one day, the next for another.".to_owned(),
                    way_out: format!("Write the day, the month as a word, and the year: `{}`", right_form(written)),
                }
            };
            findings.push(unread(self, problem, said));
        }
    }
}

/// The date in the form of the language, where it can only be one day; else an example.
fn right_form(written: &str) -> String {
    Day::from_iso(written).map_or_else(|| "2 November 2026".to_owned(), |day| day.to_string())
}
