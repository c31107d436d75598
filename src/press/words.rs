//! The words of the print room's papers, in English whatever language the aids are in.

use std::sync::LazyLock;

use crate::aids::{Patterns, say};

pub static WORDS: LazyLock<Patterns> =
    LazyLock::new(|| serde_json::from_str(include_str!("words/en-GB.json")).expect("the built-in words are tested"));

/// A pattern, filled; empty where there is none of that key, which a test rules out.
pub fn tell(key: &str, slots: &[(&str, &str)]) -> String {
    say(&WORDS, key, slots)
}

#[cfg(test)]
mod tests {
    use super::WORDS;

    #[test]
    fn every_key_that_is_asked_for_is_there() {
        let sources = [include_str!("papers.rs"), include_str!("mod.rs")];
        for source in sources {
            for (at, call) in ["tell(\"", "known(\"", "column(\"", "check(\""]
                .into_iter()
                .flat_map(|call| source.split(call).skip(1).enumerate())
            {
                let key = call.split('"').next().unwrap_or_default();
                assert!(WORDS.contains_key(key), "call {at}: there are no words for {key}");
            }
        }
    }
}
