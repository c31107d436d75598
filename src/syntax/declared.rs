//! The names that the files of a policy declare, gathered before any line is read, since a name may be used before it is
//! declared and may contain a word of the language.
//!
//! In: texts. Out: the names with what each names and how it is spelt. Must never judge a declaration.

use std::collections::{HashMap, HashSet};

use super::lines::{Piece, pieces};
use super::parse::goes_on;
use super::tree::{Statement, Tree, What};
use super::written::Written;

/// What a name may name.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    Source,
    Hazard,
    Place,
    Role,
    Item,
    Surface,
    Cleaner,
    Container,
    Level,
    Question,
}

/// Each with the word that its declaration begins with, and what messages call it.
const THINGS: [(Thing, &str, &str); 10] = [
    (Thing::Source, "source", "a source"),
    (Thing::Hazard, "hazard", "a hazard"),
    (Thing::Place, "place", "a place"),
    (Thing::Role, "role", "a role"),
    (Thing::Item, "item", "an item"),
    (Thing::Surface, "surface", "a surface"),
    (Thing::Cleaner, "cleaner", "a cleaner"),
    (Thing::Container, "container", "a container"),
    (Thing::Level, "level", "a level"),
    (Thing::Question, "ask", "a question"),
];

impl Thing {
    pub fn all() -> impl Iterator<Item = Thing> {
        THINGS.iter().map(|(thing, ..)| *thing)
    }

    pub fn what(self) -> &'static str {
        THINGS.iter().find(|(thing, ..)| *thing == self).map_or("", |(.., what)| what)
    }
}

/// A name longer than this is not joined; nobody could read it aloud.
const MOST_WORDS: usize = 16;

/// Every declared name, in lower case, with its spelling.
#[derive(Clone, Debug, Default)]
pub struct Declared {
    spelling: HashMap<(Thing, String), String>,
    names: HashSet<String>,
    /// For each first word, the numbers of words of the names that begin with it, most first.
    lengths: HashMap<String, Vec<usize>>,
}

impl Declared {
    /// `name`: as it stands in a plain line.
    fn add(&mut self, thing: Thing, name: String, spelling: &str) {
        let spelling = spelling.split_whitespace().collect::<Vec<_>>().join(" ");
        let words = name.split(' ').count();
        if name.is_empty() || words > MOST_WORDS {
            return;
        }
        let first = name.split(' ').next().unwrap_or_default().to_owned();
        let lengths = self.lengths.entry(first).or_default();
        if let Err(at) = lengths.binary_search_by(|known| words.cmp(known)) {
            lengths.insert(at, words);
        }
        self.names.insert(name.clone());
        self.spelling.entry((thing, name)).or_insert(spelling);
    }

    /// The same names, spelt as the aids print them, as far as this tree says how. An item is printed by its name unless that
    /// only tells whose it is: `helper gown`.
    pub(super) fn as_printed(&self, tree: &Tree) -> Declared {
        let mut printed = self.clone();
        for line in &tree.lines {
            let What::Statement(statement) = &line.what else { continue };
            let (thing, name, words) = match statement {
                Statement::Container { name, printed: Some(words) } => (Thing::Container, name, words),
                Statement::Cleaner { name, printed: Some(words) } => (Thing::Cleaner, name, words),
                Statement::Item { name, printed: Some(words) } if self.is_of_role(&name.text) => {
                    (Thing::Item, name, words)
                }
                _ => continue,
            };
            printed.spelling.insert((thing, name.text.clone()), words.text.clone());
        }
        printed
    }

    fn is_of_role(&self, name: &str) -> bool {
        let first_words = name.match_indices(' ').map(|(at, _)| &name[..at]);
        first_words.into_iter().any(|words| self.is(Thing::Role, words))
    }

    /// Adds the names of another file.
    pub fn extend(&mut self, other: &Declared) {
        let mut others: Vec<_> = other.spelling.iter().collect();
        others.sort();
        for ((thing, name), spelling) in others {
            self.add(*thing, name.clone(), spelling);
        }
    }

    /// The spelling of a name, given in lower case, as its first declaration has it.
    pub fn spelt(&self, thing: Thing, name: &str) -> Option<&str> {
        self.spelling.get(&(thing, name.to_owned())).map(String::as_str)
    }

    pub fn is(&self, thing: Thing, name: &str) -> bool {
        self.names.contains(name) && self.spelt(thing, name).is_some()
    }

    pub fn has(&self, name: &str) -> bool {
        self.names.contains(name)
    }

    /// Whether a plain line, its names joined, begins with somebody who acts or with a level.
    pub(super) fn begins(&self, plain: &str) -> bool {
        let first = plain.split([' ', ',', '"']).next().unwrap_or_default().replace(super::written::JOINER, " ");
        self.is(Thing::Role, &first) || self.is(Thing::Level, &first)
    }

