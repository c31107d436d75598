//! The hands that took off a garment reach for a face item uncleaned.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::kits::is_high_consequence;
use crate::rules::telling::{Said, fitting, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Face;

impl Rule for Face {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "face" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("face.md")
    }

    /// Strong everywhere. At DANGER where no body at that level leaves it out (GUIDANCE.md U3), and every outside that the hands
    /// took hold of counts as contaminated: the high-consequence levels.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events() {
            let What::BeforeFace { item } = event.what else { continue };
            let thing = the_item(brief.policy, item);
            let finding = brief.finding(
                self,
                run,
                event,
                Said {
                    title: fitting(format!("Hands not cleaned before {thing}"), "Hands not cleaned before the face"),
                    message: "What the garment left on the hands comes close to eyes, nose and mouth. No hand cleaning lies \
                              in between."
                        .to_string(),
                    way_out: "Clean hands just before this step.".to_string(),
                },
            );
            let signal = if is_high_consequence(brief.policy, run) { Signal::Danger } else { finding.signal };
            findings.push(Finding { signal, ..finding });
        }
    }
}
