//! Plays the procedure on a small model of people, layers, hands and surfaces, over every case, and keeps what came near.
//!
//! In: a policy. Out: a [`Walk`]. Must never print, and never decide whether what it saw is a fault.

use serde::Serialize;

use crate::policy::{ItemId, LevelId, RoleId, SequenceId};

/// What the walk saw, a run for each level that has sequences.
#[derive(Clone, Debug, Default)]
pub struct Walk {
    pub runs: Vec<Run>,
}

/// One level, from clean to clean.
#[derive(Clone, Debug)]
pub struct Run {
    pub level: LevelId,
    /// Each piece of kit, by when it goes on and comes off in the plain case (nothing found wrong, no hold failing,
    /// everything supplied).
    pub spells: Vec<Spell>,
}

/// A step of a sequence.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct StepRef {
    pub sequence: SequenceId,
    pub step: usize,
}

/// One item of one person from the step that puts it on to the step that takes it off.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Spell {
    pub wearer: RoleId,
    pub item: ItemId,
    /// None for what is worn from the beginning.
    pub on_at: Option<StepRef>,
    /// None for what is never taken off.
    pub off_at: Option<StepRef>,
}
