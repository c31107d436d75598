//! `anteroom git-setup [FOLDER]`: git shows and merges policies by what they say.
//!
//! Two things: lines of `.gitattributes`, which all who share the repository get with it, and this computer's own
//! configuration of git, which nobody else gets. What stood there before stays.

use std::fs;
use std::path::Path;

use camino::{Utf8Path, Utf8PathBuf};

use super::{Ending, Screen};
use crate::faces::git::Git;
use crate::faces::outbox;

/// Make git show and merge policies by what they say, in one repository
///
/// Each person who works on the policies runs it once, on each computer.
#[derive(clap::Args)]
pub struct GitSetup {
    /// A folder of the repository
    #[arg(default_value = ".")]
    folder: Utf8PathBuf,
    /// Take away what this command wrote
    #[arg(long)]
    undo: bool,
}

/// The line of `.gitattributes`, and the remark above it.
const REMARK: &str = "# Policies are shown and merged by what they say; each person runs once: anteroom git-setup";
const LINE: &str = "*.ppe diff=anteroom merge=anteroom";
const ATTRIBUTES: &str = ".gitattributes";

impl GitSetup {
    pub fn run(self, screen: &mut Screen) -> Ending {
        let git = Git::within(&self.folder);
        let done = git.top().and_then(|top| {
            let git = Git::within(&top);
            if self.undo { undo(&git, &top, screen) } else { set_up(&git, &top, screen) }
        });
        match done {
            Ok(()) => Ending::Clear,
            Err(why) => {
                screen.remark(&format!("Git is not set up in {}: {why}.", self.folder));
                Ending::CouldNotRun
            }
        }
    }
}

fn set_up(git: &Git, top: &Utf8Path, screen: &mut Screen) -> Result<(), String> {
    let program = own_path()?;
    let attributes = Attributes::of(top)?;
    for (key, value) in settings(&program) {
        git.ask(&["config", "--local", "--replace-all", key, &value])?;
    }
    screen.say_line("Git on this computer now asks anteroom about policies, in this repository:");
    screen.say_item("git diff tells what changed in meaning; git diff --no-ext-diff compares lines.");
    screen.say_item("git log -p and git show read policies out in their tidy form.");
    screen.say_item("git merge, rebase and cherry-pick put changes together by statement, and check the result.");
    let others = other_attributes(git)?;
    if attributes.has_line() {
        screen.say_line(&format!("{ATTRIBUTES} says so already."));
    } else if !others.is_empty() {
        screen.say_line(&format!("{ATTRIBUTES} is left as it is, since it says otherwise: {}.", others.join(", ")));
        screen.say_line(&format!("To change that, write this line there yourself: {LINE}"));
    } else {
        attributes.write(&attributes.with_line())?;
        screen.say_line(&format!("{ATTRIBUTES} has a line more; commit it, so that others have it too."));
    }
    if !git.ask(&["check-attr", "merge", "--", "a.ppe"])?.ends_with(": anteroom") && others.is_empty() {
        screen.say_line("But another setting of this repository has its way: policies are still merged otherwise.");
    }
    screen.say_line("Each person who works on the policies runs this once: anteroom git-setup");
    screen.say_line("On a computer without it, git merges and shows policies line by line, as before.");
    Ok(())
}

fn undo(git: &Git, top: &Utf8Path, screen: &mut Screen) -> Result<(), String> {
    for section in ["diff.anteroom", "merge.anteroom", "merge.anteroom-between"] {
        let known = git.ask(&["config", "--local", "--get-regexp", &format!("^{}\\.", section.replace('.', "\\."))]);
        if known.is_ok_and(|known| !known.is_empty()) {
            git.ask(&["config", "--local", "--remove-section", section])?;
        }
    }
    screen.say_line("Git on this computer shows and merges policies of this repository line by line again.");
    let attributes = Attributes::of(top)?;
    if attributes.has_line() {
        attributes.write(&attributes.without_line())?;
        screen.say_line(&format!("The line is taken out of {ATTRIBUTES}; commit that only if all others stop, too."));
    }
    Ok(())
}

