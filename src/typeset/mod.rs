//! Typesetting: the only folder that knows typst.
//!
//! ```text
//! Aid ──letters──▶ ──sizes──▶ frames ──measure──▶ heights ──break, spread──▶ faces ──set──▶ PDF
//! ```
//!
//! In: an [`Aid`], every word of it final. Out: a PDF, and a picture for a screen where one is asked for. Must never add a word of its own, read a file or a clock, or let
//! the policy's words be read as markup.

mod advice;
mod boxes;
mod breaking;
mod climbing;
mod code;
pub mod colours;
mod fault;
mod fitting;
mod fonts;
pub mod legibility;
mod letters;
pub mod pictograms;
mod picture;
mod pieces;
pub mod project;
mod reckoning;
mod setting;
mod sheet;
mod sheets;
mod sizes;
mod sparing;
mod strip;
mod ways;
mod world;

use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

pub use fault::Fault;
pub use sheets::{Sheets, typeset_sheets};

use crate::aids::plan::{Aid, Layout, PrintPlan};
use crate::policy::PaperSize;
use fault::Cause;

/// One aid as it goes to the print room.
#[derive(Clone, Debug)]
pub struct Printed {
    pub pdf: Vec<u8>,
    pub pages: usize,
    /// The paper on which a poster of several sheets would need only one.
    pub one_sheet_on: Option<PaperSize>,
    /// The same for a screen, as an SVG, where the aid is to have one.
    pub picture: Option<String>,
}

/// Sets one aid. The same aid gives the same bytes.
pub fn typeset(aid: &Aid) -> Result<Printed, Fault> {
    let words = serde_json::json!([aid.title, aid.kind, aid.copies, aid.control, aid.marking, aid.body, aid.labels]);
    if let Some(cause) = letters::missing(&words) {
        return Err(cause.of(aid));
    }
    if code::room(&aid.control.code, 1.0).is_none() {
        return Err(Cause::Ours { said: "the square code holds too much".into() }.of(aid));
    }
    // What lies beyond this door is not ours; should it break, one aid is lost and not the whole run.
    let set = catch_unwind(AssertUnwindSafe(|| {
        let fitted = advice::fit(aid)?;
        let pages = fitted.faces.len();
        let one_sheet = || advice::one_sheet(aid, &fitted);
        let set = || setting::set(aid, &fitted.frame, &fitted.faces);
        let (set, one_sheet_on) = match aid.layout {
            Layout::Poster if pages > 1 => at_once(set, one_sheet),
            _ => (set(), None),
        };
        let (pdf, picture) = set?;
        Ok(Printed { pdf, pages, one_sheet_on, picture })
    }));
    set.unwrap_or_else(|_| Err(Cause::stopped())).map_err(|cause| cause.of(aid))
}

/// Begins to read fonts and templates on threads of their own, so that the first aid does not wait for them.
pub fn prepare() {
    for read in [world::prepare_templates, world::prepare_fonts] {
        // Where no thread can be had, the first aid reads them.
        let _ = std::thread::Builder::new().stack_size(STACK).spawn(read);
    }
}

/// Stack of a thread that sets aids: typst lays out by recursion.
const STACK: usize = 16 << 20;

/// Both, the second on a thread of its own where one can be had.
fn at_once<A, B: Send>(one: impl FnOnce() -> A, other: impl Fn() -> B + Sync) -> (A, B) {
    std::thread::scope(|scope| {
        let thread = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, &other);
        let one = one();
        let joined = thread.ok().map(|thread| thread.join().unwrap_or_else(|why| resume_unwind(why)));
        (one, joined.unwrap_or_else(&other))
    })
}

/// Sets all aids of a plan with `threads` plain threads. Each goes to `each` with its place in the plan as soon as it is done,
/// on the thread that set it, so that no more than those at work are held at once; its answers stand in the plan's order.
pub fn typeset_all<T: Send>(
    plan: &PrintPlan,
    threads: usize,
    each: &(dyn Fn(usize, Result<Printed, Fault>) -> T + Sync),
) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let answers: Vec<Mutex<Option<T>>> = plan.aids.iter().map(|_| Mutex::new(None)).collect();
    // The longest first, so that no thread is left alone with one at the end.
    let mut order: Vec<usize> = (0..plan.aids.len()).collect();
    order.sort_by_key(|&index| std::cmp::Reverse(plan.aids.get(index).map(|aid| pieces::body(aid).len())));
    let work = || {
        while let Some(&index) = order.get(next.fetch_add(1, Ordering::Relaxed)) {
            let (Some(aid), Some(answer)) = (plan.aids.get(index), answers.get(index)) else { continue };
            let answered = each(index, typeset(aid));
            if let Ok(mut answer) = answer.lock() {
                *answer = Some(answered);
            }
        }
    };
    std::thread::scope(|scope| {
        for _ in 0..threads.clamp(1, plan.aids.len().max(1)) {
            // A thread that cannot be had is done without: the work is shared out one aid at a time.
            let _ = std::thread::Builder::new().stack_size(STACK).spawn_scoped(scope, work);
        }
    });
    work();
    let answers = answers.into_iter().map(|answer| answer.into_inner().ok().flatten());
    let lost = |(index, aid)| each(index, Err(Cause::stopped().of(aid)));
    plan.aids.iter().enumerate().zip(answers).map(|(at, answer)| answer.unwrap_or_else(|| lost(at))).collect()
}
