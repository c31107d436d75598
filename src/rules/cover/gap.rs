//! Nothing says that glove and sleeve overlap, and their wearer meets the hazard.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{ItemId, RoleId};
use crate::rules::telling::{Said, listed, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Gap;

impl Rule for Gap {
    fn name(&self) -> Name {
        Name { family: "cover", word: "gap" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("gap.md")
    }

    /// Once for each person and pair, at the first step where it matters.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told: Vec<(RoleId, ItemId, ItemId)> = Vec::new();
        for (run, event) in brief.events() {
            let What::Gap { glove, sleeve } = event.what else { continue };
            // Own clothes are no sleeve: that the arms are bare is told instead.
            if policy.item(sleeve).worn_beneath || told.contains(&(event.who, glove, sleeve)) {
                continue;
            }
            told.push((event.who, glove, sleeve));
            let both = listed(&[the_item(policy, glove), the_item(policy, sleeve)]);
            findings.push(brief.finding(
                self,
                run,
                event,
                Said {
                    title: "Skin can show between glove and sleeve".to_string(),
                    message: format!(
                        "The hazard can reach bare skin at the wrist when the arm stretches. Nothing says that {both} overlap."
                    ),
                    way_out: format!(
                        "Beneath the {} write which lies on top, such as `goes over {}`.",
                        policy.item(glove).name,
                        policy.item(sleeve).name
                    ),
                },
            ));
        }
    }
}
