//! A hold is confirmed only by the person whose kit it is about.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{HoldPoint, Policy, RoleId};
use crate::rules::telling::{Said, plain};
use crate::rules::{Brief, Rule};
use crate::walk::script::wearer_of;

pub struct Oneself;

impl Rule for Oneself {
    fn name(&self) -> Name {
        Name { family: "hold", word: "oneself" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("oneself.md")
    }

    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        for point in policy.holds() {
            let Some(who) = confirms_alone(&point) else { continue };
            let name = &policy.role(who).name;
            let said = Said {
                title: "The hold rests on one pair of eyes".to_string(),
                message: format!(
                    "Nobody sees the back of their own neck, or their own cheeks. At this hold, the {name} alone confirms \
                     what the {name} wears."
                ),
                way_out: match another(policy, who) {
                    Some(other) => format!("Let the {} confirm this hold, too.", policy.role(other).name),
                    None => "Declare a second role, such as a buddy who watches, and let that one confirm.".to_string(),
                },
            };
            findings.push(plain(self, point.step().span, said));
        }
    }
}

/// The one role that confirms, where the steps around the hold handle the kit of that role and of nobody else.
fn confirms_alone(point: &HoldPoint) -> Option<RoleId> {
    let &(who, _) = point.hold.confirms.first()?;
    let mut wearers = point.steps.iter().filter_map(|step| wearer_of(&step.act)).peekable();
    let alone = point.hold.confirms.iter().all(|&(role, _)| role == who);
    (alone && wearers.peek().is_some() && wearers.all(|wearer| wearer == who)).then_some(who)
}

/// Who could look: somebody who watches, or anybody else.
fn another(policy: &Policy, who: RoleId) -> Option<RoleId> {
    let others = || (0..policy.roles.len()).map(RoleId::new).filter(|&role| role != who);
    others().find(|&role| policy.role(role).watches).or_else(|| others().next())
}
