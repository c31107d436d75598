//! What is on whom at a step, as the walk saw it in the plain case.
//!
//! In: the walk's spells. Out: counts, layers, whether hands are gloved. Must never guess where the walk has no run.

use super::plan::{Layer, StillOn};
use super::procedure::{Direction, Procedure};
use super::voice::item_name;
use super::words::Words;
use crate::aids::pattern::{capital, fill};
use crate::policy::{Area, ItemId, PlaceKind, Policy, RoleId, SequenceId};
use crate::walk::{Run, Spell, StepRef, Walk};

pub struct Worn<'a> {
    policy: &'a Policy,
    procedure: &'a Procedure<'a>,
    stretches: Vec<Stretch<'a>>,
    /// Pieces of kit on the one who dresses or undresses, by steps done.
    counts: Vec<u32>,
}

/// A spell, seen from one procedure: on from when `from` of its steps are done until `to` are.
struct Stretch<'a> {
    spell: &'a Spell,
    from: usize,
    to: usize,
}

impl<'a> Worn<'a> {
    pub fn new(policy: &'a Policy, walk: &'a Walk, procedure: &'a Procedure<'a>) -> Worn<'a> {
        let run = walk.runs.iter().find(|run| procedure.sequence.is_some() && Some(run.level) == procedure.level);
        let moment = |run: &Run, at: StepRef| match procedure.sequence {
            Some(here) if at.sequence == here => at.step + 1,
            Some(here) if turn(policy, run, at.sequence) < turn(policy, run, here) => 0,
            _ => usize::MAX,
        };
        let stretch = |run: &'a Run, spell: &'a Spell| Stretch {
            spell,
            from: spell.on_at.map_or(0, |at| moment(run, at)),
            to: spell.off_at.map_or(usize::MAX, |at| moment(run, at)),
        };
        let stretches = run.into_iter().flat_map(|run| run.spells.iter().map(move |spell| stretch(run, spell)));
        let mut worn = Worn { policy, procedure, stretches: stretches.collect(), counts: Vec::new() };
        worn.counts = worn.counted();
        worn
    }

    /// Whether gloves cover the hands of a person at a step.
    pub fn gloved(&self, role: RoleId, step: usize) -> bool {
        self.on(role, step).any(|spell| self.policy.item(spell.item).covers.has(Area::Hands))
    }

    /// Whether a person has an item on when a step has been done.
    pub fn has_on(&self, role: RoleId, item: ItemId, step: usize) -> bool {
        self.on(role, step).any(|spell| spell.item == item)
    }

    /// False where nothing is known of what anybody wears.
    pub fn is_known(&self) -> bool {
        !self.stretches.is_empty()
    }

    /// The count of items on the one who dresses or undresses, when a step has been done.
    pub fn still_on(&self, words: &Words, step: usize) -> Option<StillOn> {
        let of = self.counts.iter().copied().max().unwrap_or_default();
        let on = self.counts.get(step + 1).copied().unwrap_or_default();
        let pattern = match (self.procedure.direction, on) {
            (Direction::PuttingOn, _) => &words.now_on,
            (_, 0) => &words.none_on,
            _ => &words.still_on,
        };
        let told = fill(pattern, &[("count", &on.to_string())]);
        (of > 0).then_some(StillOn { on, of, words: told })
    }

    /// One line for each piece of kit of the one who dresses or undresses, in the order of going on or coming off.
    pub fn layers(&self) -> Vec<Layer> {
        let putting_on = self.procedure.direction == Direction::PuttingOn;
        let here = |at: Option<StepRef>| at.filter(|at| Some(at.sequence) == self.procedure.sequence).map(|at| at.step);
        let spells = self.stretches.iter().map(|stretch| stretch.spell);
        let mut kept: Vec<&Spell> = spells.filter(|spell| self.is_line(spell)).collect();
        kept.sort_by_key(|spell| {
            let (on, off) = (here(spell.on_at), here(spell.off_at));
            if putting_on { (on.map_or(0, |at| at + 1), 0) } else { (off.unwrap_or(usize::MAX), on.unwrap_or(0)) }
        });
        let number = |at: Option<StepRef>| here(at).and_then(|step| self.procedure.number_at(step));
        kept.into_iter()
            .map(|spell| Layer {
                name: capital(&item_name(self.policy, spell.item)),
                from: number(spell.on_at),
                to: number(spell.off_at),
            })
            .collect()
    }

    fn is_line(&self, spell: &Spell) -> bool {
        let touched = [spell.on_at, spell.off_at].into_iter().flatten();
        let here = touched.into_iter().any(|at| Some(at.sequence) == self.procedure.sequence);
        here && self.counts_as_kit(spell)
    }

    /// A piece of kit of the one who dresses or undresses; what is worn beneath is none.
    fn counts_as_kit(&self, spell: &Spell) -> bool {
        spell.wearer == self.procedure.principal && !self.policy.item(spell.item).worn_beneath
    }

    fn on(&self, role: RoleId, step: usize) -> impl Iterator<Item = &Spell> {
        let done = step + 1;
        let on = self.stretches.iter().filter(move |stretch| stretch.from <= done && done < stretch.to);
        on.map(|stretch| stretch.spell).filter(move |spell| spell.wearer == role)
    }

    fn counted(&self) -> Vec<u32> {
        let mut changes = vec![0i64; self.procedure.steps.len() + 1];
        for stretch in self.stretches.iter().filter(|stretch| self.counts_as_kit(stretch.spell)) {
            if stretch.from < stretch.to && stretch.from < changes.len() {
                changes[stretch.from] += 1;
                if stretch.to < changes.len() {
                    changes[stretch.to] -= 1;
                }
            }
        }
        let running = changes.into_iter().scan(0i64, |on, change| {
            *on += change;
            Some(u32::try_from(*on).unwrap_or_default())
        });
        running.collect()
    }
}

/// In which order the walk plays the sequences. One that handles no kit belongs to the work between putting on and
/// taking off where it stands in a contaminated place, and otherwise follows on everything.
fn turn(policy: &Policy, run: &Run, id: SequenceId) -> (u8, usize) {
    let among = |ids: &[SequenceId]| ids.iter().position(|&other| other == id);
    let place = policy.sequence(id).place.map(|place| policy.place(place).kind);
    match (among(&run.putting_on), among(&run.taking_off)) {
        (Some(at), _) => (0, at),
        (None, Some(at)) => (2, at),
        (None, None) if place == Some(PlaceKind::Contaminated) => (1, id.index()),
        (None, None) => (3, id.index()),
    }
}
