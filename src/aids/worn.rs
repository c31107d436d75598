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
    run: Option<&'a Run>,
    spells: &'a [Spell],
}

impl<'a> Worn<'a> {
    pub fn new(policy: &'a Policy, walk: &'a Walk, procedure: &'a Procedure<'a>) -> Worn<'a> {
        let run = walk.runs.iter().find(|run| procedure.sequence.is_some() && Some(run.level) == procedure.level);
        Worn { policy, procedure, run, spells: run.map(|run| run.spells.as_slice()).unwrap_or_default() }
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
        !self.spells.is_empty()
    }

    /// The count of items on the one who dresses or undresses, when a step has been done.
    pub fn still_on(&self, words: &Words, step: usize) -> Option<StillOn> {
        let count = |step: usize| {
            let kit = self.on(self.procedure.principal, step);
            kit.filter(|spell| !self.policy.item(spell.item).worn_beneath).count() as u32
        };
        let before = self.before(self.procedure.principal) as u32;
        let of = (0..self.procedure.steps.len()).map(count).max().unwrap_or_default().max(before);
        let on = count(step);
        let pattern = match (self.procedure.direction, on) {
            (Direction::PuttingOn, _) => &words.now_on,
            (_, 0) => &words.none_on,
            _ => &words.still_on,
        };
        let told = fill(pattern, &[("count", &on.to_string())]);
        (self.is_known() && of > 0).then_some(StillOn { on, of, words: told })
    }

    /// One line for each piece of kit of the one who dresses or undresses, in the order of going on or coming off.
    pub fn layers(&self) -> Vec<Layer> {
        let putting_on = self.procedure.direction == Direction::PuttingOn;
        let here = |at: Option<StepRef>| at.filter(|at| Some(at.sequence) == self.procedure.sequence).map(|at| at.step);
        let mut kept: Vec<&Spell> = self.spells.iter().filter(|spell| self.is_line(spell)).collect();
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
        here && spell.wearer == self.procedure.principal && !self.policy.item(spell.item).worn_beneath
    }

    /// How many pieces of kit a person has on before the first step.
    fn before(&self, role: RoleId) -> usize {
        let spells = self.spells.iter().filter(|spell| spell.wearer == role);
        let spells = spells.filter(|spell| !self.policy.item(spell.item).worn_beneath);
        spells.filter(|spell| self.begun(spell, None) && !self.ended(spell, None)).count()
    }

    fn on(&self, role: RoleId, step: usize) -> impl Iterator<Item = &Spell> {
        let spells = self.spells.iter().filter(move |spell| spell.wearer == role);
        spells.filter(move |spell| self.begun(spell, Some(step)) && !self.ended(spell, Some(step)))
    }

    fn begun(&self, spell: &Spell, step: Option<usize>) -> bool {
        spell.on_at.is_none_or(|at| self.is_past(at, step))
    }

    fn ended(&self, spell: &Spell, step: Option<usize>) -> bool {
        spell.off_at.is_some_and(|at| self.is_past(at, step))
    }

    /// Whether something at another step has happened when a step of this procedure has been done; none: before its first.
    fn is_past(&self, at: StepRef, step: Option<usize>) -> bool {
        let Some(here) = self.procedure.sequence else { return false };
        if at.sequence == here {
            return step.is_some_and(|step| at.step <= step);
        }
        self.turn(at.sequence) < self.turn(here)
    }

    /// In which order the walk plays the sequences. One that handles no kit belongs to the work between putting on and
    /// taking off where it stands in a contaminated place, and otherwise follows on everything.
    fn turn(&self, id: SequenceId) -> (u8, usize) {
        let Some(run) = self.run else { return (0, id.index()) };
        let among = |ids: &[SequenceId]| ids.iter().position(|&other| other == id);
        let place = self.policy.sequence(id).place.map(|place| self.policy.place(place).kind);
        match (among(&run.putting_on), among(&run.taking_off)) {
            (Some(at), _) => (0, at),
            (None, Some(at)) => (2, at),
            (None, None) if place == Some(PlaceKind::Contaminated) => (1, id.index()),
            (None, None) => (3, id.index()),
        }
    }
}
