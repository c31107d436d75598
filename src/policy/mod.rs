//! What the hospital decided: every name resolved, every step with a place in the text, no holes.
//!
//! In: trees. Out: one [`Policy`]. Must never judge whether the procedure is a good one.

pub mod area;
pub mod choice;
pub mod citation;
pub mod cleaner;
pub mod code;
pub mod container;
pub mod contingency;
pub mod deviation;
pub mod exception;
pub mod fact;
pub mod gap;
pub mod hazard;
pub mod hold_point;
pub mod ids;
pub mod item;
pub mod level;
pub mod meaning;
mod meaning_of_steps;
pub mod pack;
pub mod paper;
pub mod picture;
pub mod place;
pub mod print;
pub mod resolve;
pub mod role;
pub mod sequence;
pub mod step;
pub mod surface;
pub mod texts;
pub mod units;
pub mod wish;

pub use area::{Area, Areas};
pub use choice::{Answer, Choice, Question, Verdict};
pub use citation::Citation;
pub use cleaner::Cleaner;
pub use code::Code;
pub use container::{Container, Purpose};
pub use contingency::{Contingency, Ending, Event};
pub use deviation::Deviation;
pub use exception::Exception;
pub use fact::{Fact, FactKind, Guard, Literal};
pub use gap::{Gap, GapOf};
pub use hazard::{Hazard, Route, Routes};
pub use hold_point::HoldPoint;
pub use ids::*;
pub use item::{Grip, Item, Lies, Reuse};
pub use level::{Assumption, Kit, Level, Margin, Shield, Worn};
pub use paper::{Approval, Identity, Paper};
pub use picture::Picture;
pub use place::{Place, PlaceKind, Way};
pub use print::{AidKind, PaperSize, Print, Subject};
pub use role::Role;
pub use sequence::{Part, Sequence};
pub use step::{Act, Because, Dest, Hold, IfNot, Prompts, Step, Target, With};
pub use surface::Surface;
pub use units::{Day, Seconds};
pub use wish::{Asks, Wish};

use serde::Serialize;

/// Everything that one policy says. The tables are indexed by the identifiers of [`ids`].
#[derive(Clone, Debug, Default, Serialize)]
pub struct Policy {
    pub paper: Paper,
    pub citations: Vec<Citation>,
    pub hazards: Vec<Hazard>,
    pub places: Vec<Place>,
    pub ways: Vec<Way>,
    pub roles: Vec<Role>,
    pub items: Vec<Item>,
    pub surfaces: Vec<Surface>,
    pub cleaners: Vec<Cleaner>,
    pub containers: Vec<Container>,
    pub levels: Vec<Level>,
    pub choice: Option<Choice>,
    pub facts: Vec<Fact>,
    pub sequences: Vec<Sequence>,
    pub contingencies: Vec<Contingency>,
    pub prints: Vec<Print>,
    pub exceptions: Vec<Exception>,
    pub deviations: Vec<Deviation>,
    /// What could not be read or resolved, in no order.
    #[serde(skip)]
    pub gaps: Vec<Gap>,
    /// For a file of shared items: the names that it leaves to the policy that uses it.
    #[serde(skip)]
    pub left_open: Vec<String>,
}

impl Policy {
    pub fn citation(&self, id: CitationId) -> &Citation {
        &self.citations[id.index()]
    }
    pub fn hazard(&self, id: HazardId) -> &Hazard {
        &self.hazards[id.index()]
    }
    pub fn place(&self, id: PlaceId) -> &Place {
        &self.places[id.index()]
    }
    pub fn role(&self, id: RoleId) -> &Role {
        &self.roles[id.index()]
    }
    pub fn item(&self, id: ItemId) -> &Item {
        &self.items[id.index()]
    }
    pub fn surface(&self, id: SurfaceId) -> &Surface {
        &self.surfaces[id.index()]
    }
    pub fn cleaner(&self, id: CleanerId) -> &Cleaner {
        &self.cleaners[id.index()]
    }
    pub fn container(&self, id: ContainerId) -> &Container {
        &self.containers[id.index()]
    }
    pub fn level(&self, id: LevelId) -> &Level {
        &self.levels[id.index()]
    }
    pub fn fact(&self, id: FactId) -> &Fact {
        &self.facts[id.index()]
    }
    pub fn sequence(&self, id: SequenceId) -> &Sequence {
        &self.sequences[id.index()]
    }
    /// The drill of a contingency as one more sequence: drills are numbered on after the sequences.
    pub fn drill(&self, contingency: usize) -> SequenceId {
        SequenceId::new(self.sequences.len() + contingency)
    }
    /// The contingency whose drill this is; none for a sequence.
    pub fn contingency_of(&self, id: SequenceId) -> Option<&Contingency> {
        id.index().checked_sub(self.sequences.len()).and_then(|at| self.contingencies.get(at))
    }
    /// The steps of a sequence or a drill.
    pub fn steps(&self, id: SequenceId) -> &[Step] {
        self.contingency_of(id).map_or_else(|| self.sequence(id).steps.as_slice(), |drill| &drill.steps)
    }
    /// The title of a sequence or a drill.
    pub fn title(&self, id: SequenceId) -> &str {
        self.contingency_of(id).map_or_else(|| &self.sequence(id).title, |drill| &drill.title)
    }
    /// Where a sequence happens; a drill happens wherever its event does.
    pub fn place_of(&self, id: SequenceId) -> Option<PlaceId> {
        if self.contingency_of(id).is_some() { None } else { self.sequence(id).place }
    }
    pub fn sequences_of(&self, level: LevelId) -> impl Iterator<Item = (SequenceId, &Sequence)> {
        self.sequences
            .iter()
            .enumerate()
            .filter(move |(_, sequence)| sequence.level == level)
            .map(|(at, sequence)| (SequenceId::new(at), sequence))
    }
}
