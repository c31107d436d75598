//! A tight-fitting respirator that is not said to need a fit test.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::ItemId;
use crate::rules::barriers::is_tight;
use crate::rules::telling::{Said, plain, the_item};
use crate::rules::{Brief, Rule};

pub struct Fit;

impl Rule for Fit {
    fn name(&self) -> Name {
        Name { family: "kit", word: "fit" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("fit.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, item) in policy.items.iter().enumerate() {
            if !is_tight(item) || item.needs_fit_test {
                continue;
            }
            let what = the_item(policy, ItemId::new(at));
            findings.push(plain(
                self,
                item.span,
                Said {
                    title: "A tight-fitting respirator needs a fit test".to_owned(),
                    message: format!(
                        "Where {what} does not fit the face, air comes in past its edge. A fit test finds that out beforehand."
                    ),
                    way_out: "Write `needs fit test` beneath the item.".to_owned(),
                },
            ));
        }
    }
}
