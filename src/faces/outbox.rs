//! Files for people to keep, written whole or not at all.
//!
//! In: a folder, names and bytes. Out: files in that folder. Must never write outside it, never leave half a file, and
//! never leave a trace of a file that it could not finish.

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use camino::{Utf8Component, Utf8Path, Utf8PathBuf};

/// Files that are being written, to be removed if the person stops the program.
static UNFINISHED: Mutex<BTreeSet<PathBuf>> = Mutex::new(BTreeSet::new());

fn unfinished() -> MutexGuard<'static, BTreeSet<PathBuf>> {
    UNFINISHED.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Removes what is half written and ends the program; writers wait until it has ended.
pub fn abandon(status: i32) -> ! {
    let held = unfinished();
    for path in held.iter() {
        let _ = fs::remove_file(path);
    }
    std::process::exit(status)
}

/// A folder that files can be written to.
#[derive(Clone, Debug)]
pub struct Outbox {
    folder: Utf8PathBuf,
}

impl Outbox {
    /// Makes the folder where there is none, and tries it with an empty file, so that what cannot be written is known
    /// before the work is done. `Err`: why not, as a clause.
    pub fn open(folder: &Utf8Path) -> Result<Outbox, String> {
        fs::create_dir_all(folder).map_err(|error| reason(&error))?;
        let outbox = Outbox { folder: folder.to_path_buf() };
        outbox.beside().and_then(Beside::discard).map_err(|error| reason(&error))?;
        Ok(outbox)
    }

    pub fn folder(&self) -> &Utf8Path {
        &self.folder
    }

    /// A folder within this one, by a name that is cleaned as file names are.
    pub fn folder_within(&self, name: &str) -> Result<Outbox, String> {
        Outbox::open(&self.folder.join(clean(name)))
    }

    /// Writes the bytes beside, flushes them to the disk and renames, so that an older file stays whole until then.
    pub fn put(&self, stem: &str, ending: &str, bytes: &[u8]) -> Result<Utf8PathBuf, String> {
        let path = self.folder.join(format!("{}.{ending}", clean(stem)));
        self.beside().and_then(|beside| beside.become_file(bytes, &path)).map_err(|error| reason(&error))?;
        Ok(path)
    }

    /// Writes a file in the same way under the very name that others know it by: plain parts, parted by `/`.
    pub fn keep(&self, name: &str, bytes: &[u8]) -> Result<Utf8PathBuf, String> {
        let path = self.folder.join(name);
        let is_plain = |part: Utf8Component| matches!(part, Utf8Component::Normal(_));
        if name.is_empty() || !Utf8Path::new(name).components().all(is_plain) {
            return Err("its name leads out of the folder".into());
        }
        let within = path.parent().unwrap_or(&self.folder);
        let made = || {
            fs::create_dir_all(within)?;
            Ok(within.canonicalize_utf8()?.starts_with(self.folder.canonicalize_utf8()?))
        };
        if !made().map_err(|error| reason(&error))? {
            return Err("a link there leads out of the folder".into());
        }
        Beside::within(within).and_then(|beside| beside.become_file(bytes, &path)).map_err(|error| reason(&error))?;
        Ok(path)
    }

    /// Files of an ending that are in the folder beside those named.
    pub fn others(&self, ending: &str, named: &BTreeSet<String>) -> Vec<String> {
        let entries = fs::read_dir(&self.folder).into_iter().flatten().take(10_000);
        let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
        let others = names.filter(|name| Utf8Path::new(name).extension() == Some(ending) && !named.contains(name));
        others.collect::<BTreeSet<_>>().into_iter().collect()
    }

    fn beside(&self) -> io::Result<Beside> {
        Beside::within(&self.folder)
    }
}

