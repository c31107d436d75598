//! `anteroom print FILE…`: the aids that policies ask for, as PDFs.

use std::collections::BTreeSet;
#[cfg(feature = "typeset")]
use std::sync::atomic::{AtomicUsize, Ordering};

use camino::{Utf8Path, Utf8PathBuf};

use super::in_turn::{self, InTurn};
use super::when::When;
use super::{Ending, Screen, language, word_files};
use crate::aids::{
    self,
    plan::{Aid, Marking, PrintPlan},
};
use crate::faces::outbox::Outbox;
use crate::findings::PolicyReport;
use crate::policy::PaperSize;

/// Print the aids that policies ask for, as PDFs
///
/// A policy with an open finding at DANGER, without approval or past its review date prints as DRAFT only. One that does
/// not hold yet, or is withdrawn, says so on every face; to print ahead of its first day, give that day as --today.
#[derive(clap::Args)]
pub struct Print {
    /// Policy files
    #[arg(required = true, value_name = "FILE")]
    files: Vec<Utf8PathBuf>,
    /// Where the PDFs go; of several policies, each has a folder of its own there
    #[arg(long, value_name = "FOLDER", default_value = "out")]
    out: Utf8PathBuf,
    /// Mark every face SUPERSEDED: the aids of an old edition, kept for the record; =5 names the edition that replaced it
    #[arg(long, value_name = "EDITION", num_args = 0..=1, require_equals = true, value_parser = clap::value_parser!(u32).range(1..))]
    superseded: Option<Option<u32>>,
    /// A picture of every aid too, for a screen or a slide: an SVG beside its PDF
    #[arg(long)]
    pictures: bool,
    #[command(flatten)]
    when: When,
    /// Print in another language, as a tag (fr), by the word file beside the policy
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    language: Option<String>,
}

impl Print {
    pub fn run(self, screen: &mut Screen) -> Ending {
        #[cfg(feature = "typeset")]
        crate::typeset::prepare();
        let Some(basis) = self.when.basis(screen) else { return Ending::CouldNotRun };
        let turn = InTurn { files: &self.files, out: &self.out, basis: &basis, done: "printed" };
        let is_one = self.files.len() == 1;
        let folder = |outbox: &Outbox, _: &PolicyReport, name: &str| {
            if is_one { Ok(outbox.clone()) } else { outbox.folder_within(name) }
        };
        turn.run(screen, folder, |policy, folder, screen| match self.planned(policy, screen) {
            Ok((plan, marking)) => print(policy, &plan, marking, &folder, screen).is_whole,
            Err(why) => {
                screen.remark(&why);
                false
            }
        })
    }

    /// The aids of one policy, and what they are marked with; or why there are none.
    fn planned(&self, policy: &PolicyReport, screen: &mut Screen) -> Result<(PrintPlan, Option<Marking>), String> {
        let (mut plan, mut marking) = planned(policy, self.language.as_deref(), screen)?;
        if let Some(by) = self.superseded {
            aids::supersede(&mut plan, by);
            marking = plan.marking();
        }
        plan.aids.iter_mut().for_each(|aid| aid.pictured |= self.pictures);
        Ok((plan, marking))
    }
}

/// The aids of one policy in a language, its own where none is named, and what they are marked with; or why there are none.
pub(super) fn planned(
    policy: &PolicyReport,
    language: Option<&str>,
    screen: &mut Screen,
) -> Result<(PrintPlan, Option<Marking>), String> {
    if let Some(language) = language {
        return planned_in(policy, language, screen);
    }
    let plan = aids::plan(policy.checked);
    let marking = plan.marking();
    Ok((plan, marking))
}

fn planned_in(
    policy: &PolicyReport,
    language: &str,
    screen: &mut Screen,
) -> Result<(PrintPlan, Option<Marking>), String> {
    let file = Utf8Path::new(policy.file);
    let path = word_files::path(file, language);
    let Some(words) = word_files::read(file, language) else {
        return Err(format!("There is no {path}. To begin it: anteroom translate {file} --to {language}"));
    };
    let (plan, told) = aids::plan_in(policy.checked, language, &words?);
    told.lines.iter().for_each(|line| screen.say_line(&format!("{path}: {line}")));
    Ok((plan, told.marking))
}

/// The names of the files that were written, and whether these are all.
#[derive(Default)]
pub(super) struct Written {
    pub names: BTreeSet<String>,
    pub is_whole: bool,
}

