//! A check looks at somebody who wears nothing, or who takes no part in that putting-on or taking-off.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, ItemId, Policy, RoleId, SequenceId, Step, Target};
use crate::rules::kits::steps_of;
use crate::rules::telling::{Said, capital, fitting, plain, the_item, the_role};
use crate::rules::{Brief, Rule};
use crate::walk::Run;
use crate::walk::script::wearer_of;

pub struct Mistaken;

impl Rule for Mistaken {
    fn name(&self) -> Name {
        Name { family: "role", word: "mistaken" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("mistaken.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        for run in &brief.walk.runs {
            for (at, step) in steps_of(brief.policy, &run.putting_on).chain(steps_of(brief.policy, &run.taking_off)) {
                let Some(said) = mistaken(brief, run, at.sequence, step) else { continue };
                findings.push(plain(self, step.span, said));
            }
        }
    }
}

fn mistaken(brief: &Brief, run: &Run, sequence: SequenceId, step: &Step) -> Option<Said> {
    let policy = brief.policy;
    let unseen = "A tear or a gap goes unseen, and skin meets the hazard there.";
    let way_out = "Name the person or the item that this sequence is about.".to_string();
    match step.act {
        Act::Check(Target::Person(who)) if !brief.has_kit(run, who) => Some(Said {
            title: fitting(format!("{} has nothing on to check", capital(&the_role(policy, who))), "There is nothing on to check"),
            message: format!("{unseen} This check looks at {}, who wears no kit at this level.", the_role(policy, who)),
            way_out,
        }),
        Act::Check(Target::Person(who)) if !takes_part(policy, sequence, who) => Some(Said {
            title: "The check looks at the wrong person".to_string(),
            message: format!("{unseen} It looks at {}, who takes no part in this sequence.", the_role(policy, who)),
            way_out,
        }),
        Act::Check(Target::Person(who)) if dresses_later(policy, run, sequence, who) => Some(Said {
            title: "The check looks at the wrong person".to_string(),
            message: format!("{unseen} It looks at {}, whose kit goes on in a later sequence.", the_role(policy, who)),
            way_out,
        }),
        Act::Check(Target::Item { item, wearer }) if is_of_another(policy, run, sequence, step.actor, (item, wearer)) => Some(Said {
            title: "The check looks at somebody else's kit".to_string(),
            message: format!("{unseen} It looks at {}, which {} wears.", the_item(policy, item), the_role(policy, wearer)),
            way_out,
        }),
        _ => None,
    }
}

/// Acts in a sequence, other than by checking, or has kit handled there.
fn takes_part(policy: &Policy, sequence: SequenceId, who: RoleId) -> bool {
    let acts = |step: &Step| step.actor == who && !matches!(step.act, Act::Check(_) | Act::Hold(_));
    policy.steps(sequence).iter().any(|step| acts(step) || wearer_of(&step.act) == Some(who))
}

/// Has nothing on yet, and puts nothing on in this putting-on either, though others do.
fn dresses_later(policy: &Policy, run: &Run, sequence: SequenceId, who: RoleId) -> bool {
    let puts_on = |step: &Step| matches!(step.act, Act::PutOn { wearer, .. } if wearer == who);
    let first = run.putting_on.iter().position(|&id| policy.steps(id).iter().any(puts_on));
    let here = run.putting_on.iter().position(|&id| id == sequence);
    here.zip(first).is_some_and(|(here, first)| here < first)
}

/// Whose kit does not move here; whoever watches may look at those who help, too. What one who dresses looks at is what
/// goes on here.
fn is_of_another(policy: &Policy, run: &Run, sequence: SequenceId, actor: RoleId, (item, wearer): (ItemId, RoleId)) -> bool {
    let moves = |who: RoleId| policy.steps(sequence).iter().any(|step| wearer_of(&step.act) == Some(who));
    let is_listed = policy.level(run.level).kit(wearer).is_some_and(|kit| kit.items.iter().any(|worn| worn.item == item));
    let dresses = run.putting_on.contains(&sequence) && moves(actor) && !moves(wearer);
    is_listed && wearer != actor && (dresses || !takes_part(policy, sequence, wearer))
}
