//! A level against a route of the hazard without the kit that stops that route.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, Areas, Kit as Worn, LevelId, Policy, Route as Way};
use crate::rules::barriers::{enters, is_respirator};
use crate::rules::telling::{Said, plain, the_role};
use crate::rules::{Brief, Rule};

pub struct Route;

impl Rule for Route {
    fn name(&self) -> Name {
        Name { family: "kit", word: "route" }
    }
    fn signal(&self) -> Signal {
        Signal::Danger
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("route.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, level) in policy.levels.iter().enumerate() {
            for kit in level.kits.iter().filter(|kit| enters(policy, LevelId::new(at), kit.role)) {
                for (way, lacks) in level.routes.iter().filter_map(|&way| Some((way, lacks(policy, kit, way)?))) {
                    let who = the_role(policy, kit.role);
                    findings.push(plain(
                        self,
                        kit.span,
                        Said {
                            title: format!("Nothing stops the {} route", way.word()),
                            message: format!("{} At the level {} {who} wears {lacks}.", harm(way), level.name,),
                            way_out: format!("List {} for {who} at this level.", cure(way)),
                        },
                    ));
                }
            }
        }
    }
}

/// What the kit lacks against a route, in words; none where it has it.
fn lacks(policy: &Policy, kit: &Worn, way: Way) -> Option<&'static str> {
    let items = || kit.items.iter().map(|worn| policy.item(worn.item)).filter(|item| !item.worn_beneath);
    let covered = items().fold(Areas::NONE, |covered, item| covered.or(item.covers));
    let has = |areas: &[Area]| areas.iter().all(|&area| covered.has(area));
    match way {
        Way::Contact if !has(&[Area::Hands]) => Some("no gloves"),
        Way::Splash if !has(&[Area::Eyes, Area::Nose, Area::Mouth]) => {
            Some("nothing over eyes, nose and mouth together")
        }
        Way::Droplet if !has(&[Area::Nose, Area::Mouth]) => Some("nothing over nose and mouth"),
        Way::Airborne if !kit.items.iter().any(|worn| is_respirator(policy, worn.item)) => {
            Some("no respirator that meets a standard")
        }
        _ => None,
    }
}

fn harm(way: Way) -> &'static str {
    match way {
        Way::Airborne => "The hazard is breathed in.",
        Way::Splash => "A splash reaches eyes, nose or mouth.",
        Way::Droplet => "Droplets reach nose and mouth.",
        Way::Contact | Way::Sharps => "Bare hands meet the hazard.",
    }
}

fn cure(way: Way) -> &'static str {
    match way {
        Way::Airborne => "a respirator and the standard that it `meets`",
        Way::Splash => "what covers eyes, nose and mouth",
        Way::Droplet => "a mask",
        Way::Contact | Way::Sharps => "gloves",
    }
}
