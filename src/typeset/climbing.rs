//! The largest letters that do not need a face more than the least do.
//!
//! In: an aid. Out: a frame and its faces. Must never set letters below the least size.

use std::collections::BTreeMap;

use super::fault::Cause;
use super::fitting::{self, Divided, Known};
use super::pieces::{self, Part};
use super::reckoning;
use super::sheet::{Face, Frame};
use super::sizes::{self, Ladder};
use crate::aids::plan::{Aid, Layout};

/// The aid, divided.
pub(super) struct Fitted {
    pub frame: Frame,
    pub faces: Vec<Face>,
    divided: Divided,
}

impl Fitted {
    /// What of it may hold for the same aid on other paper.
    pub fn known(&self) -> Known<'_> {
        Some((&self.frame, &self.divided))
    }
}

/// Heads are measured for up to nine faces, and again where there are more.
const FEW: usize = 8;
const MANY: usize = 888;

/// Tries the starting letters, smaller ones only where a row fits no face, then the largest that need no face more.
pub(super) fn fit(aid: &Aid) -> Result<Fitted, Cause> {
    let parts = pieces::body(aid);
    let mut climb = begin(aid, &parts, FEW, true, None)?;
    if climb.faces() > 9 {
        climb = begin(aid, &parts, MANY, false, None)?;
    }
    climb.climb();
    let (frame, divided) = climb.reached();
    let faces = fitting::place(aid, &frame, &parts, &divided);
    Ok(Fitted { frame, faces, divided })
}

/// How many faces the aid needs with the letters that are asked for.
pub(super) fn sheets(aid: &Aid, known: Known) -> Result<usize, Cause> {
    Ok(begin(aid, &pieces::body(aid), FEW, false, known)?.faces())
}

/// In a column this many letters' sizes wide a poster's pictograms stand beside their numbers; in one no wider than the lesser
/// of the two beneath them, where they leave their width to the words. Between the two it is tried which needs less room.
const ROOMY: f64 = 20.0;
const NARROW: f64 = 17.0;

/// On the ladder to climb, where all needs no face more than on its start. `high`: as near its top as can be guessed, where all
/// stands on one face. `known`: what was measured on other paper.
fn begin<'a>(aid: &'a Aid, parts: &'a [Part], most: usize, high: bool, known: Known) -> Result<Climb<'a>, Cause> {
    let climb = |narrow| Climb::new(aid, parts, most, sizes::ladder(aid, narrow));
    let beside = climb(false);
    let Some(first) = beside.ladder.frames.get(beside.ladder.start) else {
        return Err(Cause::TooNarrow { lanes: sizes::lanes(aid) });
    };
    let letters = first.column / first.sizes.act;
    if aid.layout != Layout::Poster || letters >= ROOMY {
        return beside.begun(high, known);
    }
    if letters <= NARROW {
        return climb(true).begun(high, known).or_else(|_| beside.begun(high, known));
    }
    let beside = beside.begun(false, known);
    let known = beside.as_ref().ok().map(|climb| (climb.frame(), climb.divided()));
    match (climb(true).begun(false, known), beside) {
        (Ok(beneath), Ok(beside)) => {
            let need = |climb: &Climb| (climb.faces(), climb.divided().fill);
            Ok(if need(&beneath) < need(&beside) { beneath } else { beside })
        }
        (beneath, Err(_)) => beneath,
        (Err(_), beside) => beside,
    }
}

/// Powers of the letters with which heights grow: words that take no more lines grow with their letters, as most do in a form;
/// the narrower their column, the more they grow with the square.
const LEAST: f64 = 1.1;
const LIKELY: f64 = 1.5;

/// A ladder, a rung of it that can do, and all that was tried: each try is a pass through the typesetter.
struct Climb<'a> {
    aid: &'a Aid,
    parts: &'a [Part],
    most: usize,
    ladder: Ladder,
    at: usize,
    tried: BTreeMap<usize, Divided>,
    /// From this rung on something fits no face, as far as was tried.
    refused: usize,
}

