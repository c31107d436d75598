//! Hands go on to the next act uncleaned after gloves come off.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::telling::Said;
use crate::rules::{Brief, Rule};
use crate::walk::What;

pub struct Gloves;

impl Rule for Gloves {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "gloves" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("gloves.md")
    }

    /// Where the gloves are the last item, the missing end is told instead.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (run, event) in brief.events().filter(|(_, event)| event.what == What::AfterGloves) {
            let ends = brief.noticed(run, event.step, event.who, |what| *what == What::NotLast);
            if ends {
                continue;
            }
            let (title, way_out) = if event.earlier.is_some() {
                ("Hands not cleaned after the gloves come off", "Clean hands straight after this step.")
            } else {
                (
                    "Gloves changed with no hand cleaning in between",
                    "Write three steps: take off, clean hands, put on fresh ones.",
                )
            };
            findings.push(
                brief.finding(
                    self,
                    run,
                    event,
                    Said {
                        title: title.to_string(),
                        message:
                            "What came through or over the gloves stays on the hands beneath, and goes on from there. \
                              Gloves do not replace hand hygiene."
                                .to_string(),
                        way_out: way_out.to_string(),
                    },
                ),
            );
        }
    }
}
