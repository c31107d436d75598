//! The names that a policy declares, of every kind, and what a written name stands for.
//!
//! In: declarations, then uses. Out: identifiers, and one problem for each name that stands for nothing.
//! Must never tell of the same name twice.

use std::collections::{BTreeMap, BTreeSet};

use super::near::{Near, near};
use crate::syntax::declared::Thing;
use crate::syntax::problem::{Problem, ProblemKind};
use crate::syntax::tree::Name;
use crate::text::Span;

/// How many other places a message lists, and how many unknown names are compared with all the known ones.
const MOST_RELATED: usize = 20;
const MOST_COMPARED: usize = 200;

/// Kinds that one sentence can name in the same spot, and which must therefore not share a name.
const SHARING: &[Thing] = &[Thing::Role, Thing::Item, Thing::Surface, Thing::Container];

/// The kinds that a spot in a sentence takes, and how a message calls them.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    pub kinds: &'static [Thing],
    pub what: &'static str,
}

pub const SOURCE: Wanted = Wanted { kinds: &[Thing::Source], what: "a source" };
pub const PLACE: Wanted = Wanted { kinds: &[Thing::Place], what: "a place" };
pub const ROLE: Wanted = Wanted { kinds: &[Thing::Role], what: "a role" };
pub const ITEM: Wanted = Wanted { kinds: &[Thing::Item], what: "an item" };
pub const SURFACE: Wanted = Wanted { kinds: &[Thing::Surface], what: "a surface" };
pub const CLEANER: Wanted = Wanted { kinds: &[Thing::Cleaner], what: "a cleaner" };
pub const CONTAINER: Wanted = Wanted { kinds: &[Thing::Container], what: "a container" };
pub const LEVEL: Wanted = Wanted { kinds: &[Thing::Level], what: "a level" };
pub const LEVEL_PLACE_OR_ROLE: Wanted =
    Wanted { kinds: &[Thing::Level, Thing::Place, Thing::Role], what: "a level, a place or a role" };
pub const QUESTION: Wanted = Wanted { kinds: &[Thing::Question], what: "a question" };
pub const TARGET: Wanted = Wanted {
    kinds: &[Thing::Item, Thing::Surface, Thing::Container, Thing::Role],
    what: "an item, a surface, a container or a role",
};

#[derive(Clone, Debug)]
struct Declared {
    index: u16,
    span: Span,
    /// The name in the spelling of its declaration.
    shown: String,
}

#[derive(Debug, Default)]
pub struct Names {
    declared: BTreeMap<Thing, BTreeMap<String, Declared>>,
    /// Names of declarations that could not be read to the end: their uses are no mistakes of their own.
    half: BTreeSet<String>,
    /// Names already told of, each with its place in `problems`.
    told: BTreeMap<(String, &'static str), usize>,
    pub problems: Vec<Problem>,
    /// True for a file of shared items: what it does not declare is left to the policy that uses it.
    pub open: bool,
    /// Names that an open file leaves to the policy.
    pub left_open: BTreeSet<String>,
    /// How many names, words and amounts stand for nothing so far.
    pub failed: usize,
}

impl Names {
    /// No names yet, and what was told so far.
    pub fn after(problems: Vec<Problem>) -> Names {
        Names { problems, ..Names::default() }
    }

    /// The identifier of a new name, `shown` as it was written; none where it was declared before, which is then told.
    pub fn declare(&mut self, kind: Thing, name: &Name, shown: String) -> Option<u16> {
        let rivals = if SHARING.contains(&kind) { SHARING } else { std::slice::from_ref(&kind) };
        let first = rivals.iter().find_map(|&rival| Some((rival, self.declared.get(&rival)?.get(&name.text)?.span)));
        if let Some((rival, span)) = first {
            self.problems.push(Problem {
                kind: ProblemKind::Twice { written: name.text.clone(), what: rival.what() },
                span: name.span,
                related: vec![(span, "It is declared here first.".to_owned())],
            });
            return None;
        }
        let table = self.declared.entry(kind).or_default();
        let Ok(index) = u16::try_from(table.len()) else {
            self.too_many(kind, name);
            return None;
        };
        table.insert(name.text.clone(), Declared { index, span: name.span, shown });
        Some(index)
    }

