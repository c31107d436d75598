//! A word file: `side-rooms.fr.words`, one line for each text of the policy, and who answers for them.
//!
//! In: the text of the file. Out: entries, signatures, and one mistake for each line that cannot be taken. Must never
//! panic, nor take a line for another than it is.

use std::collections::BTreeMap;

use crate::policy::Day;
use crate::policy::texts::TextKind;
use crate::syntax::MONTHS;
use crate::text::near;

#[derive(Clone, Debug, Default)]
pub struct WordFile {
    /// As it was read.
    pub text: String,
    /// A BCP 47 tag.
    pub language: Option<String>,
    pub translated: Option<Signed>,
    pub checked_back: Option<Signed>,
    /// The fingerprint of the policy as it was translated.
    pub fingerprint: Option<String>,
    pub entries: Vec<Entry>,
    /// `note` lines above the first entry, as they stand.
    pub notes: Vec<String>,
    pub mistakes: Vec<Mistake>,
    /// The place of each entry by what it translates.
    places: BTreeMap<(TextKind, String), usize>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signed {
    pub by: String,
    pub on: Day,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    pub kind: TextKind,
    pub source: String,
    /// Empty: still to be translated.
    pub target: String,
    pub class: Option<String>,
    pub forms: Vec<(String, String)>,
    /// `note` lines above it, as they stand.
    pub notes: Vec<String>,
    /// From 1.
    pub line: usize,
}

/// A line that cannot be taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mistake {
    /// From 1.
    pub line: usize,
    /// A sentence.
    pub why: String,
}

/// What a language lets a word file say of a name.
#[derive(Clone, Copy, Debug, Default)]
pub struct Allowed<'a> {
    pub classes: &'a [String],
    pub forms: &'a [String],
}

#[derive(Clone, Debug, PartialEq, Eq)]
enum Token<'t> {
    Word(&'t str),
    Text(&'t str),
}

impl WordFile {
    /// What the file says of one text of the policy.
    pub fn entry(&self, kind: TextKind, source: &str) -> Option<&Entry> {
        self.places.get(&(kind, source.to_owned())).and_then(|&at| self.entries.get(at))
    }

    pub fn read(text: &str, allowed: Allowed) -> WordFile {
        let mut file = WordFile { text: text.to_owned(), ..WordFile::default() };
        let mut notes = Vec::new();
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        for (at, line) in text.lines().enumerate() {
            let (line, number) = (line.trim(), at + 1);
            if line.is_empty() {
                continue;
            }
            if line == "note" || line.starts_with("note ") {
                notes.push(line.to_owned());
                continue;
            }
            let taken = tokens(line).and_then(|tokens| file.take(&tokens, number, allowed, &mut notes));
            if let Err(why) = taken {
                file.mistakes.push(Mistake { line: number, why });
            }
        }
        file.notes.append(&mut notes);
        file
    }

    fn take(&mut self, tokens: &[Token], line: usize, allowed: Allowed, notes: &mut Vec<String>) -> Result<(), String> {
        use Token::{Text, Word};
        match tokens {
            [Word("words"), Word("for"), Text(_), Word("in"), tag] => once(&mut self.language, tag_of(tag)?)?,
            [Word("translated"), Word("by"), Text(by), Word("on"), date @ ..] => {
                once(&mut self.translated, Signed { by: (*by).to_owned(), on: day(date)? })?;
            }
            [Word("checked"), Word("back"), Word("by"), Text(by), Word("on"), date @ ..] => {
                once(&mut self.checked_back, Signed { by: (*by).to_owned(), on: day(date)? })?;
            }
            [Word("of"), Word("fingerprint"), Word(print)] => once(&mut self.fingerprint, print_of(print)?)?,
            [Word(first), ..] if HEADINGS.iter().any(|(word, _)| word == first) => {
                let example = HEADINGS.iter().find(|(word, _)| word == first).map(|(_, example)| *example);
                return Err(format!("Write this line as: {}.", example.unwrap_or_default()));
            }
            _ => {
                let mut entry = entry(tokens, line, allowed)?;
                if let Some(known) = self.entry(entry.kind, &entry.source) {
                    return Err(format!("Line {} has words for this text already.", known.line));
                }
                self.places.insert((entry.kind, entry.source.clone()), self.entries.len());
                let of = if self.entries.is_empty() { &mut self.notes } else { &mut entry.notes };
                of.append(notes);
                self.entries.push(entry);
            }
        }
        Ok(())
    }
}

/// What the lines above the entries begin with, and how each is written.
const HEADINGS: [(&str, &str); 4] = [
    ("words", "words for \"Title of the policy\" in fr"),
    ("translated", "translated by \"Name\" on 2 November 2026"),
    ("checked", "checked back by \"Name\" on 3 November 2026"),
    ("of", "of fingerprint 1a2b3c4d"),
];

fn once<T>(place: &mut Option<T>, value: T) -> Result<(), String> {
    match place {
        Some(_) => Err("A line above says this already.".to_owned()),
        None => {
            *place = Some(value);
            Ok(())
        }
    }
}

/// Words and texts in double quotes; commas only part them.
fn tokens(line: &str) -> Result<Vec<Token<'_>>, String> {
    let mut found = Vec::new();
    let mut rest = line;
    while let Some(first) = rest.chars().next() {
        if first == '"' {
            let Some(end) = rest[1..].find('"') else {
                return Err("A text in double quotes is not closed.".to_owned());
            };
            found.push(Token::Text(&rest[1..=end]));
            rest = &rest[end + 2..];
        } else if first.is_whitespace() || first == ',' {
            rest = &rest[first.len_utf8()..];
        } else {
            let end = rest.find(|c: char| c.is_whitespace() || c == ',' || c == '"').unwrap_or(rest.len());
            found.push(Token::Word(&rest[..end]));
            rest = &rest[end..];
        }
    }
    Ok(found)
}

