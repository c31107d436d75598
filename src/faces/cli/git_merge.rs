//! `anteroom git-merge BASE OURS THEIRS SIZE PATH OURS-NAME THEIRS-NAME`: what git calls to put two people's changes to a
//! policy together.
//!
//! By statement; what is clean is checked again, and a new DANGER stops as a conflict. Exit status, as git wants it: 0
//! clean, 1 a conflict. What cannot be read as a policy is merged by git's own lines.

use std::panic;
use std::path::{Path, PathBuf};

use camino::Utf8Path;

use super::{Ending, Screen, today};
use crate::faces::git::Git;
use crate::faces::outbox;
use crate::faces::shelf::{FolderShelf, read_text};
use crate::findings::{Finding, Signal, plain, shown};
use crate::merge::{Conflict, Marks, Merged, Texts, Why, marked, merge, new_findings};
use crate::policy::Day;
use crate::session::{self, Checked, Shelf, declared_by_used};
use crate::syntax::problem::ProblemKind;

/// Put two people's changes to a policy together, for git
#[derive(clap::Args)]
#[command(hide = true)]
pub struct GitMerge {
    base: PathBuf,
    /// What is merged is written here
    ours: PathBuf,
    theirs: PathBuf,
    /// How many signs a mark has
    size: usize,
    /// The name of the policy, from the top of the repository
    path: PathBuf,
    #[arg(allow_hyphen_values = true, default_value = "ours")]
    ours_name: String,
    #[arg(allow_hyphen_values = true, default_value = "theirs")]
    theirs_name: String,
    /// Only put the texts together: for what git merges on its way to a merge, and nobody reads
    #[arg(long)]
    unchecked: bool,
}

/// What a merge came to.
struct Outcome {
    text: String,
    is_clean: bool,
    /// What a person is told, a line each.
    told: Vec<String>,
}

impl GitMerge {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let outcome =
            panic::catch_unwind(|| self.outcome()).unwrap_or_else(|_| Err("the program has broken down".into()));
        let written = outcome.and_then(|outcome| {
            let ours = utf8(&self.ours)?;
            outbox::rewrite(ours, outcome.text.as_bytes())?;
            Ok(outcome)
        });
        match written {
            Ok(outcome) => {
                outcome.told.iter().for_each(|line| screen.remark(line));
                if outcome.is_clean { Ending::Clear } else { Ending::Grave }
            }
            Err(why) => self.by_lines(&why, screen),
        }
    }

    fn outcome(&self) -> Result<Outcome, String> {
        let path = utf8(&self.path)?;
        let [base, ours, theirs] = [&self.base, &self.ours, &self.theirs].map(|file| read_text(utf8(file)?));
        let (base, ours, theirs) = (base?, ours?, theirs?);
        let texts = Texts { base: &base, ours: &ours, theirs: &theirs };
        let shelf = shelf(path);
        let merged = merge(texts, &declared_by_used(path.as_str(), [&base, &ours, &theirs], &*shelf));
        let marks = self.marks();
        let text = merged.text(&marks);
        let told = |lines: Vec<String>, text: String, is_clean: bool| Ok(Outcome { text, is_clean, told: lines });
        if self.unchecked {
            return told(Vec::new(), text, merged.is_clean());
        }
        if !merged.is_clean() {
            return told(of_conflicts(path, &merged), text, false);
        }
        let today = today();
        let [base, ours, theirs, both] = [&base, &ours, &theirs, &text].map(|text| checked(path, text, today));
        let sides = [&base, &ours, &theirs];
        let dangers = new_findings(Signal::Danger, sides, &both);
        let not_looked_at = not_looked_at(path, &both);
        if dangers.is_empty() {
            let warnings = new_findings(Signal::Warning, sides, &both);
            return told(of_warnings(path, &warnings).into_iter().chain(not_looked_at).collect(), text, true);
        }
        let lines = of_dangers(path, &dangers, &both).into_iter().chain(not_looked_at).collect();
        let why = format!("DANGER that neither side had: {}", shown::shown(&dangers[0].title));
        let text = marked(&text, &dangers, &Marks { ours: &why, theirs: "the same, to be put right", size: self.size });
        told(lines, text, false)
    }

    fn marks(&self) -> Marks<'_> {
        // An older git does not know how to name the sides, and gives the sign that stands for the name.
        let name = |name: &'_ str| name.starts_with('%') || name.is_empty();
        Marks {
            ours: if name(&self.ours_name) { "ours" } else { &self.ours_name },
            theirs: if name(&self.theirs_name) { "theirs" } else { &self.theirs_name },
            size: self.size.clamp(1, 200),
        }
    }

    fn by_lines(&self, why: &str, screen: &mut Screen) -> Ending {
        let path = self.path.display();
        screen.remark(&format!("{path} is merged line by line, and not checked: {why}."));
        let marks = self.marks();
        let files: [&Path; 3] = [&self.ours, &self.base, &self.theirs];
        match Git::within(Utf8Path::new("")).merge_lines(files, [marks.ours, marks.theirs], marks.size) {
            Ok(true) => Ending::Clear,
            Ok(false) => Ending::Grave,
            Err(why) => {
                screen.remark(&format!("{path} is not merged: {why}. It holds your own side only."));
                Ending::CouldNotRun
            }
        }
    }
}

