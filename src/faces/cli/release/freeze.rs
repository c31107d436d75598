//! `anteroom release freeze FILE`: an edition with its files and aids, and the hash of each.

use std::collections::BTreeMap;

use camino::{Utf8Path, Utf8PathBuf};

use crate::faces::archive::{MANIFEST, Record, Releases};
use crate::faces::cli::in_turn::InTurn;
use crate::faces::cli::when::Basis;
use crate::faces::cli::{Ending, Screen, day, language, policies, print, today, word_files};
use crate::faces::outbox::{self, Outbox};
use crate::faces::shelf::FolderShelf;
use crate::findings::PolicyReport;
use crate::policy::{Day, Paper};
use crate::release::manifest::{Print, Source};
use crate::release::{Entry, Event, Manifest};
use crate::session::Shelf;

/// Keep an edition as it is: the policy's files and its printed aids, with the hash of each
///
/// The aids are printed as they will hang from the edition's first day in force. What would print as a draft is frozen as a
/// draft: it can be reviewed, and not approved. Exit status: 0 frozen, 1 frozen with something at DANGER or WARNING, 2 not
/// frozen.
#[derive(clap::Args)]
pub struct Freeze {
    /// The policy file
    file: Utf8PathBuf,
    /// The folder of releases; the policy has a folder of its own there, and in it each edition
    #[arg(long, value_name = "FOLDER", default_value = "releases")]
    into: Utf8PathBuf,
    /// Print in this language as well, as a tag (fr), by the word file beside the policy
    #[arg(long, value_name = "LANGUAGE", value_parser = language)]
    language: Vec<String>,
    /// Keep the policy's files alone, and print nothing
    #[arg(long, conflicts_with = "language")]
    sources_only: bool,
    /// The day on which it is frozen, as 2026-11-30; without it, today
    #[arg(long, value_name = "DATE", value_parser = day)]
    today: Option<Day>,
}

impl Freeze {
    pub fn run(self, screen: &mut Screen) -> Ending {
        if !cfg!(feature = "typeset") && !self.sources_only {
            screen.remark("Nothing is frozen: the typesetter was not built in. Without prints: --sources-only");
            return Ending::CouldNotRun;
        }
        let files = [self.file.clone()];
        let read = policies::read(&files);
        screen.unread(&read.unread);
        let Some(known) = read.papers.first() else {
            if read.unread.is_empty() {
                screen.remark(&format!("{} holds what policies share: no edition of it is frozen.", self.file));
            }
            return Ending::CouldNotRun;
        };
        let frozen_on = self.today.unwrap_or_else(today);
        let first_day = known.paper.in_force.map_or(frozen_on, |day| day.max(frozen_on));
        let basis = Basis::on(first_day);
        let turn = InTurn { files: &files, out: &self.into, basis: &basis, done: "frozen" };
        let folder = |outbox: &Outbox, policy: &PolicyReport, _: &str| {
            let paper = &policy.checked.reading.policy.paper;
            let home = home(outbox.folder(), paper)?;
            let name = name(paper, &policy.checked.fingerprint);
            let record = Record::read(&home).map_err(|fault| format!("{}: {}", fault.path, fault.why))?;
            if record.history.edition(&name).is_some() {
                return Err(format!("it is frozen already in {}", home.join(name)));
            }
            Outbox::open(&home)?.folder_within(&name)
        };
        turn.run(screen, folder, |policy, folder, screen| match self.freeze(policy, &folder, frozen_on, screen) {
            Ok(()) => true,
            Err(why) => {
                screen.remark(&format!("{} is not frozen: {why}.", policy.file));
                false
            }
        })
    }

    fn freeze(
        &self,
        policy: &PolicyReport,
        folder: &Outbox,
        frozen_on: Day,
        screen: &mut Screen,
    ) -> Result<(), String> {
        let home = folder.folder().parent().unwrap_or(folder.folder());
        let record = Record::read(home).map_err(|fault| format!("{}: {}", fault.path, fault.why))?;
        let sources = sources(policy)?;
        let mut kept = Vec::new();
        for (name, text) in &sources {
            let path = format!("sources/{name}");
            folder.keep(&path, text.as_bytes())?;
            kept.push(Source::of(path, text.as_bytes()));
        }
        let prints = if self.sources_only { Vec::new() } else { self.prints(policy, folder, screen)? };
        let counts = (kept.len(), prints.len());
        let previous = record.history.editions.last().map(|before| before.manifest.clone());
        let within = folder_of(policy.file);
        let name = |source: &str| format!("sources/{}", inside(source, within));
        let manifest = Manifest::of(policy.checked, frozen_on, previous, (kept, prints), name);
        let text = manifest.text();
        folder.keep(MANIFEST, text.as_bytes())?;
        let event = Event::Frozen {
            fingerprint: manifest.fingerprint.clone(),
            manifest: crate::policy::meaning::digest(&text),
            needs: manifest.approval_needs,
            number: manifest.edition,
            policy: manifest.policy.clone(),
            site: manifest.site.clone(),
        };
        let edition = folder.folder().file_name().unwrap_or_default().to_owned();
        Record::append(home, &[Entry { day: frozen_on, edition, event }])?;
        tell(&manifest, folder.folder(), counts, screen);
        Ok(())
    }