/// What git is told. The sides of a merge, its files and its marks have signs of git's own: `%O %A %B %L %P %X %Y`.
///
/// Where the program has gone, git's own ways step in: by them nothing is lost, while a merge without an answer would leave
/// one side's text as if it were both.
fn settings(program: &str) -> [(&'static str, String); 7] {
    let by_lines = "git merge-file --marker-size=%L %A %O %B";
    let merge = |more: &str| {
        format!("{program} git-merge{more} -- %O %A %B %L %P %X %Y; s=$?; test $s -ge 126 || exit $s; {by_lines}")
    };
    let lines = "git --no-pager diff --no-index --no-ext-diff --no-textconv -- \"$2\" \"$5\"";
    [
        ("diff.anteroom.textconv", format!("f() {{ {program} git-textconv \"$1\" || cat \"$1\"; }}; f")),
        ("diff.anteroom.command", format!("f() {{ {program} git-diff \"$@\" || {lines}; true; }}; f")),
        ("diff.anteroom.cachetextconv", "false".to_owned()),
        ("merge.anteroom.name", "policies, statement by statement".to_owned()),
        ("merge.anteroom.driver", merge("")),
        ("merge.anteroom.recursive", "anteroom-between".to_owned()),
        ("merge.anteroom-between.driver", merge(" --unchecked")),
    ]
}

/// This program, as a shell takes it.
fn own_path() -> Result<String, String> {
    let path = std::env::current_exe().map_err(|error| format!("the computer says: {error}"))?;
    let path = path.to_str().ok_or("this program lies in a folder whose name is not saved as UTF-8")?;
    Ok(format!("'{}'", path.replace('\\', "/").replace('\'', r"'\''")))
}

/// What the repository says of policies already, if it is not what this command says.
fn other_attributes(git: &Git) -> Result<Vec<String>, String> {
    let told = git.ask(&["check-attr", "diff", "merge", "--", "a.ppe"])?;
    let said = told.lines().filter_map(|line| line.strip_prefix("a.ppe: "));
    let others = said.filter(|said| !said.ends_with(": unspecified") && !said.ends_with(": anteroom"));
    Ok(others.map(|said| said.replacen(": ", " is ", 1)).collect())
}

/// The attributes file at the top of the repository, as bytes: it may hold names in any letters.
struct Attributes {
    path: Utf8PathBuf,
    bytes: Option<Vec<u8>>,
}

impl Attributes {
    fn of(top: &Utf8Path) -> Result<Attributes, String> {
        let path = top.join(ATTRIBUTES);
        let about = match fs::symlink_metadata(&path) {
            Ok(about) => about,
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => return Ok(Attributes { path, bytes: None }),
            Err(error) => return Err(outbox::reason(&error)),
        };
        if !about.is_file() {
            return Err(format!("{ATTRIBUTES} is a link or a folder, which git does not read"));
        }
        let bytes = fs::read(&path).map_err(|error| format!("{ATTRIBUTES} cannot be read: {error}"))?;
        Ok(Attributes { path, bytes: Some(bytes) })
    }

    fn lines(&self) -> impl Iterator<Item = &[u8]> {
        self.bytes.iter().flat_map(|bytes| bytes.split_inclusive(|&byte| byte == b'\n'))
    }

    fn has_line(&self) -> bool {
        self.lines().any(|line| line.trim_ascii() == LINE.as_bytes())
    }

    fn with_line(&self) -> Vec<u8> {
        let mut bytes = self.bytes.clone().unwrap_or_default();
        let end: &[u8] = if bytes.windows(2).any(|pair| pair == b"\r\n") { b"\r\n" } else { b"\n" };
        if !bytes.is_empty() && !bytes.ends_with(b"\n") {
            bytes.extend(end);
        }
        for line in [REMARK, LINE] {
            bytes.extend(line.as_bytes());
            bytes.extend(end);
        }
        bytes
    }

    fn without_line(&self) -> Vec<u8> {
        let is_ours = |line: &&[u8]| [REMARK.as_bytes(), LINE.as_bytes()].contains(&line.trim_ascii());
        self.lines().filter(|line| !is_ours(line)).flatten().copied().collect()
    }

    fn write(&self, bytes: &[u8]) -> Result<(), String> {
        let put = match self.bytes {
            Some(_) if bytes.is_empty() => {
                return fs::remove_file(Path::new(&self.path)).map_err(|error| outbox::reason(&error));
            }
            Some(_) => outbox::rewrite,
            None => outbox::begin,
        };
        put(&self.path, bytes).map_err(|why| format!("{ATTRIBUTES} cannot be written: {why}"))
    }
}
