//! Gloves and sleeves lie the wrong way round: the outer gloves beneath the cuff, or the inner ones over it.

use crate::findings::{Finding, Kind, Name, Signal};
use crate::policy::{Area, ItemId, Policy, RoleId};
use crate::rules::kits::is_glove;
use crate::rules::telling::{Said, capital, is_many, plain, played_at, the_item};
use crate::rules::{Brief, Rule};
use crate::walk::{Run, Spell};

pub struct Cuff;

impl Rule for Cuff {
    fn name(&self) -> Name {
        Name { family: "cover", word: "cuff" }
    }
    fn signal(&self) -> Signal {
        Signal::Warning
    }
    fn kind(&self) -> Kind {
        Kind::Guidance
    }
    fn page(&self) -> &'static str {
        include_str!("cuff.md")
    }

    /// Told where the gloves go on, once for each person and pair.
    fn inspect(&self, brief: &Brief, findings: &mut Vec<Finding>) {
        let policy = brief.policy;
        let mut told = Vec::new();
        for run in &brief.walk.runs {
            for kit in &policy.level(run.level).kits {
                for wrong in wrong_way_round(policy, run, kit.role) {
                    let key = (kit.role, wrong.glove, wrong.sleeve);
                    if told.contains(&key) {
                        continue;
                    }
                    told.push(key);
                    let glove = policy.item(wrong.glove);
                    let at = wrong.on_at.map(|at| brief.step(at));
                    findings.push(Finding {
                        related: vec![(glove.span, format!("Here the {} are declared.", glove.name))],
                        ..plain(self, at.map_or(glove.span, |step| step.span), wrong.said(policy))
                    });
                }
            }
        }
    }
}

struct Wrong {
    glove: ItemId,
    sleeve: ItemId,
    on_at: Option<crate::walk::StepRef>,
    is_inner: bool,
}

impl Wrong {
    fn said(&self, policy: &Policy) -> Said {
        let (glove, sleeve) = (the_item(policy, self.glove), the_item(policy, self.sleeve));
        let lie = if is_many(policy, self.glove) { "lie" } else { "lies" };
        if self.is_inner {
            return Said {
                title: "Inner gloves over the cuff of the sleeve".to_string(),
                message: format!(
                    "When the garment comes off, the last gloves come with it and the hands are bare. {} {lie} over {sleeve}.",
                    capital(&glove)
                ),
                way_out: format!("Beneath the {} write `goes over {}`.", policy.item(self.sleeve).name, policy.item(self.glove).name),
            };
        }
        Said {
            title: "Sleeve over the cuff of the outermost gloves".to_string(),
            message: format!(
                "The sleeve rides up when the arm stretches, and the wrist shows. {} {lie} beneath {sleeve}.",
                capital(&glove)
            ),
            way_out: format!("Beneath the {} write `goes over {}`.", policy.item(self.glove).name, policy.item(self.sleeve).name),
        }
    }
}

fn wrong_way_round(policy: &Policy, run: &Run, who: RoleId) -> Vec<Wrong> {
    let worn: Vec<&Spell> = run.spells.iter().filter(|spell| spell.wearer == who).collect();
    let is_sleeve = |item: ItemId| {
        let item = policy.item(item);
        item.covers.has(Area::Arms) && !item.covers.has(Area::Hands) && !item.worn_beneath
    };
    let sleeves: Vec<ItemId> = worn.iter().map(|spell| spell.item).filter(|&item| is_sleeve(item)).collect();
    // Fresh gloves for the face, once the garment is off, meet no cuff.
    let from_the_start = |spell: &Spell| spell.on_at.is_none_or(|at| run.putting_on.contains(&at.sequence));
    let gloves: Vec<&&Spell> =
        worn.iter().filter(|spell| is_glove(policy, spell.item) && from_the_start(spell)).collect();
    let mut wrong = Vec::new();
    for spell in &gloves {
        let glove = spell.item;
        let over: Vec<ItemId> = sleeves.iter().copied().filter(|&sleeve| lies_over(policy, glove, sleeve)).collect();
        let under: Vec<ItemId> = sleeves.iter().copied().filter(|&sleeve| lies_over(policy, sleeve, glove)).collect();
        // One pair beneath the sleeve of a suit stays on while the suit comes off: CDC, H5N1 and farm animals, 2024 [S3]. The
        // bodies that want the cuff over the sleeve speak of gowns there.
        let is_suit = |sleeve: &ItemId| policy.item(*sleeve).covers.has(Area::Legs);
        let under: Vec<ItemId> = under.into_iter().filter(|sleeve| gloves.len() > 1 || !is_suit(sleeve)).collect();
        let is_inner = gloves.iter().any(|other| goes_on_over(policy, run, other, spell));
        let against = match (is_inner, over.first(), under.first()) {
            (true, Some(&sleeve), None) | (false, None, Some(&sleeve)) => sleeve,
            _ => continue,
        };
        wrong.push(Wrong { glove, sleeve: against, on_at: spell.on_at, is_inner });
    }
    wrong
}

/// The edge of the one lies over that of the other.
fn lies_over(policy: &Policy, upper: ItemId, lower: ItemId) -> bool {
    policy.item(upper).goes_over.contains(&lower) || policy.item(lower).tucks_into.contains(&upper)
}

/// Other gloves that go on over these while these are on.
fn goes_on_over(policy: &Policy, run: &Run, other: &Spell, these: &Spell) -> bool {
    let when = |at| played_at(run, Some(at));
    let later = match (other.on_at, these.on_at) {
        (Some(other), Some(these)) => when(other) > when(these),
        (Some(_), None) => true,
        (None, _) => false,
    };
    let before_off = match (other.on_at, these.off_at) {
        (Some(on), Some(off)) => when(on) < when(off),
        _ => true,
    };
    other.item != these.item && (lies_over(policy, other.item, these.item) || later && before_off)
}
