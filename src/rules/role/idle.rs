//! A role is declared and appears in no step, hold or kit.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Act, Policy, RoleId, Step, Target};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::script::wearer_of;

pub struct Idle;

impl Rule for Idle {
    fn name(&self) -> Name {
        Name { family: "role", word: "idle" }
    }
    fn signal(&self) -> Signal {
        Signal::Notice
    }
    fn kind(&self) -> Kind {
        Kind::Law
    }
    fn page(&self) -> &'static str {
        include_str!("idle.md")
    }

    /// Silent while a step could not be read: it may be that one's. Who leads need not act; nor need
    /// all of those whom a shared file lists.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        if !policy.gaps.is_empty() {
            return;
        }
        for (at, role) in policy.roles.iter().enumerate() {
            let who = RoleId::new(at);
            let shared = policy.sequences.iter().all(|sequence| sequence.span.source != role.span.source);
            if role.leads || shared || brief.has_problem_in(role.span) || takes_part(policy, who) {
                continue;
            }
            let said = Said {
                title: "A role that never acts".to_string(),
                message: format!(
                    "Readers wait for somebody who has nothing to do. The {} appears in no step, hold or kit.",
                    role.name
                ),
                way_out: "Say what this role does, or take its line out.".to_string(),
            };
            findings.push(plain(self, role.span, said));
        }
    }
}

fn takes_part(policy: &Policy, who: RoleId) -> bool {
    let mut steps = policy
        .sequences
        .iter()
        .flat_map(|sequence| &sequence.steps)
        .chain(policy.contingencies.iter().flat_map(|drill| &drill.steps));
    steps.any(|step| concerns(step, who))
        || policy.levels.iter().any(|level| level.kit(who).is_some())
        || policy.contingencies.iter().any(|drill| drill.event.role == Some(who))
}

fn concerns(step: &Step, who: RoleId) -> bool {
    match &step.act {
        Act::Hold(hold) => hold.confirms.iter().any(|&(role, _)| role == who),
        Act::Check(Target::Person(other)) => step.actor == who || *other == who,
        act => step.actor == who || wearer_of(act) == Some(who),
    }
}
