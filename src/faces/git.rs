//! The program `git`, asked by its own commands: never by a shell, never with a pager, never in another language.
//!
//! In: arguments. Out: what it answers, bounded; or why not, as a clause. Must never wait for a person, nor run what a
//! repository names to be run.

use std::io::Read;
use std::path::Path;
use std::process::{Command, Stdio};

use camino::{Utf8Path, Utf8PathBuf};

/// Far above what any question here is answered with, the text of a policy apart.
const LONGEST: u64 = 4 * 1024 * 1024;

/// Git, at work in a folder.
#[derive(Clone, Debug)]
pub struct Git {
    folder: Utf8PathBuf,
}

impl Git {
    pub fn within(folder: &Utf8Path) -> Git {
        Git { folder: folder.to_path_buf() }
    }

    /// The answer as text, without the break at its end.
    pub fn ask(&self, arguments: &[&str]) -> Result<String, String> {
        let answer = self.bytes(arguments, LONGEST)?;
        let text = String::from_utf8(answer).map_err(|_| "git answers in letters that are not UTF-8".to_owned())?;
        Ok(text.strip_suffix('\n').unwrap_or(&text).to_owned())
    }

    /// The answer as it is. One that is longer than `most` is refused.
    pub fn bytes(&self, arguments: &[&str], most: u64) -> Result<Vec<u8>, String> {
        let mut command = self.command(arguments);
        command.stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().map_err(|error| match error.kind() {
            std::io::ErrorKind::NotFound if self.folder.as_str().is_empty() || self.folder.is_dir() => {
                "the program git is not on this computer, or is not found".to_owned()
            }
            std::io::ErrorKind::NotFound => format!("there is no folder {}", self.folder),
            _ => format!("git cannot be run; the computer says: {error}"),
        })?;
        let (out, err) = (child.stdout.take(), child.stderr.take());
        // Read beside the answer, so that neither waits for the other to be read.
        let complaint = std::thread::spawn(move || {
            let mut complaint = Vec::new();
            let _ = err.map(|err| err.take(LONGEST).read_to_end(&mut complaint));
            complaint
        });
        let mut answer = Vec::new();
        let read = out.map_or(Ok(0), |out| out.take(most + 1).read_to_end(&mut answer));
        let is_too_long = answer.len() as u64 > most;
        if is_too_long {
            let _ = child.kill();
        }
        let status = child.wait();
        let complaint = complaint.join().unwrap_or_default();
        if is_too_long {
            return Err("git answers at more length than is read".to_owned());
        }
        match (read, status) {
            (Ok(_), Ok(status)) if status.success() => Ok(answer),
            _ => Err(said(&complaint)),
        }
    }

    /// Git's own merge by lines, into the first file. Out: whether it is clean.
    pub fn merge_lines(&self, files: [&Path; 3], labels: [&str; 2], size: usize) -> Result<bool, String> {
        let size = format!("--marker-size={size}");
        let mut command = self.command(&["merge-file", &size, "-L", labels[0], "-L", "before", "-L", labels[1], "--"]);
        let output = command.args(files).output().map_err(|error| format!("the computer says: {error}"))?;
        match output.status.code() {
            Some(0) => Ok(true),
            // The number of conflicts.
            Some(1..=127) => Ok(false),
            _ => Err(said(&output.stderr)),
        }
    }

    fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new("git");
        // A repository can name a program that watches its files; none is run for a question.
        command.args(["--no-pager", "--literal-pathspecs", "-c", "core.fsmonitor=false", "-c", "core.quotePath=false"]);
        command.args(arguments).stdin(Stdio::null());
        if !self.folder.as_str().is_empty() {
            command.current_dir(&self.folder);
        }
        let calm =
            [("LC_ALL", "C"), ("GIT_OPTIONAL_LOCKS", "0"), ("GIT_TERMINAL_PROMPT", "0"), ("GIT_NO_LAZY_FETCH", "1")];
        command.envs(calm);
        command
    }

    /// The folder in which the repository's files lie.
    pub fn top(&self) -> Result<Utf8PathBuf, String> {
        self.ask(&["rev-parse", "--show-toplevel"]).map(Utf8PathBuf::from)
    }

    /// The way from the top to this folder, with a stroke at its end; nothing at the top.
    pub fn prefix(&self) -> Result<String, String> {
        self.ask(&["rev-parse", "--show-prefix"])
    }
}

/// Git's complaint as a clause.
fn said(complaint: &[u8]) -> String {
    let complaint = String::from_utf8_lossy(complaint);
    let first = complaint.lines().find(|line| !line.trim().is_empty()).unwrap_or_default();
    let first = ["fatal: ", "error: "].iter().find_map(|word| first.strip_prefix(word)).unwrap_or(first).trim();
    match () {
        () if first.starts_with("not a git repository") => "this folder is in no git repository".to_owned(),
        () if first.starts_with("detected dubious ownership") => {
            "the repository belongs to another user of this computer, and git does not open it".to_owned()
        }
        () if first.is_empty() => "git gives no answer".to_owned(),
        () => format!("git says: {}", first.trim_end_matches('.')),
    }
}
