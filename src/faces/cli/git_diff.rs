//! `anteroom git-diff PATH OLD-FILE OLD-CONTENT OLD-MODE NEW-FILE NEW-CONTENT NEW-MODE [NEW-PATH …]`: what git calls to tell
//! the difference of two versions of a policy.
//!
//! The comparison of meaning that `anteroom compare` tells. Git hands over two files and not the points of the history that
//! they are of; which versions of the used files were taken is found by the content, and said.

use std::ffi::OsString;

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen, compare as comparing, today};
use crate::compare::{compare, report};
use crate::faces::git::Git;
use crate::faces::history::{self, Point};
use crate::faces::shelf::{FolderShelf, read_text};
use crate::findings::closing::CAUTION;
use crate::session::{self, Checked, Shelf};

/// Tell what changed between two versions of a policy, for git
#[derive(clap::Args)]
#[command(hide = true)]
pub struct GitDiff {
    #[arg(required = true, trailing_var_arg = true, allow_hyphen_values = true)]
    given: Vec<OsString>,
}

/// One side, as git hands it over.
struct Version {
    /// Where its text lies for now.
    file: Utf8PathBuf,
    /// Its content's number; nothing but noughts where it lies in the working folder.
    content: String,
    path: Utf8PathBuf,
}

/// Which versions of the used files belong to it.
enum Beside {
    /// The folder, as it is now.
    Folder,
    Point(Point),
    /// No point of the history is known to hold this version: the folder, as it is now.
    Unknown,
}

impl GitDiff {
    /// Where there is nothing to compare, git shows lines: the command that git-setup wrote sees to it.
    pub fn run(self, screen: &mut Screen) -> Ending {
        let given: Option<Vec<&str>> = self.given.iter().map(|word| word.to_str()).collect();
        let Some(given) = given else { return Ending::CouldNotRun };
        let ([path, old_file, old, _, new_file, new, _, rest @ ..], git) = (&given[..], Git::within(Utf8Path::new("")))
        else {
            screen.say_line(&format!("{} is not merged yet: there are marks in it to decide.", given.join(" ")));
            return Ending::Clear;
        };
        let new_path = rest.first().unwrap_or(path);
        let before = Version::new(old_file, old, path);
        let after = Version::new(new_file, new, new_path);
        let is_in_folder = after.is_in_folder();
        let sides = before.checked(&git, is_in_folder).and_then(|before| Ok((before, after.checked(&git, true)?)));
        let Ok(((before_name, before, its_files), (after_name, after, other_files))) = sides else {
            return Ending::CouldNotRun;
        };
        screen.say_line(&format!("{new_path}: what changed in meaning"));
        comparing::say(&report::report(&compare((&before_name, &before), (&after_name, &after), None, &[])), screen);
        if before.reading.sources.iter().count() + after.reading.sources.iter().count() > 2 {
            screen.say_line(&format!("Files that it uses: before {its_files}; after {other_files}."));
            screen.say_line("Git does not say of which commit these are. To choose one yourself:");
            screen.say_item(&format!("anteroom compare 'HEAD~1:{path}' '{new_path}'"));
        }
        if !after.reading.policy.paper.is_policy {
            screen.say_line("It is shared: what this does to the policies that use it is not told here.");
        }
        screen.say_line(&format!("To see the lines: git diff --no-ext-diff -- '{new_path}'"));
        screen.say_line(CAUTION);
        screen.say("\n");
        Ending::Clear
    }
}

type Side = (String, Checked, String);

impl Version {
    fn new(file: &str, content: &str, path: &str) -> Version {
        Version { file: file.into(), content: content.to_owned(), path: path.into() }
    }

    fn is_in_folder(&self) -> bool {
        self.file == self.path || self.content.bytes().all(|digit| digit == b'0')
    }

    /// Its name, what is found in it, and in words which files stood beside it.
    fn checked(&self, git: &Git, staged_first: bool) -> Result<Side, String> {
        let text = read_text(&self.file)?;
        let beside = self.beside(git, staged_first);
        let (name, shelf, words): (String, Box<dyn Shelf>, String) = match &beside {
            Beside::Point(point) => {
                let opened = history::open_at(git, point, &self.path)?;
                let words = match point {
                    Point::Index => "as they are staged".to_owned(),
                    Point::Commit { named, .. } => format!("as in {named}"),
                };
                (opened.name, Box::new(opened.shelf), words)
            }
            Beside::Folder => {
                (self.path.to_string(), Box::new(FolderShelf::beside(&self.path)?), "as in the folder".to_owned())
            }
            Beside::Unknown => {
                let words = "as in the folder now, since no commit is known to which it belongs".to_owned();
                (
                    format!("{}, {}", self.path, self.content.get(..8).unwrap_or_default()),
                    Box::new(FolderShelf::beside(&self.path)?),
                    words,
                )
            }
        };
        Ok((name.clone(), session::check(session::read(&name, text, &*shelf), Some(today())), words))
    }

    fn beside(&self, git: &Git, staged_first: bool) -> Beside {
        if self.is_in_folder() {
            return Beside::Folder;
        }
        let mut points: Vec<Point> = history::commit(git, "HEAD").into_iter().collect();
        points.insert(if staged_first { 0 } else { points.len() }, Point::Index);
        let holds = |point: &Point| history::holds(git, point, &self.path, &self.content);
        let known = points.into_iter().find(holds).or_else(|| history::commit_with(git, &self.path, &self.content));
        known.map_or(Beside::Unknown, Beside::Point)
    }
}
