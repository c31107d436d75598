//! Hands are cleaned with something for surfaces, or the other way round.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::shortfall::gathered;
use crate::rules::telling::{Said, capital};
use crate::rules::{Brief, Rule};
use crate::walk::cleaning::Shortfall;

pub struct Unfit;

impl Rule for Unfit {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "unfit" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("unfit.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (short, further) in gathered(brief, |why| matches!(why, Shortfall::WrongUse)) {
            let (place, risk) = if short.is_hands {
                ("hands", "The hazard may stay on the hands, and the skin may suffer.")
            } else {
                ("surfaces", "The hazard may stay on what was wiped, for the next hand to meet.")
            };
            let mut finding = brief.finding(
                self,
                short.run,
                short.event,
                Said {
                    title: format!("Cleaned with something not for {place}"),
                    message: format!("{risk} {} is not declared for {place}.", capital(&short.cleaner.name)),
                    way_out: format!(
                        "Use a cleaner for {place}, or add `for {place}` where its maker says that it is."
                    ),
                },
            );
            finding.related.extend(further);
            findings.push(finding);
        }
    }
}
