//! An item runs out before its wearer has it off, if they stay as long as they may.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::Seconds;
use crate::rules::telling::{Said, fitting, known_words, plain, the_item, the_role};
use crate::rules::{Brief, Rule};

pub struct Battery;

impl Rule for Battery {
    fn name(&self) -> Name {
        Name { family: "time", word: "battery" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("battery.md")
    }

    /// At CAUTION where only the reserve is touched. The stay that the level allows, and the wearer's own steps before and after it as far as they have a time.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for battery in &brief.walk.times.batteries {
            let item = policy.item(battery.item);
            let what = the_item(policy, battery.item);
            let needs = Seconds(battery.stay.0.saturating_add(battery.besides.0));
            let runs_out = needs > battery.runs_for;
            let (title, plainer, risk) = if runs_out {
                (format!("The battery of {what} may run out"), "A battery may run out before the kit is off", "may stop")
            } else {
                (format!("The battery of {what} has no reserve"), "A battery has no reserve", "stops soon, should anything be slow,")
            };
            let said = Said {
                title: fitting(title, plainer),
                message: format!(
                    "It {risk} while {} is still in kit. It runs for {}; the stay and the steps around it take {needs}.",
                    the_role(policy, battery.who),
                    battery.runs_for
                ),
                way_out: "Shorten the stay, or plan the change to a fresh battery.".to_string(),
            };
            let span = policy
                .level(battery.level)
                .kit(battery.who)
                .and_then(|kit| kit.items.iter().find(|worn| worn.item == battery.item))
                .map_or(policy.level(battery.level).span, |worn| worn.span);
            findings.push(Finding {
                signal: if runs_out { self.signal() } else { Signal::Caution },
                case: known_words(policy, &battery.case),
                related: vec![(item.span, format!("{} runs for {}", item.name, battery.runs_for))],
                ..plain(self, span, said)
            });
        }
    }
}
