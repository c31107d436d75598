//! At a high-consequence level, somebody who helps touches contaminated kit, and nobody has looked at theirs.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Policy, RoleId, Step, Target};
use crate::rules::barriers::enters;
use crate::rules::kits::{is_high_consequence, steps_of};
use crate::rules::telling::{Said, capital, fitting, plain, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::script::wearer_of;
use crate::walk::{Run, StepRef, What};

pub struct Unready;

impl Rule for Unready {
    fn name(&self) -> Name {
        Name { family: "role", word: "unready" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("unready.md")
    }

    /// Whoever goes in is the matter of `hold absent`, and who has no kit at all that of `role unkitted`. Kit that no
    /// sequence puts on is taken to be on, and the report says so.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for run in brief.walk.runs.iter().filter(|run| is_high_consequence(policy, run)) {
            let people = policy.level(run.level).kits.iter().map(|kit| kit.role);
            for who in people.filter(|&who| !enters(policy, run.level, who)) {
                let Some((last, touch)) = unseen(policy, run, who) else { continue };
                let (step, helper) = (brief.step(touch), the_role(policy, who));
                let said = Said {
                    title: fitting(format!("Nobody has checked {helper} before this"), "Nobody has checked the helper before this"),
                    message: format!(
                        "Through a gap that nobody has seen, the hazard is on the skin. {} touches contaminated kit, and \
                         nobody has looked since the last item went on.",
                        capital(&helper)
                    ),
                    way_out: format!("After the last item, add a hold at which a second person looks at {helper}."),
                };
                findings.push(Finding {
                    related: vec![(brief.step(last).span, format!("The last item goes on here: {}", brief.step(last).words))],
                    ..plain(self, step.span, said)
                });
            }
        }
    }
}

/// The step at which somebody's last item goes on and the first at which they touch another's kit in its taking-off, where
/// nobody looks at them between the two.
fn unseen(policy: &Policy, run: &Run, who: RoleId) -> Option<(StepRef, StepRef)> {
    let puts_on = |step: &Step| matches!(step.act, Act::PutOn { wearer, .. } if wearer == who);
    let touches = |at: StepRef| {
        let handles = |what: &What| matches!(what, What::Handles { .. });
        run.events.iter().any(|event| event.step == Some(at) && event.actor == who && handles(&event.what))
    };
    let (last, _) = steps_of(policy, &run.putting_on).filter(|(_, step)| puts_on(step)).last()?;
    let (touch, _) = steps_of(policy, &run.taking_off).find(|&(at, _)| touches(at))?;
    let after = steps_of(policy, &run.putting_on).skip_while(|&(at, _)| at != last);
    let before = steps_of(policy, &run.taking_off).take_while(|&(at, _)| at != touch);
    (!after.chain(before).any(|(at, step)| looks(policy, at, step, who))).then_some((last, touch))
}

/// A check of them, or a hold of a sequence that handles their kit or that says that they are ready.
fn looks(policy: &Policy, at: StepRef, step: &Step, who: RoleId) -> bool {
    let is_seen = match &step.act {
        Act::Check(Target::Person(person)) => *person == who,
        Act::Check(Target::Item { wearer, .. }) => *wearer == who && step.actor != who,
        Act::Hold(hold) => {
            let is_theirs = policy.steps(at.sequence).iter().any(|step| wearer_of(&step.act) == Some(who));
            is_theirs || hold.confirms.iter().any(|(_, words)| says_ready(&policy.role(who).name, words))
        }
        _ => false,
    };
    is_seen && step.guard.is_always()
}

/// “The helper is ready”: that the helper stands behind says nothing of what the helper wears.
fn says_ready(name: &str, words: &str) -> bool {
    let words = words.to_lowercase();
    words.contains(&name.to_lowercase()) && ["ready", "kit", "dressed", "glove", "gown"].iter().any(|sign| words.contains(sign))
}