fn utf8(path: &Path) -> Result<&Utf8Path, String> {
    Utf8Path::from_path(path).ok_or_else(|| "its name is not saved as UTF-8".to_owned())
}

/// Where a merge has no folder beside it, as on a server, there is nothing to fetch.
struct NoFolder;

impl Shelf for NoFolder {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no folder to look for it".into())
    }
}

fn shelf(path: &Utf8Path) -> Box<dyn Shelf> {
    match FolderShelf::beside(path) {
        Ok(shelf) => Box::new(shelf),
        Err(_) => Box::new(NoFolder),
    }
}

fn checked(path: &Utf8Path, text: &str, today: Day) -> Checked {
    session::check(session::read(path.as_str(), text, &*shelf(path)), Some(today))
}

fn of_conflicts(path: &Utf8Path, merged: &Merged) -> Vec<String> {
    let reasons: Vec<String> = merged.conflicts().map(|conflict| format!("  {}", reason(conflict))).collect();
    let places = if reasons.len() == 1 { "1 place".to_owned() } else { format!("{} places", reasons.len()) };
    let mut told = vec![format!("{path}: {places} to decide; all else is merged.")];
    told.extend(reasons);
    told.push("In the file, keep what is right between the marks, and take the marks out.".into());
    told.push(format!("Then: anteroom check {path}"));
    told
}

fn reason(conflict: &Conflict) -> String {
    let words = |half: &str| {
        let lines = half.lines().map(str::trim).filter(|line| !line.is_empty());
        let line = lines.clone().find(|line| !line.starts_with("note")).or_else(|| lines.clone().next());
        format!("“{}”", shown::shortened(line.unwrap_or_default(), 110))
    };
    let (ours, theirs) = (words(&conflict.ours), words(&conflict.theirs));
    let (there, gone) = if conflict.ours.is_empty() { (&theirs, "ours") } else { (&ours, "theirs") };
    match conflict.why {
        Why::Changed => format!("Changed on both sides: {ours} and {theirs}."),
        Why::Notes => format!("Notes changed on both sides: {ours} and {theirs}."),
        Why::TakenOut if conflict.ours.is_empty() || conflict.theirs.is_empty() => {
            format!("Changed or moved on one side, taken out on the other ({gone}): {there}.")
        }
        Why::SamePlace | Why::TakenOut => format!("In what order at this place: {ours} and {theirs}?"),
        Why::MovedApart => format!("Moved on both sides, to different places, so keep one: {there}."),
        Why::BesideMoved => format!("Put in beside a step that the other side moved: {there}."),
    }
}

fn of_dangers(path: &Utf8Path, dangers: &[&Finding], both: &Checked) -> Vec<String> {
    let mut told = vec![
        format!("{path}: the two changes fit together as text, but not as a procedure."),
        "Together they bring what neither side had:".to_owned(),
    ];
    told.extend(dangers.iter().map(|finding| plain::finding(finding, &both.reading.sources)));
    told.push("Marks stand around the statement; it is the same in both halves.".into());
    told.push("Put the procedure right, and take the marks out.".into());
    told.push(format!("Then: anteroom check {path}"));
    told
}

/// What does not stop a merge, and is told.
fn of_warnings(path: &Utf8Path, warnings: &[&Finding]) -> Vec<String> {
    if warnings.is_empty() {
        return Vec::new();
    }
    let mut told = vec![format!("{path} is merged, and has a WARNING that neither side had:")];
    told.extend(warnings.iter().map(|finding| format!("  {}", finding.title)));
    told.push(format!("To read it: anteroom check {path}"));
    told
}

/// What this check could not know.
fn not_looked_at(path: &Utf8Path, both: &Checked) -> Vec<String> {
    let reading = &both.reading;
    let used: Vec<&str> = reading.sources.iter().skip(1).map(|(_, source)| source.name.as_str()).collect();
    let mut told = Vec::new();
    if !reading.policy.paper.is_policy {
        told.push(format!("{path} is shared: the policies that use it are not checked by this merge. Check them."));
    }
    if !used.is_empty() {
        told.push(format!("{path} is checked with {} as they are in this folder now.", used.join(", ")));
        told.push(format!("If this merge changes those too, check again: anteroom check {path}"));
    }
    if reading.problems.iter().any(|problem| matches!(problem.kind, ProblemKind::File { .. })) {
        told.push(format!("{path} uses files that could not be had here: what they say is not looked at."));
    }
    if !both.examined.unfinished.is_empty() {
        told.push(format!("{path} has lines that are not understood: what they belong to is not played through."));
    }
    told
}