    /// Prints what is asked for, by the same way as `print`.
    fn prints(&self, policy: &PolicyReport, folder: &Outbox, screen: &mut Screen) -> Result<Vec<Print>, String> {
        let original = folder.folder_within("prints")?;
        let mut prints = Vec::new();
        for language in std::iter::once(None).chain(self.language.iter().map(|tag| Some(tag.as_str()))) {
            let outbox = language.map_or_else(|| Ok(original.clone()), |tag| original.folder_within(tag))?;
            let within = language.map(|tag| format!("{}/", outbox::clean(tag))).unwrap_or_default();
            let (plan, marking) = print::planned(policy, language, screen)?;
            let word = marking.as_ref().map(|marking| marking.word.clone());
            let written = print::print(policy, &plan, marking, &outbox, screen);
            if !written.is_whole {
                return Err("not all of its aids could be printed".to_owned());
            }
            for name in written.names {
                let bytes = std::fs::read(outbox.folder().join(&name)).map_err(|error| outbox::reason(&error))?;
                prints.push(Print::of(format!("prints/{within}{name}"), &bytes, word.clone()));
            }
        }
        Ok(prints)
    }
}

/// The folder of a policy among the releases: that with its log, or a new one named by its title.
fn home(releases: &Utf8Path, paper: &Paper) -> Result<Utf8PathBuf, String> {
    let (Some(identity), Some(title)) = (paper.identity(), &paper.title) else {
        return Err("it has no title to be known by: write a line that begins with “policy”".to_owned());
    };
    let known = Releases::read(releases)?;
    if let Some(fault) = known.faults.first() {
        return Err(format!("{}: {}", fault.path, fault.why));
    }
    if let Some(record) = known.record_of(&identity) {
        return Ok(record.folder.clone());
    }
    let stem = outbox::clean(title);
    let numbered = (2..10_000).map(|number| format!("{stem}-{number}"));
    let mut free = std::iter::once(stem.clone()).chain(numbered).map(|name| releases.join(name));
    let is_free = |folder: &Utf8PathBuf| !folder.join(crate::faces::archive::LOG).exists();
    free.find(is_free).ok_or_else(|| "too many policies bear its title".to_owned())
}

/// `edition-4-3fa9c2d1`
fn name(paper: &Paper, fingerprint: &str) -> String {
    paper.edition.map_or_else(|| format!("edition-{fingerprint}"), |number| format!("edition-{number}-{fingerprint}"))
}

fn folder_of(file: &str) -> &Utf8Path {
    Utf8Path::new(file).parent().unwrap_or(Utf8Path::new(""))
}

/// A file of the policy as it is named from the policy's own folder.
fn inside(file: &str, folder: &Utf8Path) -> String {
    Utf8Path::new(file).strip_prefix(folder).map_or(file, Utf8Path::as_str).replace('\\', "/")
}

/// Every file that the policy is made of, as it was read: itself, those it uses, its drawings and the word files beside it.
fn sources(policy: &PolicyReport) -> Result<BTreeMap<String, String>, String> {
    let reading = &policy.checked.reading;
    let (file, folder) = (Utf8Path::new(policy.file), folder_of(policy.file));
    let read = reading.sources.iter();
    let mut kept: BTreeMap<String, String> =
        read.map(|(_, source)| (inside(&source.name, folder), source.text.clone())).collect();
    let (shelf, text) = FolderShelf::open(file)?;
    if kept.get(&inside(policy.file, folder)) != Some(&text) {
        return Err("it has changed while it was being frozen".to_owned());
    }
    let pictures = reading.policy.items.iter().filter_map(|item| item.picture.as_ref());
    for picture in pictures.filter(|picture| picture.svg.is_some()) {
        let (name, text) = shelf.fetch(&reading.sources.get(picture.span.source).name, &picture.file)?;
        kept.insert(inside(&name, folder), text);
    }
    for words in word_files::beside_each(&[file.to_owned()]).into_iter().flatten() {
        let name = Utf8Path::new(&words.file).file_name().unwrap_or_default();
        let (name, text) = shelf.fetch(policy.file, name)?;
        kept.insert(inside(&name, folder), text);
    }
    Ok(kept)
}

fn tell(manifest: &Manifest, folder: &Utf8Path, (sources, prints): (usize, usize), screen: &mut Screen) {
    let many = |count: usize, one: &str, many: &str| format!("{count} {}", if count == 1 { one } else { many });
    let counted = format!("{} and {}", many(sources, "source", "sources"), many(prints, "print", "prints"));
    screen.say_line(&format!("Frozen in {folder}, with {counted}."));
    if manifest.draft_because.is_empty() {
        screen.say_line(&format!("To ask for signatures: anteroom release submit {folder}"));
    } else {
        screen
            .say_line(&format!("It is a draft, to be reviewed and not approved. {}", manifest.draft_because.join(" ")));
    }
}
