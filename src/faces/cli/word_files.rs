//! The word files beside policies: `side-rooms.fr.words` beside `side-rooms.ppe`.
//!
//! In: a policy's file and a language. Out: what the word file says. Must never read from outside the policy's folder.

use camino::{Utf8Path, Utf8PathBuf};

use crate::aids;
use crate::faces::shelf::FolderShelf;
use crate::session::Shelf;
use crate::translation::WordFile;

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