/// Sets and writes every aid of one policy, each of which can fail alone.
pub(super) fn print(
    policy: &PolicyReport,
    plan: &PrintPlan,
    marking: Option<Marking>,
    outbox: &Outbox,
    screen: &mut Screen,
) -> Written {
    plan.not_made.iter().for_each(|sentence| screen.say_line(sentence));
    let file = policy.file;
    if !policy.checked.reading.policy.paper.is_policy {
        screen.say_line(&format!("{file} holds what policies share, and asks for nothing to print."));
        return Written { is_whole: true, ..Written::default() };
    }
    if plan.aids.is_empty() && plan.not_made.is_empty() {
        screen.remark(&format!("{file} asks for nothing to print: write a line that begins with “print”."));
        return Written::default();
    }
    if let Some(marking) = marking {
        screen.say_line(&format!("Every page is marked {}. {}", marking.word, marking.told().join(" ")));
    }
    let written = write(plan, outbox, screen);
    in_turn::tell_others(outbox, &["pdf", "svg"], &written.names, screen);
    written
}

/// The same of a plan. Each aid is written as soon as it is set; what became of it is told in the plan's order.
pub(super) fn write(plan: &PrintPlan, outbox: &Outbox, screen: &mut Screen) -> Written {
    let put = |file: &str, ending: &str, bytes: &[u8]| {
        let path = outbox.put(file, ending, bytes);
        path.map_err(|why| format!("{file}.{ending} is not written: {why}."))
    };
    let put = |aid: &Aid, set: Printed| {
        let picture = set.picture.as_ref().map(|picture| put(&aid.file, "svg", picture.as_bytes())).transpose()?;
        Ok((put(&aid.file, "pdf", &set.pdf)?, picture, pages(&set)))
    };
    let mut written = BTreeSet::new();
    let mut is_whole = true;
    for (aid, put) in plan.aids.iter().zip(set(plan, screen, &put)) {
        match put {
            Ok((path, picture, pages)) => {
                screen.say_line(&format!("{path}: {}, {}, {pages}", aid.kind, aid.title));
                if let Some(picture) = &picture {
                    screen.say_line(&format!("{picture}: the same for a screen"));
                }
                written.extend([Some(path), picture].into_iter().flatten().filter_map(file_name));
            }
            Err(why) => {
                screen.remark(&why);
                is_whole = false;
            }
        }
    }
    Written { names: written, is_whole }
}

pub(super) fn file_name(path: Utf8PathBuf) -> Option<String> {
    path.file_name().map(str::to_string)
}

/// One aid, set.
pub(super) struct Printed {
    pub pdf: Vec<u8>,
    pub pages: usize,
    one_sheet_on: Option<PaperSize>,
    picture: Option<String>,
}

/// `2 pages; one sheet of A1 would hold it`
fn pages(set: &Printed) -> String {
    let pages = if set.pages == 1 { "1 page".to_string() } else { format!("{} pages", set.pages) };
    match set.one_sheet_on {
        Some(paper) => format!("{pages}; one sheet of {} would hold it", paper.word()),
        None => pages,
    }
}

/// What `keep` made of each aid once it was set, or a sentence that says why there is none.
#[cfg(feature = "typeset")]
pub(super) fn set<T: Send>(plan: &PrintPlan, screen: &mut Screen, keep: &Keep<T>) -> Vec<Result<T, String>> {
    let progress = super::progress::Progress::on(screen);
    let (total, done) = (plan.aids.len(), AtomicUsize::new(0));
    let kept = crate::typeset::typeset_all(plan, threads(), &|at, set| {
        let printed = |set: crate::typeset::Printed| Printed {
            pdf: set.pdf,
            pages: set.pages,
            one_sheet_on: set.one_sheet_on,
            picture: set.picture,
        };
        let kept = set.map_err(|fault| fault.to_string()).and_then(|set| keep(&plan.aids[at], printed(set)));
        progress.tell(&format!("Setting {} of {total}", done.fetch_add(1, Ordering::Relaxed) + 1));
        kept
    });
    progress.done();
    kept
}

/// A thread waits while the typesetter's own threads set its pages: two for each processor leave none idle.
#[cfg(feature = "typeset")]
pub(super) fn threads() -> usize {
    2 * std::thread::available_parallelism().map_or(1, usize::from)
}

/// What is kept of an aid that was set: called on the thread that set it.
pub(super) type Keep<'a, T> = dyn Fn(&Aid, Printed) -> Result<T, String> + Sync + 'a;

#[cfg(not(feature = "typeset"))]
pub(super) fn set<T: Send>(plan: &PrintPlan, _: &mut Screen, _: &Keep<T>) -> Vec<Result<T, String>> {
    let unset = |aid: &Aid| Err(format!("{}.pdf is not made: the typesetter was not built in.", aid.file));
    plan.aids.iter().map(unset).collect()
}
