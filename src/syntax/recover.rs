//! What becomes of a line: a statement, a statement with a slip in it, or a hole with a message at its exact place.
//!
//! In: a plain line. Out: a line of the tree, and at most one problem. Must never tell two problems of one mistake.

use super::habit::{habit, misfigured, unquoted};
use super::leaves::{Leaf, Leaves};
use super::mend::{Mended, denial_mended, keyword_mended, link_mended, opening_mended};
use super::parse::{Reader, Rule, leaves_of};
use super::plain::{self, keyword, token};
use super::problem::ProblemKind;
use super::seems::{self, example, example_of_verb, seems, words};
use super::statement::statement;
use super::tree::{Line, Spelling, Token, TokenKind, What};
use super::written::{JOINER, MARK, Written};
use crate::text::Span;
use crate::text::near::nearest;

/// What to tell, and the stretch of the plain line that it is about.
pub(super) struct Slip {
    pub kind: ProblemKind,
    pub start: usize,
    pub end: usize,
}

type Read = (What, Vec<Token>, Option<Slip>);

const WHO: &str = "who acts, such as “wearer”";
const OPENING: &str = "a word that begins a line, such as “item” or “part”";
const DEED: &str = "what is done, such as “puts on” or “cleans hands”";
const HELPING: &str = "what is helped with, such as “put on” or “take off”";
const QUOTES_END: &str = "the end of the line, since a quoted text ends at its next double quote";
const ONE_THING: &str = "the end of the line, since a step is about one thing";
const OWN_LINES: &str = "the end of the line, since paper and copies have lines of their own beneath";
pub(super) const BARE_NAME: &str = "a name, which stands without quotes";
/// Where so many verbs would go on, they are told as one.
const MANY_VERBS: usize = 5;

impl Reader<'_> {
    /// None for a line that is not to be read.
    pub fn statement(&mut self, written: &Written, span: Span) -> Option<Line> {
        let after = seems::after_then(&written.plain, self.declared).map(|start| written.from(start));
        let written = after.as_ref().unwrap_or(written);
        let rule = seems(&written.plain, self.declared);
        if !(self.reads)(rule) {
            return None;
        }
        let read = match rule {
            Some(rule) => self.read_by(rule, written),
            None => self.without_opening(written),
        };
        let (what, tokens, slip) = read.unwrap_or_else(|slip| (What::Hole, Vec::new(), Some(slip)));
        if let Some(start) = written.unclosed {
            let seems = rule.and_then(|rule| example_for(rule, &written.plain)).map(Into::into);
            let kind = ProblemKind::Line { seems, wanted: vec!["a closing quote"] };
            self.tell(kind, Span::new(self.source, start, span.end as usize));
        } else if let Some(Slip { kind, start, end }) = slip {
            let (from, to) = written.place(start, end);
            self.tell(kind, Span::new(self.source, from, to));
        }
        Some(Line { span, tokens, what })
    }

    fn read_by(&self, rule: Rule, written: &Written) -> Result<Read, Slip> {
        let leaves = match leaves_of(rule, &written.plain) {
            Ok(leaves) => leaves,
            Err(stop) => {
                let (at, rules) = self.strictly(rule, written).unwrap_or((stop.at, stop.rules));
                return match keyword_mended(rule, at, &rules, written) {
                    Some(mended) => self.built_of(mended),
                    None => Err(stopped(rule, at, &rules, &written.plain)),
                };
            }
        };
        let strict = if self.may_swallow(&leaves, written) { self.strictly(rule, written) } else { None };
        if let Some((at, rules)) = &strict
            && rule == Rule::spoken
            && adds(&written.plain, *at)
        {
            return Err(stopped(rule, *at, rules, &written.plain));
        }
        let mended = strict
            .and_then(|(at, rules)| keyword_mended(rule, at, &rules, written))
            .or_else(|| link_mended(rule, &leaves, written, self.declared))
            .or_else(|| denial_mended(rule, &leaves, written));
        match mended {
            Some(mended) => self.built_of(mended),
            None => self.built(rule, &leaves, written, None),
        }
    }

    fn built_of(&self, mended: Mended) -> Result<Read, Slip> {
        self.built(mended.rule, &mended.leaves, &mended.written, Some(mended.slip))
    }

    fn built(&self, rule: Rule, list: &[Leaf], written: &Written, slip: Option<Slip>) -> Result<Read, Slip> {
        let mut leaves = Leaves { source: self.source, text: self.text, written, declared: self.declared, list };
        let mut tokens = leaves.tokens();
        if let Some(slip) = &slip {
            // Tidying leaves a mistyped word to the writer.
            let word = leaves.stretch(slip.start, slip.start + 1);
            tokens.iter_mut().filter(|token| token.span == word).for_each(|token| token.spelling = Spelling::AsWritten);
        }
        match statement(rule, &mut leaves) {
            Some(statement) => {
                let slip = slip.or_else(|| unquoted(rule, written)).or_else(|| habit(rule, list, &leaves));
                Ok((What::Statement(statement), tokens, slip))
            }
            None => Err(misfigured(rule, list, &leaves)),
        }
    }

    /// Whether a name may have swallowed a mistyped word: it is not declared.
    fn may_swallow(&self, leaves: &[Leaf], written: &Written) -> bool {
        leaves.iter().any(|leaf| {
            let name = &written.plain[leaf.start..leaf.end];
            matches!(token(leaf.rule).1, Spelling::Declared(_))
                && name.contains(' ')
                && !self.declared.has(self.declared.without_article(&name.replace(JOINER, " ")))
        })
    }

    /// Where the strict reading stops, in which every declared name ends where it ends.
    fn strictly(&self, rule: Rule, written: &Written) -> Option<(usize, Vec<Rule>)> {
        let marked = written.marked(self.declared);
        let stop = leaves_of(rule, &marked.plain).err()?;
        let marks = marked.plain[..stop.at].matches(MARK).count();
        let at = stop.at - marks;
        let gap = written.plain[at..].len() - written.plain[at..].trim_start().len();
        Some((at + gap, stop.rules))
    }

    /// A line whose first word begins no line, and in which nobody does anything.
    fn without_opening(&self, written: &Written) -> Result<Read, Slip> {
        if let Some(mended) = opening_mended(written, self.declared) {
            return self.built_of(mended);
        }
        let end = word_end(&written.plain, 0);
        let first = &written.plain[..end];
        let near = || nearest(first, seems::openers()).and_then(seems::opened_by).and_then(example);
        let seems = seems::example_of_habit(first).or_else(near).map(Into::into);
        Err(Slip { kind: ProblemKind::Line { seems, wanted: vec![WHO, OPENING] }, start: 0, end })
    }
}

