//! Nobody cleans their hands after the last item.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::Said;
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Last;

impl Rule for Last {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "last" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("last.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events().filter(|(_, event)| event.what == What::NotLast) {
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: "No hand hygiene after the last item".to_string(),
                    message: "What the last item leaves on the hands goes on to face, doors and colleagues. Nothing cleans \
                              them after this step."
                        .to_string(),
                    way_out: format!("End with `{} cleans hands with …`.", brief.policy.role(event.who).name),
                },
            ));
        }
    }
}