    /// `the gown` where only `gown` is declared: the name without its article.
    pub fn without_article<'n>(&self, name: &'n str) -> &'n str {
        let bare = ["the ", "a ", "an "].iter().find_map(|article| name.strip_prefix(article));
        bare.filter(|bare| !self.has(name) && self.has(bare)).unwrap_or(name)
    }

    /// Where names of two or more words stand in a plain line, the longest first, none over another.
    pub(super) fn found_in(&self, plain: &[u8]) -> Vec<(usize, usize)> {
        self.search(plain, 2)
    }

    /// Where names of any length stand in a line whose names are joined, from left to right.
    pub(super) fn names_in(&self, joined: &[u8]) -> Vec<(usize, usize)> {
        let plain: Vec<u8> =
            joined.iter().map(|&byte| if byte == super::written::JOINER as u8 { b' ' } else { byte }).collect();
        let mut found = self.search(&plain, 1);
        found.sort_unstable();
        found
    }

    fn search(&self, plain: &[u8], least: usize) -> Vec<(usize, usize)> {
        let words = words(plain);
        let mut found: Vec<(usize, usize, usize)> = Vec::new();
        for (at, &(start, end)) in words.iter().enumerate() {
            let Some(lengths) = std::str::from_utf8(&plain[start..end]).ok().and_then(|word| self.lengths.get(word))
            else {
                continue;
            };
            for &length in lengths.iter().filter(|&&length| length >= least) {
                let Some(&(_, last)) = words.get(at + length - 1) else { continue };
                let name = &plain[start..last];
                if !name.contains(&b',')
                    && !name.contains(&b'"')
                    && std::str::from_utf8(name).is_ok_and(|name| self.names.contains(name))
                {
                    found.push((length, start, last));
                    break;
                }
            }
        }
        if found.len() > 1 {
            found.sort_by_key(|&(length, start, end)| (std::cmp::Reverse((length, end - start)), start));
        }
        let mut taken: Vec<(usize, usize)> = Vec::new();
        for (_, start, end) in found {
            if taken.iter().all(|&(from, to)| end <= from || to <= start) {
                taken.push((start, end));
            }
        }
        taken
    }
}

/// The words of a plain line, quotes and commas left out.
fn words(plain: &[u8]) -> Vec<(usize, usize)> {
    let mut words = Vec::new();
    let mut start = None;
    for (at, byte) in plain.iter().enumerate() {
        let within = !matches!(byte, b' ' | b',' | b'"' | 0x1e);
        match (start, within) {
            (None, true) => start = Some(at),
            (Some(from), false) => {
                words.push((from, at));
                start = None;
            }
            _ => {}
        }
    }
    words.extend(start.map(|from| (from, plain.len())));
    words
}

/// Every name that a text declares. What only goes on from the line above declares nothing.
pub fn declarations(text: &str) -> Declared {
    let (mut declared, none) = (Declared::default(), Declared::default());
    let mut above = None;
    for piece in pieces(text) {
        if let Some((thing, name, spelling)) = declaration(text, piece)
            && !above.is_some_and(|above| goes_on(text, above, piece, &none))
        {
            declared.add(thing, name, &spelling);
        }
        above = Some(piece);
    }
    declared
}

fn declaration(text: &str, piece: Piece) -> Option<(Thing, String, String)> {
    let line = &text[piece.start..piece.end];
    let word = line.split(|c: char| c.is_whitespace()).next()?;
    // What hides in the word, or looks like its letters, is told elsewhere and does not keep the name from being known.
    let is_plain = word.bytes().all(|byte| byte.is_ascii_graphic());
    let known = if is_plain { Some(thing(word.to_lowercase().trim_end_matches(':'))?) } else { None };
    let written = Written::new(text, &[piece]);
    let plain = written.plain.as_str();
    let thing = known.or_else(|| thing(plain.split(' ').next()?))?;
    let start = plain.find(' ')? + 1;
    let rest = &plain[start..];
    let length = match thing {
        Thing::Place => PLACE_ENDS.iter().find_map(|end| rest.strip_suffix(end)).map(str::len).or(rest.find(" is ")),
        Thing::Level => rest.find(" against "),
        _ => None,
    };
    let length = length.or(rest.find(['"', ','])).unwrap_or(rest.len());
    let name = rest[..length].trim_end();
    let (from, to) = written.place(start, start + name.len());
    let spelling = if written.misleading.is_empty() { text[from..to].to_owned() } else { name.to_owned() };
    Some((thing, name.to_owned(), spelling))
}

/// What a line declares that begins with this word.
pub(super) fn thing(opener: &str) -> Option<Thing> {
    THINGS.iter().find(|(_, word, _)| *word == opener).map(|(thing, ..)| *thing)
}

const PLACE_ENDS: [&str; 6] =
    [" is clean", " is contaminated", " is for putting on", " is for taking off", " is for donning", " is for doffing"];
