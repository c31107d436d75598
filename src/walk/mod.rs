//! Plays the procedure on a small model of people, layers, hands and surfaces, over every case, and keeps what came near.
//!
//! In: a policy. Out: a [`Walk`]. Must never print, and never decide whether what it saw is a fault.
//!
//! [`script`] says in which order sequences are played, [`cast`] who takes part, [`play`] branches and merges, entry by
//! entry of a [`playthrough`]; [`acts`], [`dressing`] and [`moves`] change a state, by the tables [`contact`], [`cleaning`]
//! and [`parts`]; [`replay`] plays each reported case alone. [`drills`] lets the event of each contingency happen after every
//! step, by what [`happening`] says of it and as [`striking`] plays it. [`assessment`] plays the choice of level, over all
//! [`answers`]; [`times`] adds up what is written, by [`tally`].

use std::collections::BTreeSet;

use serde::Serialize;

pub mod acts;
pub mod answers;
pub mod assessment;
pub mod body;
pub mod cast;
pub mod cleaning;
pub mod contact;
pub mod dressing;
pub mod drills;
pub mod event;
pub mod happening;
pub mod moves;
pub mod parts;
pub mod play;
pub mod playthrough;
pub mod profile;
pub mod quick;
pub mod replay;
pub mod script;
pub mod state;
pub mod striking;
pub mod surfaces;
pub mod tally;
pub mod telling;
pub mod times;

pub use assessment::Assessment;
pub use event::{Case, Event, How, Link, StepRef, Strike, What};
pub use happening::Happening;
pub use profile::{Moment, Profile};
pub use surfaces::Surface;
pub use times::Times;

use crate::policy::{ItemId, LevelId, Policy, RoleId, SequenceId};

/// What the walk saw.
#[derive(Debug, Default)]
pub struct Walk {
    /// One for each level that has sequences.
    pub runs: Vec<Run>,
    /// Where lines choose between levels, and all of them could be read.
    pub assessment: Option<Assessment>,
    pub times: Times,
}

/// One level, from clean to clean.
#[derive(Debug)]
pub struct Run {
    pub level: LevelId,
    pub events: Vec<Event>,
    /// How near the hazard comes to each person's skin and own clothes, over all cases: as planned, and after one slip and
    /// two where that is nearer.
    pub nearest: Vec<Nearest>,
    /// Each piece of kit, by when it goes on and comes off in the plain case (nothing found wrong, no hold failing,
    /// everything supplied).
    pub spells: Vec<Spell>,
    /// The combinations of answers and of holds failing that the play stands for.
    pub cases: u128,
    /// The steps and holds that happen in some case.
    pub reached: BTreeSet<StepRef>,
    /// How near the hazard is after each step, over all cases.
    pub profile: Profile,
    /// The contingencies that belong to the level, by their places in the policy, and what happens in each.
    pub drills: Vec<(usize, Happening)>,
    /// Every event of a contingency that was let happen, with the step after which.
    pub strikes: BTreeSet<Strike>,
    /// Steps played, over all states.
    pub steps_played: u64,
    /// The policy branches so much that the play was stopped.
    pub gave_up: bool,
    /// Who is dressed from the beginning because no sequence says how they put on.
    pub dressed_unseen: Vec<RoleId>,
    /// Who was taken to have met the hazard although no step sends them to it.
    pub met_unseen: Vec<RoleId>,
    pub putting_on: Vec<SequenceId>,
    pub taking_off: Vec<SequenceId>,
    pub surfaces: surfaces::Surfaces,
}

impl Run {
    /// Something that was noticed over all cases did not come out the same in its own case: a fault of this program.
    pub fn is_doubtful(&self) -> bool {
        self.events.iter().any(|event| event.what == What::NotReplayed)
            || self.nearest.iter().any(|nearest| nearest.chain.is_empty())
    }
}

/// The nearest that the hazard comes to one surface.
#[derive(Debug)]
pub struct Nearest {
    /// After at most so many slips.
    pub slips: usize,
    pub surface: Surface,
    pub distance: u16,
    pub step: Option<StepRef>,
    pub case: Case,
    /// Empty where the case did not come out the same when it was played alone: a fault of this program.
    pub chain: Vec<Link>,
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

/// Walks every level of a policy that has sequences, and plays the choice between the levels.
pub fn walk(policy: &Policy) -> Walk {
    let levels = (0..policy.levels.len()).map(LevelId::new);
    let walked = levels.filter(|&level| policy.sequences_of(level).next().is_some());
    let runs = walked.map(|level| replay::run(policy, level)).collect();
    Walk { runs, assessment: assessment::assess(policy), times: times::times(policy) }
}
