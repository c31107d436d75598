//! After a splash to the face or a needle-stick nothing is washed, or nobody is told; nor where clean air is lost.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, Contingency, Ending, ItemId, Policy, Step};
use crate::rules::barriers::is_respirator;
use crate::rules::drills::contingency;
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::{Happening, Run, Surface, What};

pub struct Exposure;

impl Rule for Exposure {
    fn name(&self) -> Name {
        Name { family: "drill", word: "exposure" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("exposure.md")
    }

    /// Told once for each contingency. What stays on the hands is told by `drill unclean`, a drill without an end by
    /// `drill open`.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (at, drill) in policy.contingencies.iter().enumerate() {
            let is_played = |run: &&Run| run.strikes.iter().any(|strike| strike.contingency == at);
            let Some(run) = brief.walk.runs.iter().find(is_played) else { continue };
            let Some(exposure) = run.drills.iter().find(|(known, _)| *known == at).and_then(|&(_, it)| exposure(policy, it)) else {
                continue;
            };
            if drill.endings.is_empty() || leaves_it(brief, at) {
                continue;
            }
            let steps = afterwards(policy, run, drill);
            let is_washed = exposure == Exposed::Air || steps.iter().any(|step| washes(policy, step));
            let is_told = steps.iter().any(|step| says(step, &TOLD));
            let (title, harm, lacking) = match (is_washed, is_told) {
                (true, true) => continue,
                (true, false) => ("Nobody is told of a possible exposure", "Treatment that must begin soon does not begin", "nobody is told"),
                (false, true) => ("Nothing is washed after a possible exposure", "What got through stays where it is", "nothing is washed or rinsed"),
                (false, false) => {
                    ("No first aid after a possible exposure", "What got through stays, and no treatment begins", "nothing is washed, and nobody is told")
                }
            };
            let said = Said {
                title: title.to_string(),
                message: format!("{harm}. In this drill and in what it starts, {lacking}."),
                way_out: "Write it as steps, such as `does \"Rinse the eyes\"` and `does \"Call occupational health\"`.".to_string(),
            };
            findings.push(plain(self, drill.span, said));
        }
    }
}

/// Where the hazard may have come to.
#[derive(PartialEq)]
enum Exposed {
    /// Eyes, nose and mouth, or blood: there is something to wash.
    Body,
    /// The air that is breathed.
    Air,
}

fn exposure(policy: &Policy, happening: Happening) -> Option<Exposed> {
    let gives_air = |item: ItemId| is_respirator(policy, item) || policy.item(item).runs_for.is_some();
    match happening {
        Happening::Splash(areas) if areas.iter().any(|area| area.is_face()) => Some(Exposed::Body),
        Happening::Pierce(_) => Some(Exposed::Body),
        Happening::Fails(item) | Happening::Mishap(item) | Happening::Tear(item) if gives_air(item) => Some(Exposed::Air),
        _ => None,
    }
}

fn leaves_it(brief: &Brief, at: usize) -> bool {
    let is_left = |what: &What| matches!(what, What::StillNear { surface: Surface::Skin { area: Area::Hands, .. }, .. });
    brief.events().any(|(_, event)| is_left(&event.what) && contingency(brief.policy, event).is_some_and(|(of, _)| of == at))
}

/// The drill's own steps, and those of what it starts beside the taking-off, which washes hands after every entry.
fn afterwards<'a>(policy: &'a Policy, run: &Run, drill: &'a Contingency) -> Vec<&'a Step> {
    let started = drill.endings.iter().filter_map(|ending| match ending {
        Ending::Start(id) if !run.taking_off.contains(id) && !run.putting_on.contains(id) => Some(*id),
        _ => None,
    });
    drill.steps.iter().chain(started.flat_map(|id| policy.steps(id))).collect()
}

const WASHED: [&str; 6] = ["wash", "rins", "flush", "irrigat", "bath", "shower"];
const TOLD: [&str; 12] =
    ["call", "tell", "told", "report", "phone", "telephone", "ring", "inform", "notif", "alert", "bleep", "contact"];

/// A rub washes nothing out.
fn washes(policy: &Policy, step: &Step) -> bool {
    let is_soap = matches!(&step.act, Act::CleanHands(with) if policy.cleaner(with.cleaner).is_soap());
    is_soap || says(step, &WASHED)
}

/// Whether something that is done, said or confirmed has a word that begins so.
fn says(step: &Step, signs: &[&str]) -> bool {
    let mut spoken: Vec<&str> = step.prompts.say.iter().chain(&step.prompts.print_as).map(String::as_str).collect();
    match &step.act {
        Act::Other(words) => spoken.push(words),
        Act::Hold(hold) => spoken.extend(hold.confirms.iter().map(|(_, words)| words.as_str())),
        _ => {}
    }
    let spoken = spoken.join(" ").to_lowercase();
    spoken.split(|c: char| !c.is_alphanumeric()).any(|word| signs.iter().any(|sign| word.starts_with(sign)))
}
