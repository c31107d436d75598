//! An exception whose date has passed.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};

pub struct Lapsed;

impl Rule for Lapsed {
    fn name(&self) -> Name {
        Name { family: "paper", word: "lapsed" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::House
    }
    fn page(&self) -> &'static str {
        include_str!("lapsed.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let Some(today) = brief.today else { return };
        for exception in brief.policy.exceptions.iter().filter(|exception| exception.until < today) {
            findings.push(plain(
                self,
                exception.span,
                Said {
                    title: "An exception has lapsed".to_owned(),
                    message: format!(
                        "It was to end on {}, and what it accepted is open again. Whoever was exposed to it still is.",
                        exception.until
                    ),
                    way_out: "Put the cause right, or let the committee renew the exception with a new date."
                        .to_owned(),
                },
            ));
        }
    }
}
