//! Every hold point of a policy, with the steps around it.
//!
//! In: a policy. Out: its holds in order. Must never judge them.

use super::{Act, Hold, Policy, SequenceId, Step};
use crate::text::Span;

/// A hold where it stands.
#[derive(Clone, Copy, Debug)]
pub struct HoldPoint<'a> {
    pub hold: &'a Hold,
    /// The steps of its sequence or contingency.
    pub steps: &'a [Step],
    /// Its own place among them.
    pub at: usize,
    /// None in a contingency.
    pub sequence: Option<SequenceId>,
    /// From the hold to the step after it, or to the end of the sequence: its own lines.
    pub lines: Span,
}

impl<'a> HoldPoint<'a> {
    pub fn step(&self) -> &'a Step {
        &self.steps[self.at]
    }
}

impl Policy {
    pub fn holds(&self) -> impl Iterator<Item = HoldPoint<'_>> {
        let of_sequences = self
            .sequences
            .iter()
            .enumerate()
            .map(|(at, sequence)| (Some(SequenceId::new(at)), sequence.steps.as_slice(), sequence.extent));
        let of_drills = self.contingencies.iter().map(|drill| (None, drill.steps.as_slice(), drill.extent));
        of_sequences.chain(of_drills).flat_map(|(sequence, steps, extent)| {
            steps.iter().enumerate().filter_map(move |(at, step)| {
                let Act::Hold(hold) = &step.act else { return None };
                let until = steps.get(at + 1).map_or(extent.end, |next| next.span.start);
                let lines = Span { end: until.max(step.span.end), ..step.span };
                Some(HoldPoint { hold, steps, at, sequence, lines })
            })
        })
    }
}
