//! What went wrong in reading or in looking names up: plain data, one for each mistake; `rules/reading` puts it in words.

use std::borrow::Cow;

use crate::text::Span;

/// One mistake at one place. `kind` says which rule of the reading family tells of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    pub kind: ProblemKind,
    pub span: Span,
    /// Other places that belong to it: the first declaration of a name that is declared twice.
    pub related: Vec<(Span, String)>,
}

#[derive(Clone, Debug, PartialEq)]
pub enum ProblemKind {
    /// A line that matches no sentence. `seems`: the sentence that it comes nearest to, as a right example;
    /// `wanted`: what would have gone on from the place, in plain words.
    Line { seems: Option<Cow<'static, str>>, wanted: Vec<&'static str> },
    /// A name that nothing declares. `what`: "an item", "a place" …; `near`: the declared name that it resembles.
    Name { written: String, what: &'static str, near: Option<String> },
    /// A name that is declared, but is another kind of thing: `written` is `is`, where `wanted` was called for.
    Kind { written: String, is: &'static str, wanted: &'static str },
    /// Declared twice.
    Twice { written: String, what: &'static str },
    /// A line that stands beneath nothing that it could belong to: a step outside a sequence, `covers` beneath a place.
    Astray { line: String, belongs: &'static str },
    /// `if` without `end if`, a second `otherwise`, `end if` without `if`.
    Branch { said: &'static str },
    /// A title that `go back to`, `start`, `print` or `accept` names and nothing bears.
    Title { written: String, what: &'static str, near: Option<String> },
    /// A date that the calendar does not have.
    Date { written: String },
    /// A unit that does not fit: `for 30 metres`. `fits`: units that would.
    Unit { written: String, fits: &'static str },
    /// A word from a fixed list (body area, route, paper size, kind of aid) that is not in it.
    Word { written: String, what: &'static str, known: Vec<String>, near: Option<String> },
    /// Letters of another script that look like Latin ones. `shown`: the name with them named.
    LookAlike { written: String, letters: String },
    /// Characters that nobody sees.
    Hidden { characters: String },
    /// Characters that turn the direction of reading.
    Direction { characters: String },
    /// Uses in a circle, by file names.
    Circle { files: Vec<String> },
    /// A used file outside the policy's own folder tree, missing, or unreadable.
    File { written: String, why: String },
    /// A drawing that cannot be had or printed.
    Picture { written: String, why: String },
    /// A statement that says nothing where it stands or contradicts an earlier one of its kind.
    Again { line: String },
    /// Somebody is to help themselves. `who`: as written.
    Oneself { who: String },
    /// A file with nothing in it that could be checked.
    Empty,
}