/// `item "apron" is "tablier", masculine`; `item "apron" is "fartuch", gen "fartucha"`
fn entry(tokens: &[Token], line: usize, allowed: Allowed) -> Result<Entry, String> {
    let words = tokens.iter().take_while(|token| matches!(token, Token::Word(_))).count();
    let kind = kind(&tokens[..words])?;
    let [Token::Text(source), Token::Word("is"), Token::Text(target), rest @ ..] = &tokens[words..] else {
        return Err(format!("Write this line as: {} \"as in the policy\" is \"translated\".", kind.word()));
    };
    let mut entry = Entry {
        kind,
        source: (*source).to_owned(),
        target: (*target).to_owned(),
        class: None,
        forms: Vec::new(),
        notes: Vec::new(),
        line,
    };
    let mut rest = rest;
    while let [first, after @ ..] = rest {
        rest = match (first, after) {
            (Token::Word(form), [Token::Text(words), after @ ..]) => {
                let known = allowed.forms.iter().any(|known| known == form) || kind == TextKind::Fact && *form == "not";
                if !known {
                    return Err(format!("“{form}” is no form of this language{}.", listed(allowed.forms)));
                }
                if entry.forms.iter().any(|(known, _)| known == form) {
                    return Err(format!("The form “{form}” stands here twice."));
                }
                entry.forms.push(((*form).to_owned(), (*words).to_owned()));
                after
            }
            (Token::Word(class), after) => {
                if !allowed.classes.iter().any(|known| known == class) {
                    return Err(format!(
                        "“{class}” is nothing that a name of this language can be{}.",
                        listed(allowed.classes)
                    ));
                }
                once(&mut entry.class, (*class).to_owned())?;
                after
            }
            (Token::Text(_), _) => return Err("Say before this text what form it is.".to_owned()),
        };
    }
    Ok(entry)
}

fn listed(words: &[String]) -> String {
    if words.is_empty() { String::new() } else { format!(": it has {}", words.join(", ")) }
}

fn kind(words: &[Token]) -> Result<TextKind, String> {
    let words: Vec<&str> =
        words.iter().filter_map(|token| if let Token::Word(word) = token { Some(*word) } else { None }).collect();
    let written = words.join(" ");
    if let Some((kind, _)) = TextKind::ALL.iter().find(|(_, word)| *word == written) {
        return Ok(*kind);
    }
    let near = near::nearest(&written, TextKind::ALL.iter().map(|(_, word)| *word));
    Err(match near {
        Some(near) => format!("This line is not understood. Is “{near}” meant?"),
        None => "This line is not understood. It begins with what the text is: item, role, say.".to_owned(),
    })
}

/// The letters, digits and hyphens of a BCP 47 tag: RFC 5646, section 2.1.
pub fn is_tag(tag: &str) -> bool {
    let mut parts = tag.split('-');
    let language = parts.next().unwrap_or_default();
    (2..=3).contains(&language.len())
        && language.chars().all(|letter| letter.is_ascii_alphabetic())
        && parts.all(|part| (2..=8).contains(&part.len()) && part.chars().all(|letter| letter.is_ascii_alphanumeric()))
}

fn tag_of(token: &Token) -> Result<String, String> {
    match token {
        Token::Word(tag) if is_tag(tag) => Ok((*tag).to_owned()),
        _ => Err("Write the language as its tag: fr, cy, pl.".to_owned()),
    }
}

fn print_of(print: &str) -> Result<String, String> {
    if print.len() == 8 && print.chars().all(|digit| digit.is_ascii_hexdigit()) {
        return Ok(print.to_lowercase());
    }
    Err("A fingerprint has eight digits: 1a2b3c4d.".to_owned())
}

/// `2 November 2026`
fn day(tokens: &[Token]) -> Result<Day, String> {
    let found = match tokens {
        [Token::Word(day), Token::Word(month), Token::Word(year)] => {
            let month = MONTHS.iter().position(|name| name.eq_ignore_ascii_case(month));
            let parts = (year.parse(), month.and_then(|month| i8::try_from(month + 1).ok()), day.parse());
            if let (Ok(year), Some(month), Ok(day)) = parts { Day::new(year, month, day) } else { None }
        }
        _ => None,
    };
    found.ok_or_else(|| "Write the date as: 2 November 2026.".to_owned())
}