    fn too_many(&mut self, kind: Thing, name: &Name) {
        if self.told.insert((String::new(), kind.what()), self.problems.len()).is_none() {
            let why = "it declares more than 65,535 names of one kind".to_owned();
            let kind = ProblemKind::File { written: name.text.clone(), why };
            self.problems.push(Problem { kind, span: name.span, related: Vec::new() });
        }
    }

    pub fn half_declare(&mut self, text: &str) {
        self.half.insert(text.to_owned());
    }

    /// What a name stands for, without a word about it if it stands for nothing.
    pub fn peek(&self, text: &str, wanted: Wanted) -> Option<(Thing, usize)> {
        let find = |text: &str| {
            wanted.kinds.iter().find_map(|&kind| {
                let declared = self.declared.get(&kind)?.get(text)?;
                Some((kind, usize::from(declared.index)))
            })
        };
        find(text).or_else(|| without_article(text).and_then(find))
    }

    /// What a name stands for. A name that stands for nothing is told once; where it is a slip of the keyboard, what it
    /// most resembles stands in for it, so that nothing else is reported because of it.
    pub fn find(&mut self, name: &Name, wanted: Wanted) -> Option<(Thing, usize)> {
        let found = self.peek(&name.text, wanted).or_else(|| self.guess(name, wanted));
        self.failed += usize::from(found.is_none() && !self.open);
        found
    }

    /// Tells of a name that stands for nothing of the kind that is wanted. An article before it is no part of it.
    fn guess(&mut self, name: &Name, wanted: Wanted) -> Option<(Thing, usize)> {
        let text = without_article(&name.text).unwrap_or(&name.text);
        if self.half.contains(&name.text) || self.half.contains(text) {
            return None;
        }
        if let Some(is) =
            Thing::all().find(|kind| [&name.text, text].iter().any(|&name| self.table(*kind).contains_key(name)))
        {
            let kind = ProblemKind::Kind { written: text.to_owned(), is: is.what(), wanted: wanted.what };
            self.tell((text.to_owned(), wanted.what), name.span, kind);
            return None;
        }
        if self.open {
            self.left_open.insert(text.to_owned());
            return None;
        }
        let near = self.nearest(text, wanted).map(|near| (near.name.to_owned(), near.sure));
        let kind = ProblemKind::Name {
            written: text.to_owned(),
            what: wanted.what,
            near: near.as_ref().map(|(name, _)| self.shown(name, wanted)),
        };
        self.tell((text.to_owned(), ""), name.span, kind);
        near.filter(|&(_, sure)| sure).and_then(|(name, _)| self.peek(&name, wanted))
    }

    pub fn nearest(&self, text: &str, wanted: Wanted) -> Option<Near<'_>> {
        if self.told.len() > MOST_COMPARED {
            return None;
        }
        let tables = wanted.kinds.iter().flat_map(|kind| self.declared.get(kind));
        near(text, tables.flat_map(|table| table.keys().map(String::as_str)))
    }

    /// A known name in the spelling of its declaration.
    fn shown(&self, text: &str, wanted: Wanted) -> String {
        let declared = wanted.kinds.iter().find_map(|&kind| self.table(kind).get(text));
        declared.map_or_else(|| text.to_owned(), |declared| declared.shown.clone())
    }

    fn table(&self, kind: Thing) -> &BTreeMap<String, Declared> {
        static NONE: BTreeMap<String, Declared> = BTreeMap::new();
        self.declared.get(&kind).unwrap_or(&NONE)
    }

    /// Tells of a mistake, or adds the place to the first of its key.
    pub fn tell(&mut self, key: (String, &'static str), span: Span, kind: ProblemKind) {
        match self.told.get(&key) {
            Some(&at) => {
                let related = &mut self.problems[at].related;
                if related.len() < MOST_RELATED {
                    related.push((span, "It is used here too.".to_owned()));
                }
            }
            None => {
                self.told.insert(key, self.problems.len());
                self.problems.push(Problem { kind, span, related: Vec::new() });
            }
        }
    }

    pub fn push(&mut self, kind: ProblemKind, span: Span) {
        self.problems.push(Problem { kind, span, related: Vec::new() });
    }
}

/// `the apron` for `apron`: written by habit, and never ambiguous.
pub fn without_article(text: &str) -> Option<&str> {
    ["the ", "a ", "an "].iter().find_map(|article| text.strip_prefix(article))
}
