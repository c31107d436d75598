//! Reusable kit goes into waste, or single-use kit into the box for reuse.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Purpose;
use crate::rules::ends::ends;
use crate::rules::telling::{Said, capital, plain, the_item};
use crate::rules::{Brief, Rule};

pub struct Reusable;

impl Rule for Reusable {
    fn name(&self) -> Name {
        Name { family: "waste", word: "reusable" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("reusable.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for end in ends(policy) {
            let (item, container) = (policy.item(end.item), policy.container(end.container));
            let what = the_item(policy, end.item);
            let said = match container.purpose {
                Some(Purpose::Reuse) if item.single_use => Said {
                    title: "A single-use item goes into the box for reuse".to_owned(),
                    message: format!(
                        "The next wearer puts on a contaminated piece. {} is for single use.",
                        capital(&what)
                    ),
                    way_out: "Send it to a container for waste.".to_owned(),
                },
                Some(Purpose::Waste | Purpose::Sharps) if item.reused_after.is_some() => Said {
                    title: "A reusable item goes into waste".to_owned(),
                    message: format!(
                        "The next wearer finds no {} and goes without. This line throws away what is to be cleaned.",
                        item.name
                    ),
                    way_out: "Send it to a container that is `for reuse`.".to_owned(),
                },
                _ => continue,
            };
            findings.push(plain(self, end.span, said));
        }
    }
}
