//! Policies as they were at a point of a git history: `HEAD~1:policies/ward.ppe`.
//!
//! In: a point and a path in one word. Out: the policy's text then, and a shelf of the files beside it then. Must never
//! mix in a file of another time, nor read outside the folder of the policy.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use camino::{Utf8Component, Utf8Path, Utf8PathBuf};

use super::git::Git;
use super::shelf::{LARGEST, LARGEST_TOGETHER, megabytes, plain_text};
use crate::session::Shelf;

/// How often one policy may ask for a file.
const MOST_TIMES: usize = 500;

/// What a git history holds at one point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Point {
    /// A commit, by its number, and how the person named it.
    Commit { number: String, named: String },
    /// What is to be committed next.
    Index,
}

impl Point {
    /// How a file of this point is named to people: `HEAD~1:ward.ppe`.
    pub fn named(&self, path: &Utf8Path) -> String {
        match self {
            Point::Commit { named, .. } => format!("{named}:{path}"),
            Point::Index => format!(":{path}"),
        }
    }
}

/// The folder of one policy at one point.
pub struct HistoryShelf {
    git: Git,
    point: Point,
    /// The folder, from the top of the repository.
    folder: Utf8PathBuf,
    fetched: RefCell<BTreeMap<String, u64>>,
    times: Cell<usize>,
}

/// A policy of the history.
pub struct Opened {
    /// As it is shown: `HEAD~1:policies/ward.ppe`.
    pub name: String,
    pub text: String,
    pub shelf: HistoryShelf,
}

/// What a word like `HEAD~1:policies` named then.
pub struct Found {
    pub policies: Vec<Opened>,
    pub is_folder: bool,
}

/// Policies of one folder at one point.
const MOST_POLICIES: usize = 2_000;

/// Whether a word names a point of a history: it has a colon in it that is not that of a drive (`C:\ward.ppe`), and is no
/// file or folder that is there.
pub fn is_point(word: &Utf8Path) -> bool {
    let Some((point, path)) = word.as_str().split_once(':') else { return false };
    let is_drive = point.len() == 1 && path.starts_with(['\\', '/']);
    !path.is_empty() && !is_drive && !word.exists()
}

/// The policy, or the folder of policies, that a word like `HEAD~1:policies/ward.ppe` names in the repository of the folder
/// at hand.
pub fn open(word: &Utf8Path) -> Result<Found, String> {
    let (point, path) = word.as_str().split_once(':').ok_or("it names no point of a history")?;
    let here = Git::within(Utf8Path::new(""));
    let git = Git::within(&here.top()?);
    let prefix = here.prefix()?;
    let point = match point {
        "" => Point::Index,
        named => commit(&git, named)?,
    };
    let from_here = inside(Utf8Path::new(&prefix), path).ok_or("it lies outside the repository");
    if ["./", "../"].iter().any(|start| path.starts_with(start)) || path == "." {
        return found(&git, &point, &from_here?);
    }
    let from_top = inside(Utf8Path::new(""), path).ok_or("it lies outside the repository")?;
    match found(&git, &point, &from_top) {
        // People name files as they see them from their own folder.
        Err(why) if !prefix.is_empty() => {
            from_here.and_then(|path| found(&git, &point, &path).map_err(|_| "")).or(Err(why))
        }
        other => other,
    }
}

fn found(git: &Git, point: &Point, path: &Utf8Path) -> Result<Found, String> {
    let within = policies_within(git, point, path)?;
    if within.is_empty() {
        return Ok(Found { policies: vec![open_at(git, point, path)?], is_folder: false });
    }
    let policies: Result<Vec<Opened>, String> = within.iter().map(|path| open_at(git, point, path)).collect();
    Ok(Found { policies: policies?, is_folder: true })
}

