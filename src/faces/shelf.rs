//! Policy files on disk: read whole, as UTF-8, and never from outside the folder tree of the policy.
//!
//! In: paths. Out: names as they are shown, with their texts; or one reason, in words, why not.
//! Must never write, never wait (a pipe or a device is refused) and never read more than [`LARGEST`] bytes of a file.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read};

use camino::{Utf8Component, Utf8Path, Utf8PathBuf};

use crate::session::Shelf;

/// Bytes of one file: some 40,000 lines, where a long policy has 500.
pub const LARGEST: u64 = 2 * 1024 * 1024;
/// Bytes of all the files that one policy uses.
pub const LARGEST_TOGETHER: u64 = 8 * 1024 * 1024;

/// How often one policy may ask for a file; each time it is read.
const MOST_TIMES: usize = 500;

/// Of a folder that is searched for policies: what it and the folders within it may hold, and how deep they lie.
pub const MOST_ENTRIES: usize = 20_000;
const DEEPEST: usize = 8;

/// The folder tree of one policy.
pub struct FolderShelf {
    /// The folder as the person named it; empty where they named none.
    shown: Utf8PathBuf,
    /// The same with every link followed.
    root: Utf8PathBuf,
    /// Bytes of the files fetched so far, by name.
    fetched: RefCell<BTreeMap<String, u64>>,
    times: Cell<usize>,
}

impl FolderShelf {
    /// The shelf of the policy at `path`, and the policy's own text.
    pub fn open(path: &Utf8Path) -> Result<(FolderShelf, String), String> {
        let text = read_text(path)?;
        Ok((FolderShelf::beside(path)?, text))
    }

    /// The shelf of a policy whose own text comes from elsewhere.
    pub fn beside(path: &Utf8Path) -> Result<FolderShelf, String> {
        let shown = path.parent().unwrap_or(Utf8Path::new("")).to_path_buf();
        let folder = if shown.as_str().is_empty() { Utf8Path::new(".") } else { &shown };
        let root = folder.canonicalize_utf8().map_err(|error| reason(&error))?;
        Ok(FolderShelf { shown, root, fetched: RefCell::default(), times: Cell::new(0) })
    }

    /// Where `written` leads, seen from the file shown as `from`; links followed; inside the tree or not at all.
    fn locate(&self, from: &str, written: &str) -> Result<Utf8PathBuf, String> {
        const OUTSIDE: &str = "it lies outside the folder of the policy";
        let written = written.trim().replace('\\', "/");
        let beneath = Utf8Path::new(from).parent().unwrap_or(Utf8Path::new(""));
        let beneath = beneath.strip_prefix(&self.shown).unwrap_or(beneath);
        let mut inside = Utf8PathBuf::new();
        for component in beneath.join(&written).components() {
            match component {
                Utf8Component::Normal(part) => inside.push(part),
                Utf8Component::CurDir => {}
                Utf8Component::ParentDir if inside.pop() => {}
                _ => return Err(OUTSIDE.into()),
            }
        }
        let wanted = self.root.join(&inside);
        match wanted.canonicalize_utf8() {
            Ok(path) if path.starts_with(&self.root) => Ok(path),
            Ok(_) => Err(OUTSIDE.into()),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Err(missing(&wanted)),
            Err(error) => Err(reason(&error)),
        }
    }
}

impl Shelf for FolderShelf {
    fn fetch(&self, from: &str, written: &str) -> Result<(String, String), String> {
        self.times.set(self.times.get() + 1);
        if self.times.get() > MOST_TIMES {
            return Err(format!("this policy asks for files more than {MOST_TIMES} times"));
        }
        let path = self.locate(from, written)?;
        let text = read_text(&path)?;
        let name = path.strip_prefix(&self.root).map_or(path.clone(), |inside| self.shown.join(inside)).into_string();
        let mut fetched = self.fetched.borrow_mut();
        fetched.insert(name.clone(), text.len() as u64);
        if fetched.values().sum::<u64>() > LARGEST_TOGETHER {
            return Err(format!("the files of this policy together hold more than {}", megabytes(LARGEST_TOGETHER)));
        }
        Ok((name, text))
    }
}

/// Every file in a folder, and in the folders within it, whose name ends in `.ppe`: in the order of their names. A link to
/// another folder is not followed.
pub fn policies_within(folder: &Utf8Path) -> Result<Vec<Utf8PathBuf>, String> {
    let mut found = Vec::new();
    let mut folders = vec![(folder.to_path_buf(), 0)];
    let mut looked_at = 0;
    while let Some((folder, depth)) = folders.pop() {
        for entry in folder.read_dir_utf8().map_err(|error| reason(&error))? {
            let entry = entry.map_err(|error| reason(&error))?;
            looked_at += 1;
            if looked_at > MOST_ENTRIES {
                return Err(format!("it holds more than {MOST_ENTRIES} files and folders: name a smaller one"));
            }
            let is_hidden = entry.file_name().starts_with('.');
            let kind = entry.file_type().map_err(|error| reason(&error))?;
            if kind.is_dir() && !is_hidden {
                if depth == DEEPEST {
                    return Err(format!("it holds folders more than {DEEPEST} deep: name one of them"));
                }
                folders.push((entry.path().to_path_buf(), depth + 1));
            } else if !kind.is_dir() && !is_hidden && entry.file_name().ends_with(".ppe") {
                found.push(entry.path().strip_prefix("./").unwrap_or(entry.path()).to_path_buf());
            }
        }
    }
    found.sort();
    Ok(found)
}

