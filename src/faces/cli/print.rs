//! `anteroom print FILE…`: the aids that policies ask for, as PDFs.

use std::collections::BTreeSet;

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen, check, day, language, policies, today, word_files};
use crate::aids::{
    self,
    plan::{Marking, PrintPlan},
};
use crate::faces::outbox::{self, Outbox};
use crate::findings::{PolicyReport, Report, closing};
use crate::policy::{Day, PaperSize};

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
    /// The date to compare the policy's dates with, as 2026-11-30; without it, today
    #[arg(long, value_name = "DATE", value_parser = day)]
    today: Option<Day>,
    /// Print in another language, as a tag (fr), by the word file beside the policy
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    language: Option<String>,
}

impl Print {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let outbox = match Outbox::open(&self.out) {
            Ok(outbox) => outbox,
            Err(why) => {
                screen.remark(&format!("Nothing is printed: {} cannot be written to: {why}.", self.out));
                return Ending::CouldNotRun;
            }
        };
        let policies = policies::check(&self.files, self.today.unwrap_or_else(today));
        let report = Report::new(&policies.checked, &policies.unread);
        let mut ending = check::ending(&report);
        let mut folders = BTreeSet::new();
        for policy in &report.policies {
            tell_findings(policy, screen);
            let folder = match self.files.len() {
                1 => Ok(outbox.clone()),
                _ => outbox.folder_within(&folder_name(policy.file, &mut folders)),
            };
            let is_whole = match folder {
                Ok(folder) => match self.planned(policy, screen) {
                    Ok((plan, marking)) => print(policy, &plan, marking, &folder, screen),
                    Err(why) => {
                        screen.remark(&why);
                        false
                    }
                },
                Err(why) => {
                    screen.remark(&format!("{} is not printed: {why}.", policy.file));
                    false
                }
            };
            if !is_whole {
                ending = Ending::CouldNotRun;
            }
        }
        screen.unread(&policies.unread);
        if !report.policies.is_empty() {
            screen.say_line(closing::CAUTION);
        }
        ending
    }

    /// The aids of one policy, and what they are marked with; or why there are none.
    fn planned(&self, policy: &PolicyReport, screen: &mut Screen) -> Result<(PrintPlan, Option<Marking>), String> {
        let (mut plan, mut marking) = match &self.language {
            Some(language) => planned_in(policy, language, screen)?,
            None => {
                let plan = aids::plan(policy.checked);
                let marking = plan.aids.first().and_then(|aid| aid.marking.clone());
                (plan, marking)
            }
        };
        if let Some(by) = self.superseded {
            aids::supersede(&mut plan, by);
            marking = plan.aids.first().and_then(|aid| aid.marking.clone());
        }
        Ok((plan, marking))
    }
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

/// What the check found, in one line.
pub(super) fn tell_findings(policy: &PolicyReport, screen: &mut Screen) {
    screen.say_line(&format!("{}, fingerprint {}", policy.file, policy.checked.fingerprint));
    for sentence in policy.tally().sentences() {
        screen.say_line(&sentence);
    }
    if !policy.findings.is_empty() {
        screen.say_line(&format!("To read them: anteroom check {}", policy.file));
    }
}

/// Sets and writes every aid of one policy, each of which can fail alone. Whether all are written.
pub(super) fn print(
    policy: &PolicyReport,
    plan: &PrintPlan,
    marking: Option<Marking>,
    outbox: &Outbox,
    screen: &mut Screen,
) -> bool {
    plan.not_made.iter().for_each(|sentence| screen.say_line(sentence));
    let file = policy.file;
    if !policy.checked.reading.policy.paper.is_policy {
        screen.say_line(&format!("{file} holds what policies share, and asks for nothing to print."));
        return true;
    }
    if plan.aids.is_empty() {
        screen.remark(&format!("{file} asks for nothing to print: write a line that begins with “print”."));
        return false;
    }
    if let Some(marking) = marking {
        screen.say_line(&format!("Every page is marked {}. {}", marking.word, marking.reasons.join(" ")));
    }
    let mut written = BTreeSet::new();
    let mut is_whole = true;
    for (aid, set) in plan.aids.iter().zip(set(plan, screen)) {
        let put = |ending: &str, bytes: &[u8]| {
            let path = outbox.put(&aid.file, ending, bytes);
            path.map_err(|why| format!("{}.{ending} is not written: {why}.", aid.file))
        };
        let put = |set: Printed| {
            let picture = set.picture.as_ref().map(|picture| put("svg", picture.as_bytes())).transpose()?;
            Ok((put("pdf", &set.pdf)?, picture, pages(&set)))
        };
        match set.and_then(put) {
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
    let older = [outbox.others("pdf", &written), outbox.others("svg", &written)].concat();
    if !older.is_empty() {
        screen.say_line(&format!("In {}, but not of this run: {}", outbox.folder(), older.join(", ")));
    }
    is_whole
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

/// Each aid, or a sentence that says why there is none.
#[cfg(feature = "typeset")]
pub(super) fn set(plan: &PrintPlan, screen: &mut Screen) -> Vec<Result<Printed, String>> {
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let progress = super::progress::Progress::on(screen);
    let total = plan.aids.len();
    let set = crate::typeset::typeset_all(plan, threads, &|done| progress.tell(&format!("Setting {done} of {total}")));
    progress.done();
    let printed = |set: crate::typeset::Printed| Printed {
        pdf: set.pdf,
        pages: set.pages,
        one_sheet_on: set.one_sheet_on,
        picture: set.picture,
    };
    set.into_iter().map(|set| set.map(printed).map_err(|fault| fault.to_string())).collect()
}

#[cfg(not(feature = "typeset"))]
pub(super) fn set(plan: &PrintPlan, _: &mut Screen) -> Vec<Result<Printed, String>> {
    let unset = |aid: &aids::plan::Aid| Err(format!("{}.pdf is not made: the typesetter was not built in.", aid.file));
    plan.aids.iter().map(unset).collect()
}

/// The name of the policy's file without its ending, and a number where two policies share it.
pub(super) fn folder_name(file: &str, taken: &mut BTreeSet<String>) -> String {
    let stem = outbox::clean(Utf8Path::new(file).file_stem().unwrap_or_default());
    let numbered = (2..).map(|number| format!("{stem}-{number}"));
    let name = std::iter::once(stem.clone()).chain(numbered).find(|name| !taken.contains(name)).unwrap_or_default();
    taken.insert(name.clone());
    name
}
