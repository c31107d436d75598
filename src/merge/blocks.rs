//! A text in blocks: each statement with the lines beneath it and the notes before it, every letter in exactly one place.
//!
//! In: a text and the declared names. Out: blocks within blocks. Must never lose a character: blocks in order are the text.

use std::collections::HashMap;
use std::iter::Peekable;

use super::likeness::{Likeness, Order};
use crate::syntax::tree::{Line, Statement, Tree, What};
use crate::syntax::{Declared, Group, Standing, parse, standing, tidy, whole_lines};
use crate::text::SourceId;

/// Texts as numbers: the same text has the same number in all three texts of a merge.
#[derive(Default)]
pub struct Names {
    known: HashMap<String, u32>,
}

impl Names {
    fn of(&mut self, text: String) -> u32 {
        let next = self.known.len() as u32;
        *self.known.entry(text).or_insert(next)
    }
}

#[derive(Debug)]
pub struct Block<'t> {
    /// Blank lines and notes that stand before it.
    pub lead: &'t str,
    /// Its own lines as they stand, without the lines beneath it.
    pub lines: &'t str,
    /// What it says, however it is laid out.
    pub says: u32,
    /// What the notes before it say.
    pub notes: u32,
    /// All of it, with its notes and the lines beneath.
    pub all: u32,
    /// Its kind and name, as a number.
    pub key: u32,
    pub like: Likeness,
    pub beneath: Vec<Block<'t>>,
}

impl Block<'_> {
    /// The block as it stands.
    pub fn write(&self, text: &mut String) {
        text.push_str(self.lead);
        text.push_str(self.lines);
        self.beneath.iter().for_each(|block| block.write(text));
    }
}

/// A block before those that stand beneath it are found.
struct Bare<'t> {
    depth: usize,
    block: Block<'t>,
}

pub fn blocks<'t>(text: &'t str, declared: &Declared, names: &mut Names) -> Vec<Block<'t>> {
    let (tree, _) = parse(SourceId(0), text, declared);
    let mut reader = Reader { text, tree: &tree, declared, names, depths: Depths::default() };
    let mut bare = Vec::new();
    let mut done = 0;
    for line in &tree.lines {
        if is_note(line) {
            continue;
        }
        let (start, mut end) = whole_lines(text, line.span);
        // Two statements can share a line of the file only by a break that is no line feed: it goes with the first.
        end += text[end..].chars().next().map_or(0, char::len_utf8);
        end += usize::from(text[..end].ends_with('\r') && text[end..].starts_with('\n'));
        let start = start.max(done);
        bare.push(reader.bare(line, &text[done..start], &text[start..end]));
        done = end;
    }
    let end = reader.end(&text[done..]);
    bare.push(Bare { depth: 0, block: end });
    nested(&mut bare.into_iter().peekable(), 0, names)
}

fn is_note(line: &Line) -> bool {
    matches!(line.what, What::Statement(Statement::Note))
}

struct Reader<'a, 't> {
    text: &'t str,
    tree: &'a Tree,
    declared: &'a Declared,
    names: &'a mut Names,
    depths: Depths,
}

impl<'t> Reader<'_, 't> {
    fn bare(&mut self, line: &Line, lead: &'t str, lines: &'t str) -> Bare<'t> {
        let says = match line.what {
            What::Statement(_) => {
                let alone = Tree { source: self.tree.source, lines: vec![line.clone()] };
                in_small_letters(tidy(&alone, self.text, self.declared).trim())
            }
            What::Hole => lines.trim().to_owned(),
        };
        let like = Likeness::of(&line.what, &says);
        let depth = self.depths.next(&line.what, lines);
        Bare { depth, block: self.block(lead, lines, says, like) }
    }

    /// What stands behind the last statement.
    fn end(&mut self, lead: &'t str) -> Block<'t> {
        self.block(lead, "", String::new(), Likeness::of_end())
    }

    fn block(&mut self, lead: &'t str, lines: &'t str, says: String, like: Likeness) -> Block<'t> {
        let notes: Vec<&str> = lead.lines().map(str::trim).filter(|line| !line.is_empty()).collect();
        let notes = self.names.of(notes.join("\n"));
        let key = self.names.of(format!("\u{1} {}", like.key));
        Block { lead, lines, says: self.names.of(says), notes, all: 0, key, like, beneath: Vec::new() }
    }
}

/// Capitals say nothing but in quoted texts.
fn in_small_letters(text: &str) -> String {
    let parts = text.split('"').enumerate();
    let small: Vec<String> =
        parts.map(|(at, part)| if at % 2 == 0 { part.to_lowercase() } else { part.to_owned() }).collect();
    small.join("\"")
}

/// How deep the next statement stands, by those before it.
#[derive(Default)]
struct Depths {
    in_paper: bool,
    /// How far the last statement at each depth is set in.
    indents: Vec<usize>,
}

impl Depths {
    fn next(&mut self, what: &What, lines: &str) -> usize {
        let indent = lines.chars().take_while(|c| matches!(c, ' ' | '\t')).count();
        let wanted = match what {
            What::Statement(statement) => match standing(statement, self.in_paper) {
                Standing::Margin(group) => {
                    self.in_paper = group == Group::Paper;
                    0
                }
                Standing::Beneath => 1,
                Standing::BeneathStep => 2,
            },
            // A line that cannot be read goes with those that are set in as it is.
            What::Hole => match self.indents.iter().rposition(|&known| known == indent) {
                Some(depth) => depth,
                None if indent == 0 => 0,
                None => self.indents.len().min(2),
            },
        };
        let depth = wanted.min(self.indents.len());
        self.indents.truncate(depth);
        self.indents.push(indent);
        depth
    }
}

fn nested<'t>(bare: &mut Peekable<impl Iterator<Item = Bare<'t>>>, depth: usize, names: &mut Names) -> Vec<Block<'t>> {
    let mut blocks = Vec::new();
    while bare.peek().is_some_and(|next| next.depth >= depth) {
        let Some(Bare { mut block, .. }) = bare.next() else { break };
        block.beneath = nested(bare, depth + 1, names);
        let beneath: Vec<String> = block.beneath.iter().map(|block| block.all.to_string()).collect();
        block.all = names.of(format!("\0{} {} {}", block.says, block.notes, beneath.join(" ")));
        blocks.push(block);
    }
    blocks
}

/// Whether the order of two such blocks, put in at the same place by two people, is a decision.
pub fn clash(one: &Block, other: &Block) -> bool {
    matches!((&one.like.order, &other.like.order), (Order::Matters(one), Order::Matters(other)) if one == other)
}
