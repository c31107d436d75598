//! Something is to go on that is on already.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, is_are, it_them, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Repeated;

impl Rule for Repeated {
    fn name(&self) -> Name {
        Name { family: "order", word: "repeated" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("repeated.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::AlreadyOn { item } = event.what else { continue };
            // Half on, and written again where it is to be pulled up: that it stays half on is told instead.
            let half = What::LeftHalfOn { item };
            if run.events.iter().any(|other| other.what == half && other.who == event.who) {
                continue;
            }
            let (this, are, them) = (the_item(policy, item), is_are(policy, item), it_them(policy, item));
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: format!("{} {are} on already", capital(&this)),
                    message: format!(
                        "A second layer can stay on unnoticed when the first comes off. {} {are} on already, and the level \
                         lists no more of {them}.",
                        capital(&this)
                    ),
                    way_out: "Leave this step out. If two layers are meant, list two pairs and take both off.".to_string(),
                },
            ));
        }
    }
}
