//! Something is to come off, or to be pulled up, that is not on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{ItemId, Policy};
use crate::rules::telling::{Said, capital, comes, is_are, is_many, it_them, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Event, Run, What};

pub struct Absent;

impl Rule for Absent {
    fn name(&self) -> Name {
        Name { family: "order", word: "absent" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("absent.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, event) in brief.events() {
            let What::NotOn { item, was_on } = event.what else { continue };
            if !was_on && tells_of_bare_skin(policy, run, event, item) {
                continue;
            }
            let said = if was_on { off_already(policy, item) } else { never_on(policy, event, item) };
            findings.push(brief.finding(self, run, event, said));
        }
    }
}

fn off_already(policy: &Policy, item: ItemId) -> Said {
    let (this, are) = (the_item(policy, item), is_are(policy, item));
    let came = if is_many(policy, item) { "have come" } else { "has come" };
    Said {
        title: format!("{} {are} off already", capital(&this)),
        message: format!("The hand reaches for skin or clothes here. {} {came} off before this step.", capital(&this)),
        way_out: format!("Leave this step out, or move it to where {this} {} off.", comes(policy, item)),
    }
}

fn never_on(policy: &Policy, event: &Event, item: ItemId) -> Said {
    let (this, are, them) = (the_item(policy, item), is_are(policy, item), it_them(policy, item));
    Said {
        title: format!("{} {are} not on", capital(&this)),
        message: format!("The hand reaches for skin or clothes here. Nothing before this step puts {this} on."),
        way_out: if event.case.is_every() {
            format!("Add the step that puts {them} on, or leave this one out.")
        } else {
            format!("Give this step the same condition as the step that puts {them} on.")
        },
    }
}

/// Never put on, and the skin is bare where the hazard is: that is told instead.
fn tells_of_bare_skin(policy: &Policy, run: &Run, event: &Event, item: ItemId) -> bool {
    run.events.iter().any(|other| {
        let What::Bare { area, .. } = other.what else { return false };
        other.who == event.who && event.case.is_every() && other.case.is_every() && policy.item(item).covers.has(area)
    })
}
