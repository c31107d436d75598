//! A sharp thing goes into a container that is not for sharps.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Purpose;
use crate::rules::ends::ends;
use crate::rules::telling::{Said, plain, the_item};
use crate::rules::{Brief, Rule};

pub struct Sharps;

impl Rule for Sharps {
    fn name(&self) -> Name {
        Name { family: "waste", word: "sharps" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("sharps.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for end in ends(policy) {
            let container = policy.container(end.container);
            if !policy.item(end.item).sharp || container.purpose == Some(Purpose::Sharps) {
                continue;
            }
            findings.push(plain(
                self,
                end.span,
                Said {
                    title: "A sharp item goes into the wrong container".to_owned(),
                    message: format!(
                        "It pierces the hand that next lifts the {}. Only a container for sharps holds {}.",
                        container.name,
                        the_item(policy, end.item)
                    ),
                    way_out: "Send it to a container that is `for sharps`.".to_owned(),
                },
            ));
        }
    }
}
