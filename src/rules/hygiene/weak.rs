//! A cleaner is too weak for what it is used on.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::rules::shortfall::gathered;
use crate::rules::telling::{Said, capital};
use crate::rules::{Brief, Rule};
use crate::walk::cleaning::Shortfall;

pub struct Weak;

impl Rule for Weak {
    fn name(&self) -> Name {
        Name { family: "hygiene", word: "weak" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("weak.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for (short, further) in gathered(brief, |why| matches!(why, Shortfall::TooWeak { .. })) {
            let Shortfall::TooWeak { needs_ppm } = short.why else { continue };
            let place = if short.is_hands { "hands" } else { "surfaces" };
            let has = short.cleaner.strength_ppm.map(strength).unwrap_or_default();
            let of = short.cleaner.substance.as_ref().map(|of| format!(" {of}")).unwrap_or_default();
            let mut finding = brief.finding(
                self,
                short.run,
                short.event,
                Said {
                    title: format!("Too weak to clean {place}"),
                    message: format!(
                        "The hazard stays where it is. {} has {has}{of}; {place} need {} or more.",
                        capital(&short.cleaner.name),
                        strength(needs_ppm)
                    ),
                    way_out: format!("Use one of {} or more, as its maker says.", strength(needs_ppm)),
                },
            );
            finding.related.extend(further);
            findings.push(finding);
        }
    }
}

/// `60 %`, `0.05 % (500 ppm)`
fn strength(ppm: u64) -> String {
    let (whole, rest) = (ppm / 10_000, ppm % 10_000);
    let rest = format!("{rest:04}");
    let rest = rest.trim_end_matches('0');
    let percent = if rest.is_empty() { format!("{whole} %") } else { format!("{whole}.{rest} %") };
    if ppm < 10_000 { format!("{percent} ({ppm} ppm)") } else { percent }
}