/// The policies of a folder and of those within it, in the order of their names; none for a file.
fn policies_within(git: &Git, point: &Point, folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, String> {
    let beneath = if folder.as_str().is_empty() { String::new() } else { format!("{folder}/") };
    let mut arguments = match point {
        Point::Commit { number, .. } => vec!["ls-tree", "-r", "-z", "--full-tree", "--name-only", number],
        Point::Index => vec!["ls-files", "-z"],
    };
    if !beneath.is_empty() {
        arguments.extend(["--", folder.as_str()]);
    }
    let listed = git.ask(&arguments)?;
    let is_hidden = |path: &str| path.split('/').any(|part| part.starts_with('.'));
    let names = listed.split('\0').filter(|path| path.strip_prefix(&beneath).is_some_and(|inside| !is_hidden(inside)));
    let mut policies: Vec<Utf8PathBuf> = names.filter(|path| path.ends_with(".ppe")).map(Utf8PathBuf::from).collect();
    if policies.len() > MOST_POLICIES {
        return Err(format!("it held more than {MOST_POLICIES} policies: name a smaller folder"));
    }
    policies.sort();
    Ok(policies)
}

/// The policy at a path from the top of the repository. `git`: at the top.
pub fn open_at(git: &Git, point: &Point, path: &Utf8Path) -> Result<Opened, String> {
    let text = text_of(git, point, path)?;
    let shelf = HistoryShelf {
        git: git.clone(),
        point: point.clone(),
        folder: path.parent().unwrap_or(Utf8Path::new("")).to_path_buf(),
        fetched: RefCell::default(),
        times: Cell::new(0),
    };
    Ok(Opened { name: point.named(path), text, shelf })
}

/// How far back a version of a file is looked for.
const MOST_COMMITS: &str = "300";

/// A commit that brought this content to this path, of the latest on any branch.
pub fn commit_with(git: &Git, path: &Utf8Path, content: &str) -> Option<Point> {
    let told = [
        "log",
        "--all",
        "-n",
        MOST_COMMITS,
        "--no-renames",
        "--raw",
        "--no-abbrev",
        "--format=%H",
        "--",
        path.as_str(),
    ];
    let log = git.ask(&told).ok()?;
    let mut number = "";
    for line in log.lines() {
        match line.strip_prefix(':') {
            None if !line.is_empty() => number = line,
            Some(raw) if raw.split(' ').nth(3) == Some(content) => {
                return Some(Point::Commit { number: number.to_owned(), named: number.get(..8)?.to_owned() });
            }
            _ => {}
        }
    }
    None
}

/// The commit that a person names by a branch, a tag, or a way back from one.
pub fn commit(git: &Git, named: &str) -> Result<Point, String> {
    let wanted = format!("{named}^{{commit}}");
    match git.ask(&["rev-parse", "--verify", "--quiet", "--end-of-options", &wanted]) {
        Ok(number) => Ok(Point::Commit { number, named: named.to_owned() }),
        Err(why) if why == "git gives no answer" => Err(format!("the history has no point called {named}")),
        Err(why) => Err(why),
    }
}

/// A path within a folder, without steps back; none where it leads out of the repository.
fn inside(folder: &Utf8Path, written: &str) -> Option<Utf8PathBuf> {
    let mut inside = Utf8PathBuf::new();
    for component in folder.join(written.trim().replace('\\', "/")).components() {
        match component {
            Utf8Component::Normal(part) => inside.push(part),
            Utf8Component::CurDir => {}
            Utf8Component::ParentDir if inside.pop() => {}
            _ => return None,
        }
    }
    Some(inside)
}

/// Where a path leads at a point: the kind of entry and the number of its content.
fn entry(git: &Git, point: &Point, path: &Utf8Path) -> Result<(String, String), String> {
    const MISSING: &str = "there was no such file";
    let listed = match point {
        Point::Commit { number, .. } => git.ask(&["ls-tree", "-z", "--full-tree", number, "--", path.as_str()])?,
        Point::Index => git.ask(&["ls-files", "-z", "--stage", "--", path.as_str()])?,
    };
    // Of a commit "mode type number TAB path", of the index "mode number stage TAB path".
    let (about, _) = listed
        .split('\0')
        .find_map(|line| line.split_once('\t').filter(|line| line.1 == path.as_str()))
        .ok_or(MISSING)?;
    let mut words = about.split(' ');
    let mode = words.next().unwrap_or_default().to_owned();
    let number = words.find(|word| word.len() >= 40).ok_or(MISSING)?;
    Ok((mode, number.to_owned()))
}

/// Whether the path held this content at the point.
pub fn holds(git: &Git, point: &Point, path: &Utf8Path, content: &str) -> bool {
    entry(git, point, path).is_ok_and(|(_, number)| number == content)
}

fn text_of(git: &Git, point: &Point, path: &Utf8Path) -> Result<String, String> {
    let (mode, number) = entry(git, point, path)?;
    match mode.get(..3) {
        Some("100") => {}
        Some("120") => return Err("it was a link to another file then, and links are not followed".into()),
        _ => return Err("it was a folder then: name a policy file in it".into()),
    }
    let size: u64 = git.ask(&["cat-file", "-s", &number])?.parse().map_err(|_| "git gives no size for it")?;
    if size > LARGEST {
        let limit = megabytes(LARGEST);
        return Err(format!("it is too large for a policy: {}, where {limit} is the limit", megabytes(size)));
    }
    plain_text(git.bytes(&["cat-file", "blob", &number], LARGEST)?)
}

impl Shelf for HistoryShelf {
    fn fetch(&self, from: &str, written: &str) -> Result<(String, String), String> {
        const OUTSIDE: &str = "it lies outside the folder of the policy";
        self.times.set(self.times.get() + 1);
        if self.times.get() > MOST_TIMES {
            return Err(format!("this policy asks for files more than {MOST_TIMES} times"));
        }
        let shown = self.point.named(Utf8Path::new(""));
        let from = Utf8Path::new(from.strip_prefix(&shown).unwrap_or(from));
        let path = inside(from.parent().unwrap_or(Utf8Path::new("")), written).ok_or(OUTSIDE)?;
        if !path.starts_with(&self.folder) {
            return Err(OUTSIDE.into());
        }
        let text = text_of(&self.git, &self.point, &path)?;
        let mut fetched = self.fetched.borrow_mut();
        fetched.insert(path.to_string(), text.len() as u64);
        if fetched.values().sum::<u64>() > LARGEST_TOGETHER {
            return Err(format!("the files of this policy together hold more than {}", megabytes(LARGEST_TOGETHER)));
        }
        Ok((self.point.named(&path), text))
    }
}