/// A new file for a person to write in; never over one that is there.
pub fn create(path: &Utf8Path, bytes: &[u8]) -> Result<(), String> {
    let opened = fs::OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = opened.map_err(|error| match error.kind() {
        io::ErrorKind::AlreadyExists => "there is a file of that name already, and it is left as it is".to_string(),
        _ => reason(&error),
    })?;
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    written.map_err(|error| {
        let _ = fs::remove_file(path);
        reason(&error)
    })
}

/// Writes a person's own file anew, in the same way: links to it, and who may read it, stay as they are.
pub fn rewrite(path: &Utf8Path, bytes: &[u8]) -> Result<(), String> {
    let rewritten = || {
        let path = path.canonicalize_utf8()?;
        let permissions = fs::metadata(&path)?.permissions();
        // A file that nobody may write to is meant to stay as it is, though its folder would let it be replaced.
        fs::OpenOptions::new().append(true).open(&path)?;
        let beside = Beside::within(path.parent().unwrap_or(Utf8Path::new(".")))?;
        beside.0.as_file().set_permissions(permissions)?;
        beside.become_file(bytes, &path)
    };
    rewritten().map_err(|error| reason(&error))
}

/// Writes a file of a person's own where there was none, in the same way.
pub fn begin(path: &Utf8Path, bytes: &[u8]) -> Result<(), String> {
    let folder = path.parent().filter(|folder| !folder.as_str().is_empty()).unwrap_or(Utf8Path::new("."));
    Beside::within(folder).and_then(|beside| beside.become_file(bytes, path)).map_err(|error| reason(&error))
}

/// A file beside the one that it will become; gone when it is dropped.
struct Beside(tempfile::NamedTempFile);

impl Beside {
    fn within(folder: &Utf8Path) -> io::Result<Beside> {
        let mut known = unfinished();
        let mut builder = tempfile::Builder::new();
        builder.prefix(".anteroom-").suffix(".part");
        // Temporary files are their owner's alone unless told otherwise; a print room reads what was printed.
        #[cfg(unix)]
        builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
        let file = builder.tempfile_in(folder)?;
        known.insert(file.path().to_path_buf());
        Ok(Beside(file))
    }

    fn become_file(mut self, bytes: &[u8], path: &Utf8Path) -> io::Result<()> {
        let written = self.0.write_all(bytes).and_then(|()| self.0.as_file().sync_all());
        if let Err(error) = written {
            return self.discard().and(Err(error));
        }
        let mut known = unfinished();
        known.remove(self.0.path());
        self.0.persist(path).map_err(|failed| failed.error)?;
        // The name itself reaches the disk with its folder; systems that cannot flush a folder do without.
        if let Ok(folder) = File::open(path.parent().map_or(Path::new("."), Utf8Path::as_std_path)) {
            let _ = folder.sync_all();
        }
        Ok(())
    }

    fn discard(self) -> io::Result<()> {
        unfinished().remove(self.0.path());
        self.0.close()
    }
}

/// A name that is a plain file's on every system: small letters, digits and single hyphens, at most 80 of them.
pub fn clean(name: &str) -> String {
    let mut cleaned = String::new();
    for letter in name.chars().flat_map(char::to_lowercase) {
        match letter {
            'a'..='z' | '0'..='9' => cleaned.push(letter),
            _ if cleaned.is_empty() || cleaned.ends_with('-') => {}
            _ => cleaned.push('-'),
        }
        if cleaned.len() == 80 {
            break;
        }
    }
    let cleaned = cleaned.trim_end_matches('-');
    if cleaned.is_empty() { "unnamed".into() } else { cleaned.into() }
}

/// Why a file could not be written, as a clause.
pub fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem => {
            "you have no permission to write there".into()
        }
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => "the disk is full".into(),
        io::ErrorKind::FileTooLarge => "the file is larger than this computer allows".into(),
        io::ErrorKind::AlreadyExists | io::ErrorKind::NotADirectory => "a file of that name is in the way".into(),
        io::ErrorKind::IsADirectory => "a folder of that name is in the way".into(),
        _ => format!("the computer says: {error}"),
    }
}
