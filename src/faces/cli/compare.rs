//! `anteroom compare OLD NEW`: what changed, what it does to people's protection, and who must act.

use std::collections::BTreeSet;

use camino::{Utf8Path, Utf8PathBuf};

use super::when::Basis;
use super::{Ending, Screen, day, in_turn, policies, print, today, word_files};
use crate::aids;
use crate::compare::report::Section;
use crate::compare::{Comparison, Weight, compare, json, report};
use crate::faces::history::{self, Opened};
use crate::faces::outbox::Outbox;
use crate::faces::{ledger, shelf};
use crate::findings::closing;
use crate::policy::Day;
use crate::press::register::Register;
use crate::session::{self, Checked};

/// Compare two editions: what changed and what it does to people's protection
///
/// Two files, or two folders, whose policies are matched by their titles; each as it is now, or at a point of a git
/// history: HEAD~1:policies. Exit status: 0 nothing changed, 1 something changed, 2 could not run.
#[derive(clap::Args)]
pub struct Compare {
    /// The edition before, or the reference: a file or a folder, or one at a point of a git history (HEAD~1:ward.ppe)
    old: Utf8PathBuf,
    /// The edition now, or the local policy: likewise
    new: Utf8PathBuf,
    /// One JSON object for the whole run, for other programs; its schema: anteroom schema compare
    #[arg(long)]
    json: bool,
    /// Compare a local policy with a reference: each deviation with the reason that the policy gives
    #[arg(long)]
    reference: bool,
    /// Exit with 1 only if something weakens protection
    #[arg(long, value_name = "WHAT", value_enum)]
    fail_on: Option<FailOn>,
    /// The print register, which names the copies to recall; without it, out/print-register.csv if it is there
    #[arg(long, value_name = "FILE")]
    register: Option<Utf8PathBuf>,
    /// Write the review sheet and the change slip into a folder, as PDFs, as the new edition asks for them
    #[arg(long, value_name = "FOLDER", conflicts_with_all = ["json", "reference"])]
    out: Option<Utf8PathBuf>,
    /// The date to compare the policies' dates with, as 2026-11-30; without it, today
    #[arg(long, value_name = "DATE", value_parser = day)]
    today: Option<Day>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
enum FailOn {
    /// Something weakens protection
    Weaker,
}

impl Compare {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let usual = Some(ledger::usual(Utf8Path::new("out"))).filter(|usual| usual.exists());
        let register = match self.register.clone().or(usual).as_deref().map(read_register).transpose() {
            Ok(register) => register,
            Err(unread) => {
                screen.unread(&[unread]);
                return Ending::CouldNotRun;
            }
        };
        let today = self.today.unwrap_or_else(today);
        let sides = [&self.old, &self.new].map(|path| side(path, today));
        let [old, new] = match sides {
            [Ok(old), Ok(new)] => [old, new],
            sides => {
                sides.into_iter().filter_map(Result::err).for_each(|unread| screen.unread(&unread));
                return Ending::CouldNotRun;
            }
        };
        let folders = old.is_folder || new.is_folder;
        let (pairs, gone, come) = matched(&old.policies, &new.policies, folders);
        let files: Vec<Utf8PathBuf> = pairs.iter().map(|(_, new)| Utf8PathBuf::from(&new.0)).collect();
        let words = word_files::beside_each(&files);
        let comparisons: Vec<Comparison> = pairs
            .iter()
            .zip(&words)
            .map(|((old, new), words)| compare((&old.0, &old.1), (&new.0, &new.1), register.as_ref(), words))
            .collect();
        if self.json {
            screen.say(&json::report(&comparisons, &gone, &come));
        } else {
            comparisons.iter().for_each(|comparison| self.tell(comparison, screen));
            gone.iter().for_each(|file| screen.say_line(&format!("{file} is in the first folder only.")));
            come.iter().for_each(|file| screen.say_line(&format!("{file} is in the second folder only.")));
            screen.say_line(closing::CAUTION);
        }
        if !self.write(&pairs, &comparisons, screen) {
            return Ending::CouldNotRun;
        }
        self.ending(&comparisons, gone.len(), come.len())
    }

