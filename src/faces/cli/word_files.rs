//! The word files beside policies: `side-rooms.fr.words` beside `side-rooms.ppe`.
//!
//! In: a policy's file and a language. Out: what the word file says. Must never read from outside the policy's folder.

use std::collections::{BTreeMap, BTreeSet};

use camino::{Utf8Path, Utf8PathBuf};

use crate::aids;
use crate::faces::shelf::{FolderShelf, MOST_ENTRIES};
use crate::overview::Words;
use crate::session::Shelf;
use crate::translation::{WordFile, is_tag};

const ENDING: &str = ".words";

/// Where the words of a policy in a language are.
pub fn path(policy: &Utf8Path, language: &str) -> Utf8PathBuf {
    policy.with_extension(format!("{}.words", language.to_lowercase()))
}

/// None where there is no such file; otherwise what it says, or why it cannot be read, a sentence.
pub fn read(policy: &Utf8Path, language: &str) -> Option<Result<WordFile, String>> {
    let path = path(policy, language);
    if !path.exists() {
        return None;
    }
    let name = path.file_name().unwrap_or_default();
    let text = FolderShelf::open(policy).and_then(|(shelf, _)| shelf.fetch(policy.as_str(), name));
    let file = text.map(|(_, text)| WordFile::read(&text, aids::allowed_of(language)));
    Some(match file {
        Ok(file) if file.language.as_deref().is_some_and(|tag| !tag.eq_ignore_ascii_case(language)) => {
            Err(format!("{path} holds words in {}, not in {language}.", file.language.unwrap_or_default()))
        }
        Ok(file) => Ok(file),
        Err(why) => Err(format!("{path} cannot be read: {why}.")),
    })
}

/// The word files beside each of these policies.
pub fn beside_each(policies: &[Utf8PathBuf]) -> Vec<Vec<Words>> {
    let names = names_beside(policies);
    let words = |policy: &Utf8PathBuf| names.get(folder_of(policy)).map_or(Vec::new(), |names| beside(policy, names));
    policies.iter().map(words).collect()
}

/// The word files beside a policy in any language that the aids speak, in the order of their names.
fn beside(policy: &Utf8Path, names: &[String]) -> Vec<Words> {
    let Some(stem) = policy.file_stem() else { return Vec::new() };
    let language = |name: &String| {
        let tag = name.strip_prefix(stem)?.strip_prefix('.')?.strip_suffix(ENDING)?;
        (is_tag(tag) && aids::speaks(tag)).then(|| tag.to_owned())
    };
    let languages = names.iter().filter_map(language);
    let words = |language: String| {
        let read = read(policy, &language)?;
        Some(Words { file: path(policy, &language).into_string(), language, read })
    };
    languages.filter_map(words).collect()
}

/// The names of the word files in each folder that holds one of these policies.
fn names_beside(policies: &[Utf8PathBuf]) -> BTreeMap<Utf8PathBuf, Vec<String>> {
    let folders: BTreeSet<Utf8PathBuf> = policies.iter().map(|policy| folder_of(policy).to_owned()).collect();
    let names = |folder: &Utf8PathBuf| {
        let entries = std::fs::read_dir(folder).into_iter().flatten().take(MOST_ENTRIES);
        let names = entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok());
        let mut names: Vec<String> = names.filter(|name| name.ends_with(ENDING)).collect();
        names.sort();
        names
    };
    folders.into_iter().map(|folder| (folder.clone(), names(&folder))).collect()
}

fn folder_of(policy: &Utf8Path) -> &Utf8Path {
    policy.parent().filter(|folder| !folder.as_str().is_empty()).unwrap_or(Utf8Path::new("."))
}
