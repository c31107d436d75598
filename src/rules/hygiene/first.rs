//! Putting on begins without hand hygiene.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::{Said, capital, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct First;

impl Rule for First {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "first" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("first.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events() {
            let What::NotFirst { item } = event.what else { continue };
            let role = &brief.policy.role(event.who).name;
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: "Putting on begins without hand hygiene".to_string(),
                    message: format!(
                        "Whatever is on the hands is carried into the kit and stays next to the skin. {} on before any hand \
                         cleaning.",
                        capital(&goes(brief, item))
                    ),
                    way_out: format!("Begin with `{role} cleans hands with …`."),
                },
            ));
        }
    }
}

/// `the gown goes`, `the gloves go`
fn goes(brief: &Brief, item: crate::policy::ItemId) -> String {
    let verb = if crate::rules::telling::is_many(brief.policy, item) { "go" } else { "goes" };
    format!("{} {verb}", the_item(brief.policy, item))
}