    /// What is printed of each pair; whether all of it is written.
    fn write(&self, pairs: &[(&Policy, &Policy)], comparisons: &[Comparison], screen: &mut Screen) -> bool {
        let Some(folder) = &self.out else { return true };
        let outbox = match Outbox::open(folder) {
            Ok(outbox) => outbox,
            Err(why) => {
                screen.remark(&format!("Nothing is written: {folder} cannot be written to: {why}."));
                return false;
            }
        };
        let mut taken = BTreeSet::new();
        let mut is_whole = true;
        for ((old, new), comparison) in pairs.iter().zip(comparisons) {
            let name = in_turn::name(&new.0, &mut taken);
            let mut plan = aids::plan_of_two(comparison, &old.1, &new.1);
            plan.aids.iter_mut().for_each(|aid| aid.file = format!("{}-{name}", aid.file));
            is_whole &= print::write(&plan, &outbox, screen).is_whole;
        }
        is_whole
    }

    fn tell(&self, comparison: &Comparison, screen: &mut Screen) {
        let sections = if self.reference { report::deviations(comparison) } else { report::report(comparison) };
        say(&sections, screen);
    }

    /// A policy that is gone protects nobody any more; one that is new weakens nothing.
    fn ending(&self, comparisons: &[Comparison], gone: usize, come: usize) -> Ending {
        let is_over = match self.fail_on {
            Some(FailOn::Weaker) => {
                gone > 0 || comparisons.iter().any(|comparison| comparison.weight == Some(Weight::Weakens))
            }
            None => gone + come > 0 || comparisons.iter().any(|comparison| comparison.weight.is_some()),
        };
        if is_over { Ending::Grave } else { Ending::Clear }
    }
}

/// What a comparison tells, section by section.
pub fn say(sections: &[Section], screen: &mut Screen) {
    for section in sections {
        screen.say_line(&section.heading);
        section.items.iter().for_each(|item| screen.say_item(item));
        screen.say("\n");
    }
}

/// A register that is named has to be there.
fn read_register(path: &Utf8Path) -> Result<Register, (String, String)> {
    let is_there = path.exists().then_some(()).ok_or_else(|| "there is no such file".to_owned());
    is_there.and_then(|()| ledger::read(path)).map_err(|why| (path.to_string(), why))
}

type Unread = Vec<(String, String)>;

struct Side {
    policies: Vec<Policy>,
    is_folder: bool,
}

/// The policies of a file or a folder, checked; at a point of a history where the word names one.
fn side(path: &Utf8Path, today: Day) -> Result<Side, Unread> {
    let unread = |why: String| vec![(path.to_string(), why)];
    if history::is_point(path) {
        let found = history::open(path).map_err(unread)?;
        let check = |opened: Opened| {
            let reading = session::read(&opened.name, opened.text, &opened.shelf);
            (opened.name, session::check(reading, Some(today)))
        };
        return Ok(Side::new(found.policies.into_iter().map(check).collect(), found.is_folder));
    }
    let is_folder = path.is_dir();
    let files = if is_folder { shelf::policies_within(path).map_err(unread)? } else { vec![path.to_path_buf()] };
    let policies = policies::check(&files, &Basis::on(today));
    if !policies.unread.is_empty() {
        return Err(policies.unread);
    }
    Ok(Side::new(policies.checked, is_folder))
}

impl Side {
    /// Files that policies share are no policies of a folder.
    fn new(mut policies: Vec<Policy>, is_folder: bool) -> Side {
        policies.retain(|(_, checked)| !is_folder || checked.reading.policy.paper.is_policy);
        Side { policies, is_folder }
    }
}

type Policy = (String, Checked);
type Matched<'a> = (Vec<(&'a Policy, &'a Policy)>, Vec<String>, Vec<String>);

/// Two files are one pair. Those of folders are matched by their titles, or else by their file names.
fn matched<'a>(old: &'a [Policy], new: &'a [Policy], folders: bool) -> Matched<'a> {
    if let ([one], [other], false) = (old, new, folders) {
        return (vec![(one, other)], Vec::new(), Vec::new());
    }
    let title = |policy: &Policy| policy.1.reading.policy.paper.title.clone();
    let name = |policy: &Policy| Utf8Path::new(&policy.0).file_name().map(str::to_owned);
    let mut left: Vec<&Policy> = old.iter().collect();
    let mut pairs = Vec::new();
    let mut come = Vec::new();
    for policy in new {
        let by_title = left.iter().position(|other| title(other).is_some() && title(other) == title(policy));
        match by_title.or_else(|| left.iter().position(|other| name(other) == name(policy))) {
            Some(at) => pairs.push((left.remove(at), policy)),
            None => come.push(policy.0.clone()),
        }
    }
    (pairs, left.into_iter().map(|policy| policy.0.clone()).collect(), come)
}