/// The whole text of one file, or why not, as a clause: "it is a folder".
pub fn read_text(path: &Utf8Path) -> Result<String, String> {
    let about = match fs::metadata(path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Err(missing(path)),
        other => other.map_err(|error| reason(&error))?,
    };
    if about.is_dir() {
        return Err("it is a folder: name a policy file in it".into());
    }
    if !about.is_file() {
        return Err("it is a pipe or a device, not a file".into());
    }
    let too_large = |size: u64| {
        let limit = megabytes(LARGEST);
        Err(format!("it is too large for a policy: {}, where {limit} is the limit", megabytes(size)))
    };
    if about.len() > LARGEST {
        return too_large(about.len());
    }
    let mut bytes = Vec::with_capacity(about.len() as usize);
    let file = File::open(path).map_err(|error| reason(&error))?;
    file.take(LARGEST + 1).read_to_end(&mut bytes).map_err(|error| reason(&error))?;
    if bytes.len() as u64 > LARGEST {
        return too_large(bytes.len() as u64);
    }
    plain_text(bytes)
}

/// The text that bytes are, or why they cannot be read.
pub fn plain_text(bytes: Vec<u8>) -> Result<String, String> {
    String::from_utf8(bytes).map_err(|error| not_plain_text(error.as_bytes(), error.utf8_error().valid_up_to()))
}

/// Why bytes that are not UTF-8 cannot be read, and what to do about it.
fn not_plain_text(bytes: &[u8], at: usize) -> String {
    if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(&[0xd0, 0xcf, 0x11, 0xe0]) {
        return "it is a word processor's document: save it as plain text (UTF-8) instead".into();
    }
    if bytes.starts_with(b"%PDF") {
        return "it is a PDF: name the policy file that it was printed from".into();
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return "it was saved as UTF-16, which some programs call Unicode: save it again as UTF-8".into();
    }
    let line = 1 + bytes[..at].iter().filter(|&&byte| byte == b'\n').count();
    let before = bytes[..at].rsplit(|&byte| byte == b'\n').next().unwrap_or_default();
    let column = 1 + String::from_utf8_lossy(before).chars().count();
    format!("line {line}, column {column} holds a letter that is not saved as UTF-8: save the file again as UTF-8")
}

/// The bytes of a file that is no policy, or why not, as a clause: "it is a folder".
pub fn read_bytes(path: &Utf8Path, largest: u64) -> Result<Vec<u8>, String> {
    let about = fs::metadata(path).map_err(|error| reason(&error))?;
    if about.is_dir() {
        return Err("it is a folder".into());
    }
    if !about.is_file() {
        return Err("it is a pipe or a device, not a file".into());
    }
    let mut bytes = Vec::new();
    let file = File::open(path).map_err(|error| reason(&error))?;
    file.take(largest + 1).read_to_end(&mut bytes).map_err(|error| reason(&error))?;
    if bytes.len() as u64 > largest {
        return Err(format!("it holds more than {}", megabytes(largest)));
    }
    Ok(bytes)
}

fn reason(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".into(),
        io::ErrorKind::PermissionDenied => "you have no permission to read it".into(),
        io::ErrorKind::IsADirectory => "it is a folder: name a policy file in it".into(),
        io::ErrorKind::NotADirectory => "a part of its path is a file, not a folder".into(),
        _ => format!("the computer says: {error}"),
    }
}

/// "there is no such file", with the name in that folder that comes nearest.
fn missing(path: &Utf8Path) -> String {
    match near_name(path) {
        Some(near) => format!("there is no such file; did you mean “{near}”?"),
        None => "there is no such file".into(),
    }
}

fn near_name(path: &Utf8Path) -> Option<String> {
    let wanted = path.file_name()?.to_lowercase();
    let folder = path.parent().filter(|parent| !parent.as_str().is_empty()).unwrap_or(Utf8Path::new("."));
    let mut names: Vec<String> = fs::read_dir(folder)
        .ok()?
        .take(2000)
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .filter(|name| name.ends_with(".ppe"))
        .collect();
    names.sort();
    let distance = |name: &String| strsim::damerau_levenshtein(&wanted, &name.to_lowercase());
    let nearest = names.into_iter().min_by_key(distance)?;
    (distance(&nearest) <= 4.min(wanted.len() / 2)).then_some(nearest)
}

pub fn megabytes(bytes: u64) -> String {
    match bytes as f64 / (1024.0 * 1024.0) {
        whole if whole >= 10.0 || whole.fract() == 0.0 => format!("{whole:.0} MB"),
        part => format!("{part:.1} MB"),
    }
}
