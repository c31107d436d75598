//! At a high-consequence level, kit comes off unseen: nobody looks before the first item, or at the last gloves.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Area, ItemId, Policy, RoleId, Step, Target};
use crate::rules::kits::{first_off, is_glove, layers_of_gloves, steps_of, those_who_go_in};
use crate::rules::telling::{Said, plain, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, StepRef};

pub struct Inspection;

impl Rule for Inspection {
    fn name(&self) -> Name {
        Name { family: "hold", word: "inspection" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("inspection.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for (run, who) in those_who_go_in(policy, brief.walk) {
            if let Some(at) = first_off(policy, run, who).filter(|&at| !is_seen_before(policy, run, who, at)) {
                findings.push(self.told(brief, at, before_the_first(policy, who)));
            }
            if let Some(at) = last_gloves_unseen(policy, run, who) {
                findings.push(self.told(brief, at, before_the_last(policy, who)));
            }
        }
    }
}

impl Inspection {
    fn told(&self, brief: &Brief, at: StepRef, said: Said) -> Finding {
        let step = brief.step(at);
        plain(self, step.span, said)
    }
}

fn before_the_first(policy: &Policy, who: RoleId) -> Said {
    Said {
        title: "Nobody looks before the first item comes off".to_string(),
        message: format!(
            "A tear or wet soil goes unseen, and hands and clothes find it first. Nobody inspects {} before this step.",
            the_role(policy, who)
        ),
        way_out: format!("Before it, let somebody check {}, such as `observer checks …`.", the_role(policy, who)),
    }
}

fn before_the_last(policy: &Policy, who: RoleId) -> Said {
    Said {
        title: "Nobody looks at the last gloves before they come off".to_string(),
        message: format!(
            "Through a hole that nobody sees, the hazard is on the hands of {} already. The last gloves come off uninspected.",
            the_role(policy, who)
        ),
        way_out: "Once the outer gloves are off, add a step that checks the gloves beneath.".to_string(),
    }
}

/// Looked at by somebody, or by the wearer, between the hazard and this step.
fn is_seen_before(policy: &Policy, run: &Run, who: RoleId, until: StepRef) -> bool {
    let between = policy.sequences_of(run.level).map(|(id, _)| id);
    let between: Vec<_> =
        between.filter(|id| !run.putting_on.contains(id) && !run.taking_off.contains(id)).collect();
    let before = steps_of(policy, &run.taking_off).take_while(|(at, _)| *at != until);
    let mut steps = steps_of(policy, &between).chain(before);
    steps.any(|(_, step)| step.guard.is_always() && (looks(step, who) || is_told_to_look(step, who)))
}

/// The step that takes the last of several gloves off, where nobody has looked since the ones above them came off.
fn last_gloves_unseen(policy: &Policy, run: &Run, who: RoleId) -> Option<StepRef> {
    if layers_of_gloves(policy, run, who) < 2 {
        return None;
    }
    let mut on: Vec<ItemId> = run
        .spells
        .iter()
        .filter(|spell| spell.wearer == who && is_glove(policy, spell.item))
        .filter(|spell| spell.on_at.is_none_or(|at| run.putting_on.contains(&at.sequence)))
        .map(|spell| spell.item)
        .collect();
    let mut seen = false;
    for (at, step) in steps_of(policy, &run.taking_off) {
        let of_gloves = is_told_to_look(step, who) && speaks_of_gloves(step);
        seen |= step.guard.is_always() && (of_gloves || looks(step, who) && concerns_gloves(policy, step));
        let gone: Vec<ItemId> = match &step.act {
            Act::TakeOff { wearer, item, together_with, .. } if *wearer == who => {
                std::iter::once(item).chain(together_with).copied().filter(|item| on.contains(item)).collect()
            }
            Act::Change { wearer, item } if *wearer == who && on.contains(item) => vec![*item],
            _ => continue,
        };
        on.retain(|item| !gone.contains(item));
        match (gone.is_empty(), on.is_empty()) {
            (true, _) => {}
            (false, true) => return (!seen && step.guard.is_always()).then_some(at),
            // What is looked for while the upper ones come off shows the ones beneath.
            (false, false) => seen = of_gloves,
        }
    }
    None
}

/// A check of the person or of something worn, or a hold about the state of the kit: that the bin is open is no look at it.
fn looks(step: &Step, who: RoleId) -> bool {
    match step.act {
        Act::Check(Target::Person(person)) => person == who,
        Act::Check(Target::Item { wearer, .. }) => wearer == who,
        Act::Hold(ref hold) => {
            std::iter::once(&hold.title).chain(hold.confirms.iter().map(|(_, words)| words)).any(|words| is_of_state(words))
        }
        _ => false,
    }
}

/// A check of the whole person is one of the gloves too; a check of the suit is none, nor is a hold about something else.
fn concerns_gloves(policy: &Policy, step: &Step) -> bool {
    match &step.act {
        Act::Check(Target::Item { item, .. }) => policy.item(*item).covers.has(Area::Hands),
        Act::Hold(hold) => hold.confirms.iter().any(|(_, words)| is_of_gloves(words)),
        _ => true,
    }
}

/// Something to look for, or to stop for, beneath a step that is the person's own or is done to them.
fn is_told_to_look(step: &Step, who: RoleId) -> bool {
    let theirs = step.actor == who || matches!(step.act, Act::TakeOff { wearer, .. } if wearer == who);
    theirs && !(step.prompts.look_for.is_empty() && step.prompts.stop_if.is_empty())
}

fn speaks_of_gloves(step: &Step) -> bool {
    step.prompts.look_for.iter().chain(&step.prompts.stop_if).any(|words| is_of_gloves(words))
}

fn is_of_gloves(words: &str) -> bool {
    let words = words.to_lowercase();
    ["glove", "hands", "tear", "torn", "hole"].iter().any(|sign| words.contains(sign))
}

fn is_of_state(words: &str) -> bool {
    const SIGNS: [&str; 14] = [
        "tear", "torn", "hole", "split", "soil", "wet", "dry", "whole", "intact", "damage", "inspect", "look", "glove", "gap",
    ];
    let words = words.to_lowercase();
    SIGNS.iter().any(|sign| words.contains(sign))
}
