//! The files of one run, each with a number, so that a place in the text is two offsets and that number.

use serde::Serialize;

use super::Span;

/// The number of a source within its [`Sources`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct SourceId(pub u16);

/// One file's name, as it is shown to people, and its text.
#[derive(Clone, Debug)]
pub struct Source {
    pub name: String,
    pub text: String,
    line_starts: Vec<u32>,
}

/// Lines and columns count from 1; a column counts characters, not bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Position {
    pub line: u32,
    pub column: u32,
}

impl Source {
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Source {
        let text = text.into();
        let mut line_starts = vec![0];
        let bytes = text.as_bytes();
        let ends = |at: usize| match bytes[at] {
            b'\n' => true,
            b'\r' => bytes.get(at + 1) != Some(&b'\n'),
            _ => false,
        };
        line_starts.extend((0..bytes.len()).filter(|&at| ends(at)).map(|at| at as u32 + 1));
        Source { name: name.into(), text, line_starts }
    }

    pub fn position(&self, offset: u32) -> Position {
        let line = self.line_starts.partition_point(|&start| start <= offset).max(1);
        let start = self.line_starts[line - 1] as usize;
        let end = (offset as usize).min(self.text.len());
        let before = self.text.get(start..end).unwrap_or_default();
        let shown = before.chars().filter(|&c| c != '\u{feff}').count();
        Position { line: line as u32, column: shown as u32 + 1 }
    }
}

/// Every file that one policy is made of; the first is the one that was asked for.
#[derive(Clone, Debug, Default)]
pub struct Sources(Vec<Source>);

impl Sources {
    pub fn add(&mut self, source: Source) -> SourceId {
        self.0.push(source);
        SourceId((self.0.len() - 1) as u16)
    }

    pub fn get(&self, id: SourceId) -> &Source {
        &self.0[id.0 as usize]
    }

    pub fn iter(&self) -> impl Iterator<Item = (SourceId, &Source)> {
        self.0.iter().enumerate().map(|(at, source)| (SourceId(at as u16), source))
    }

    pub fn text(&self, span: Span) -> &str {
        self.get(span.source).text.get(span.start as usize..span.end as usize).unwrap_or_default()
    }

    pub fn start(&self, span: Span) -> Position {
        self.get(span.source).position(span.start)
    }

    pub fn end(&self, span: Span) -> Position {
        self.get(span.source).position(span.end)
    }
}
