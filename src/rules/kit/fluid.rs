//! A level against splash whose garments are not said to resist fluid.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, LevelId, Route};
use crate::rules::barriers::{enters, resists_fluid};
use crate::rules::telling::{Said, plain, the_role};
use crate::rules::{Brief, Rule};

pub struct Fluid;

impl Rule for Fluid {
    fn name(&self) -> Name {
        Name { family: "kit", word: "fluid" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("fluid.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, level) in policy.levels.iter().enumerate() {
            if !level.routes.contains(&Route::Splash) {
                continue;
            }
            for kit in level.kits.iter().filter(|kit| enters(policy, LevelId::new(at), kit.role)) {
                let resists = kit
                    .items
                    .iter()
                    .map(|worn| policy.item(worn.item))
                    .any(|item| !item.worn_beneath && item.covers.has(Area::Trunk) && resists_fluid(item));
                if resists {
                    continue;
                }
                let who = the_role(policy, kit.role);
                findings.push(plain(
                    self,
                    kit.span,
                    Said {
                        title: "No garment is said to resist fluid".to_owned(),
                        message: format!(
                            "A splash can soak through to skin and clothes. Nothing that {who} wears is said to resist it."
                        ),
                        way_out: "Name the standard that the gown, apron or suit `meets`, or print it as fluid-resistant."
                            .to_owned(),
                    },
                ));
            }
        }
    }
}