impl<'a> Climb<'a> {
    fn new(aid: &'a Aid, parts: &'a [Part], most: usize, ladder: Ladder) -> Climb<'a> {
        let (at, refused) = (ladder.start, ladder.frames.len());
        Climb { aid, parts, most, ladder, at, tried: BTreeMap::new(), refused }
    }

    fn frame(&self) -> &Frame {
        &self.ladder.frames[self.at]
    }

    fn divided(&self) -> &Divided {
        &self.tried[&self.at]
    }

    fn faces(&self) -> usize {
        self.divided().faces()
    }

    /// Where it stands.
    fn reached(mut self) -> (Frame, Divided) {
        let divided = self.tried.remove(&self.at).expect("it stands where it was tried");
        (self.ladder.frames.swap_remove(self.at), divided)
    }

    /// The faces on a rung. `known`: what was measured on another ladder or other paper.
    fn divide(&mut self, rung: usize, known: Known) -> Result<usize, Cause> {
        if let Some(divided) = self.tried.get(&rung) {
            return Ok(divided.faces());
        }
        let frame = &self.ladder.frames[rung];
        let tried = self.tried.iter().map(|(&rung, divided)| (&self.ladder.frames[rung], divided));
        let known = known.or_else(|| tried.into_iter().find(|(other, _)| frame.foot_grown(other).is_some()));
        let divided = fitting::divide(self.aid, frame, self.parts, self.most, known);
        let divided = divided.inspect_err(|_| self.refused = self.refused.min(rung))?;
        let faces = divided.faces();
        self.tried.insert(rung, divided);
        Ok(faces)
    }

    /// Whether no more than `allowed` faces hold all on rung `to`, if heights grow with this power of the letters.
    fn holds(&self, from: usize, to: usize, power: f64, allowed: usize) -> bool {
        let frames = [from, to].map(|rung| &self.ladder.frames[rung]);
        self.tried[&from].holds(self.aid, self.parts, frames, power, allowed)
    }

    /// Stands at the start of the ladder, or beneath it where a row fits no face; or higher, where all stands on one face.
    fn begun(mut self, high: bool, known: Known) -> Result<Climb<'a>, Cause> {
        if high && let Some(rung) = self.on_one_face() {
            self.at = rung;
            return Ok(self);
        }
        while let Err(cause) = self.divide(self.at, known) {
            self.at = self.at.checked_sub(1).ok_or(cause)?;
        }
        Ok(self)
    }

    /// Where it is guessed that one face holds all, and one does: no lower rung can then do with less.
    fn on_one_face(&mut self) -> Option<usize> {
        let guess = reckoning::rung(self.aid, self.parts, &self.ladder)?;
        if self.divide(guess, None).ok()? == 1 {
            return Some(guess);
        }
        let lower = (self.ladder.start..guess).rfind(|&rung| self.holds(guess, rung, self.likely(), 1))?;
        (self.divide(lower, None).ok()? == 1).then_some(lower)
    }

    /// The power with which heights are likely to grow.
    fn likely(&self) -> f64 {
        if self.aid.layout == Layout::Form { LEAST } else { LIKELY }
    }

    /// To the highest rung that needs no more faces: rungs that cannot do are left out, and the likeliest is tried first.
    fn climb(&mut self) {
        loop {
            let allowed = self.faces();
            let tried = |does: bool| move |(_, divided): &(&usize, &Divided)| (divided.faces() <= allowed) == does;
            if let Some((&rung, _)) = self.tried.range(self.at + 1..).rfind(tried(true)) {
                self.at = rung;
            }
            let fails = self.tried.range(self.at + 1..).find(tried(false)).map_or(usize::MAX, |(&rung, _)| rung);
            let mut rungs = self.at + 1..fails.min(self.refused);
            if let Some(rung) = rungs.clone().find(|&rung| !self.holds(self.at, rung, LEAST, allowed)) {
                rungs.end = rung;
            }
            if rungs.is_empty() {
                return;
            }
            let likely = rungs.clone().rfind(|&rung| self.holds(self.at, rung, self.likely(), allowed));
            // What comes of it, the next round sees.
            let _ = self.divide(likely.unwrap_or(rungs.start), None);
        }
    }
}

#[cfg(test)]
mod tests {
    use camino::Utf8Path;

    use super::{FEW, begin, fit};
    use crate::aids::plan::{Aid, Layout};
    use crate::faces::shelf::FolderShelf;
    use crate::policy::{Day, PaperSize};
    use crate::typeset::pieces;
    use crate::{aids, session};

    const POLICIES: [&str; 3] =
        ["policies/side-rooms.ppe", "policies/assessment-suite.ppe", "tests/samples/side-room.ppe"];

    fn aids_of(policy: &str) -> Vec<Aid> {
        let path = Utf8Path::new(env!("CARGO_MANIFEST_DIR")).join(policy);
        let (shelf, text) = FolderShelf::open(&path).expect("the policy is there");
        aids::plan(&session::check(session::read(policy, text, &shelf), Day::new(2026, 12, 1))).aids
    }

    /// Our own claim: a foot need not be measured again on other paper.
    #[test]
    fn a_foot_grows_with_its_letters() {
        let mut grown = 0;
        for aid in POLICIES.into_iter().flat_map(aids_of).filter(|aid| aid.layout == Layout::Poster) {
            let parts = pieces::body(&aid);
            let fitted = fit(&aid).expect("it can be set");
            for other in PaperSize::ALL.map(|paper| Aid { paper, ..aid.clone() }) {
                let tried = [fitted.known(), None].map(|known| begin(&other, &parts, FEW, false, known));
                let [Ok(known), Ok(measured)] = tried else { continue };
                let differs = known.divided().foot() - measured.divided().foot();
                assert!(differs.abs() < 0.001, "{} on {:?}: {differs}", aid.file, other.paper);
                grown += usize::from(known.frame().foot_grown(&fitted.frame).is_some_and(|by| by != 1.0));
            }
        }
        assert!(grown > 5, "{grown} feet on other paper");
    }

    /// Our own claim: what was not tried would not have done. Here every rung is tried, and guesses are held to be good ones.
    #[test]
    fn letters_are_the_largest_that_need_no_face_more() {
        let aids: Vec<Aid> = POLICIES.into_iter().flat_map(aids_of).collect();
        let mut passes = 0;
        for aid in &aids {
            let parts = pieces::body(aid);
            let mut climb = begin(aid, &parts, FEW, true, None).expect("it can be set");
            climb.climb();
            passes += climb.tried.len();
            let mut each = begin(aid, &parts, FEW, false, None).expect("it can be set");
            let allowed = each.faces();
            let mut rungs = each.at..each.ladder.frames.len();
            let highest = rungs.rfind(|&rung| each.divide(rung, None).is_ok_and(|faces| faces <= allowed));
            assert_eq!((climb.faces(), Some(climb.at)), (allowed, highest), "{}", aid.file);
        }
        assert!(2 * passes < 3 * aids.len(), "{passes} passes for {} aids", aids.len());
    }
}