/// Whether a second thing follows: `puts on gown and gloves`.
fn adds(line: &str, at: usize) -> bool {
    matches!(&line[at..word_end(line, at)], "and" | "or" | "then")
}

/// The end of the word that begins at a place, or of the quoted text.
pub(super) fn word_end(plain: &str, at: usize) -> usize {
    let rest = &plain[at..];
    if rest.starts_with("\"\"") {
        return at + 2;
    }
    at + rest.find([' ', ',', '"']).unwrap_or(rest.len())
}

fn stopped(rule: Rule, at: usize, rules: &[Rule], line: &str) -> Slip {
    let joins = adds(line, at) || line[..at].trim_end().ends_with(',');
    let one_thing =
        rule == Rule::spoken && joins && !rules.iter().any(|rule| matches!(rule, Rule::kw_and | Rule::kw_or));
    let apart = rule == Rule::print && line[..at].trim_end().ends_with('"');
    let wanted = match (one_thing, apart) {
        (true, _) => vec![ONE_THING],
        (_, true) => vec![OWN_LINES],
        _ => wanted_at(at, rules, line),
    };
    let kind = ProblemKind::Line { seems: example_for(rule, line).map(Into::into), wanted };
    let end = word_end(line, at);
    Slip { kind, start: at, end: if end == at && at < line.len() { at + 1 } else { end } }
}

/// Words of the language first, then what else could stand there, then the end of the line.
fn wanted_at(at: usize, rules: &[Rule], line: &str) -> Vec<&'static str> {
    if line[at..].starts_with('"') && rules.iter().any(|&rule| token(rule).0 == TokenKind::Name && rule != Rule::EOI) {
        return vec![BARE_NAME];
    }
    let is_verb =
        |rule: &Rule| keyword(*rule).is_some_and(|word| words(word).any(|word| example_of_verb(word).is_some()));
    let verbs = rules.iter().filter(|rule| is_verb(rule)).count();
    let deed = if rules.contains(&Rule::kw_take) { HELPING } else { DEED };
    let mut wanted: Vec<(u8, &str)> = Vec::new();
    let optional = |rule: &&Rule| match rule {
        Rule::comma => rules.len() == 1,
        Rule::kw_for => !rules.contains(&Rule::kw_with),
        _ => true,
    };
    for rule in rules.iter().filter(optional) {
        let words = if verbs >= MANY_VERBS && is_verb(rule) { Some(deed) } else { plain::wanted(*rule) };
        let order = match rule {
            Rule::EOI => 2,
            _ => u8::from(keyword(*rule).is_none()),
        };
        let words = match (rule, words) {
            (Rule::EOI, _) if line[..at].trim_end().ends_with('"') => Some(QUOTES_END),
            (_, words) => words,
        };
        if let Some(words) = words
            && wanted.iter().all(|(_, known)| *known != words)
        {
            wanted.push((order, words));
        }
    }
    wanted.sort_by_key(|(order, _)| *order);
    wanted.into_iter().map(|(_, words)| words).collect()
}

/// A right example of the sentence that a line seems to be.
pub(super) fn example_for(rule: Rule, line: &str) -> Option<&'static str> {
    match rule {
        Rule::spoken if words(line).any(|word| word == "helps") && words(line).any(|word| word == "take") => {
            Some("helper helps wearer take off gown by ties into clinical waste")
        }
        Rule::spoken => {
            let verb = |word| example_of_verb(word).or_else(|| seems::example_of_other_verb(word));
            words(line).find_map(verb).or_else(|| example(rule))
        }
        Rule::goes if line.starts_with("goes over") => Some("goes over inner gloves, boots"),
        Rule::counted if line.contains("pair") => Some("two pairs"),
        Rule::for_purpose if line.starts_with("for hand") => Some("for hands"),
        Rule::keep if line.contains("cover") => Some("keep covered hands, trunk, arms"),
        Rule::holds if line.starts_with("holds down") => Some("holds down goggles"),
        Rule::otherwise if line.contains("give") => Some("otherwise gives Contact"),
        Rule::then if line.contains("start") => Some("then start \"Taking off\""),
        Rule::print if line.starts_with("print as") => Some("print as \"Peel the gloves off.\""),
        Rule::place if line.contains("taking") || line.contains(" off") => Some("place lobby is for taking off"),
        Rule::place if line.contains("dirty") => Some("place bed space is contaminated"),
        Rule::if_not if !line.contains("back") && line.contains("start") => Some("if not, start \"Possible exposure\""),
        _ => example(rule),
    }
}
