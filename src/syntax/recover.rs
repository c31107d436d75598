//! What becomes of a line: a statement, a statement with a slip in it, or a hole with a message at its exact place.
//!
//! In: a plain line. Out: a line of the tree, and at most one problem. Must never tell two problems of one mistake.

use super::leaves::{Leaf, Leaves};
use super::parse::{Reader, Rule, leaves_of};
use super::plain::{self, keyword, token};
use super::problem::ProblemKind;
use super::seems::{self, example, example_of_verb, seems, words};
use super::statement::statement;
use super::tree::{Line, Spelling, Token, TokenKind, What};
use super::written::{JOINER, MARK, Written};
use crate::text::Span;
use crate::text::near::{nearest, nearest_of_few};

/// What to tell, and the stretch of the plain line that it is about.
type Slip = (ProblemKind, usize, usize);
type Read = (What, Vec<Token>, Option<Slip>);

const WHO: &str = "who acts, such as “wearer”";
const OPENING: &str = "a word that begins a line, such as “item” or “part”";
const DEED: &str = "what is done, such as “puts on” or “cleans hands”";
const HELPING: &str = "what is helped with, such as “put on” or “take off”";
const QUOTES_END: &str = "the end of the line, since a quoted text ends at its next double quote";
const LINKS: [&str; 5] = ["by", "into", "onto", "with", "for"];
const ONE_THING: &str = "the end of the line, since a step is about one thing";
const BARE_NAME: &str = "a name, which stands without quotes";
/// Words that no sentence could tell from a name of the same letters.
const JOINING: [&str; 19] = [
    "by", "into", "onto", "with", "for", "together", "rolling", "if", "unless", "to", "from", "of", "as", "and", "is",
    "are", "on", "off", "up",
];
/// Where so many verbs would go on, they are told as one.
const MANY_VERBS: usize = 5;

impl Reader<'_> {
    pub fn statement(&mut self, written: &Written, span: Span) -> Line {
        let rule = seems(&written.plain, self.declared);
        let read = match rule {
            Some(rule) => self.read_by(rule, written),
            None => self.without_opening(written),
        };
        let (what, tokens, slip) = read.unwrap_or_else(|slip| (What::Hole, Vec::new(), Some(slip)));
        if let Some(start) = written.unclosed {
            let seems = rule.and_then(|rule| example_for(rule, &written.plain));
            let kind = ProblemKind::Line { seems, wanted: vec!["a closing quote"] };
            self.tell(kind, Span::new(self.source, start, span.end as usize));
        } else if let Some((kind, start, end)) = slip {
            let (from, to) = written.place(start, end);
            self.tell(kind, Span::new(self.source, from, to));
        }
        Line { span, tokens, what }
    }

    fn read_by(&self, rule: Rule, written: &Written) -> Result<Read, Slip> {
        let stop = match leaves_of(rule, &written.plain) {
            Ok(leaves) => {
                let swallowed = self.may_swallow(&leaves, written);
                let strict = swallowed.then(|| self.strictly(rule, written)).flatten();
                if let Some((at, rules)) = strict.as_ref().filter(|(at, _)| rule == Rule::spoken && adds(written, *at))
                {
                    return Err(stopped(rule, *at, rules, &written.plain));
                }
                let mended = strict.and_then(|(at, rules)| self.mended(rule, at, &rules, written));
                let mended = mended.or_else(|| self.relinked(rule, &leaves, written));
                return match mended.or_else(|| denied(rule, &leaves, written)) {
                    Some((leaves, mended, slip)) => self.built(rule, &leaves, &mended, Some(slip)),
                    None => self.built(rule, &leaves, written, None),
                };
            }
            Err(stop) => stop,
        };
        let (at, rules) = self.strictly(rule, written).unwrap_or((stop.at, stop.rules));
        match self.mended(rule, at, &rules, written) {
            Some((leaves, mended, slip)) => self.built(rule, &leaves, &mended, Some(slip)),
            None => Err(stopped(rule, at, &rules, &written.plain)),
        }
    }

    fn built(&self, rule: Rule, list: &[Leaf], written: &Written, slip: Option<Slip>) -> Result<Read, Slip> {
        let mut leaves = Leaves { source: self.source, text: self.text, written, declared: self.declared, list };
        let mut tokens = leaves.tokens();
        if let Some((_, start, _)) = slip {
            // Tidying leaves a mistyped word to the writer.
            let word = leaves.stretch(start, start + 1);
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

    /// The line with the word at which reading stopped put right, where that is a mistyped keyword and the line then reads.
    fn mended(&self, rule: Rule, at: usize, rules: &[Rule], written: &Written) -> Option<(Vec<Leaf>, Written, Slip)> {
        let end = word_end(&written.plain, at);
        let word = &written.plain[at..end];
        let keywords = rules.iter().filter_map(|&rule| keyword(rule)).filter(|word| !word.contains(' '));
        let meant = nearest_of_few(word, keywords).filter(|meant| *meant != word)?;
        let mended = written.with(at, end, meant);
        let leaves = leaves_of(rule, &mended.plain).ok()?;
        let seems = example_for(rule, &mended.plain);
        let wanted = rules.iter().find(|&&rule| keyword(rule) == Some(meant)).and_then(|&rule| plain::wanted(rule));
        let kind = ProblemKind::Line { seems, wanted: wanted.into_iter().collect() };
        Some((leaves, mended, (kind, at, end)))
    }

    /// The line with a mistyped linking word put right that a name has swallowed: `by ties int waste bin`. More names
    /// are then found in it.
    fn relinked(&self, rule: Rule, leaves: &[Leaf], written: &Written) -> Option<(Vec<Leaf>, Written, Slip)> {
        let names = |leaves: &[Leaf]| leaves.iter().filter(|leaf| token(leaf.rule).0 == TokenKind::Name).count();
        let known = names(leaves);
        let open = leaves.iter().filter(|leaf| ends_at_link(leaf.rule)).take(MANY_VERBS);
        for leaf in open {
            let name = &written.plain[leaf.start..leaf.end];
            if self.declared.has(&name.replace(JOINER, " ")) {
                continue;
            }
            for (at, _) in name.match_indices(' ').take(MANY_VERBS) {
                let at = leaf.start + at + 1;
                let end = word_end(&written.plain, at);
                let Some(meant) = nearest_of_few(&written.plain[at..end], LINKS) else { continue };
                let mended = written.with(at, end, meant);
                if let Ok(found) = leaves_of(rule, &mended.plain)
                    && names(&found) > known
                {
                    let wanted = plain::quoted(meant).into_iter().collect();
                    let kind = ProblemKind::Line { seems: example_for(rule, &mended.plain), wanted };
                    return Some((found, mended, (kind, at, end)));
                }
            }
        }
        None
    }

    /// A line whose first word begins no line, and in which nobody does anything.
    fn without_opening(&self, written: &Written) -> Result<Read, Slip> {
        let end = word_end(&written.plain, 0);
        let first = &written.plain[..end];
        if let Some(meant) = nearest(first, seems::openers()) {
            let mended = written.with(0, end, meant);
            let seems = seems(&mended.plain, self.declared).and_then(|rule| {
                let leaves = leaves_of(rule, &mended.plain).ok()?;
                Some((rule, leaves))
            });
            if let Some((rule, leaves)) = seems {
                let wanted = vec![plain::quoted(meant).unwrap_or(OPENING)];
                let kind = ProblemKind::Line { seems: example_for(rule, &mended.plain), wanted };
                return self.built(rule, &leaves, &mended, Some((kind, 0, end)));
            }
        }
        let seems = nearest(first, seems::openers()).and_then(seems::opened_by).and_then(example);
        let seems = seems.or(first.starts_with(['#', '/', ';']).then_some("note The drawings are with Estates."));
        Err((ProblemKind::Line { seems, wanted: vec![WHO, OPENING] }, 0, end))
    }
}

/// Whether a second thing follows: `puts on gown and gloves`.
fn adds(written: &Written, at: usize) -> bool {
    matches!(&written.plain[at..word_end(&written.plain, at)], "and" | "or" | "then")
}

/// `gown is nto soiled` would say the contrary of what is meant.
fn denied(rule: Rule, leaves: &[Leaf], written: &Written) -> Option<(Vec<Leaf>, Written, Slip)> {
    const SLIPS: [&str; 5] = ["nto", "ont", "nt", "nott", "noot"];
    let state = leaves.iter().find(|leaf| {
        let first = written.plain[leaf.start..leaf.end].split(' ').next();
        leaf.rule == Rule::state && first.is_some_and(|first| SLIPS.contains(&first))
    })?;
    let end = word_end(&written.plain, state.start);
    let mended = written.with(state.start, end, "not");
    let leaves = leaves_of(rule, &mended.plain).ok()?;
    let kind = ProblemKind::Line { seems: example_for(rule, &mended.plain), wanted: vec!["“not”"] };
    Some((leaves, mended, (kind, state.start, end)))
}

/// Names in sentences that end only where a linking word stands.
fn ends_at_link(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::part_off | Rule::item_off | Rule::item_with | Rule::thing_into | Rule::cleaner_used | Rule::target
    )
}

/// The end of the word that begins at a place, or of the quoted text.
fn word_end(plain: &str, at: usize) -> usize {
    let rest = &plain[at..];
    if rest.starts_with("\"\"") {
        return at + 2;
    }
    at + rest.find([' ', ',', '"']).unwrap_or(rest.len())
}

fn stopped(rule: Rule, at: usize, rules: &[Rule], line: &str) -> Slip {
    let joins = matches!(&line[at..word_end(line, at)], "and" | "or" | "then") || line[..at].trim_end().ends_with(',');
    let one_thing =
        rule == Rule::spoken && joins && !rules.iter().any(|rule| matches!(rule, Rule::kw_and | Rule::kw_or));
    let wanted = if one_thing { vec![ONE_THING] } else { wanted_at(at, rules, line) };
    let kind = ProblemKind::Line { seems: example_for(rule, line), wanted };
    let end = word_end(line, at);
    (kind, at, if end == at && at < line.len() { at + 1 } else { end })
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
    let optional = |rule: &&Rule| **rule != Rule::comma || rules.len() == 1;
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
fn example_for(rule: Rule, line: &str) -> Option<&'static str> {
    match rule {
        Rule::spoken if words(line).any(|word| word == "helps") && words(line).any(|word| word == "take") => {
            Some("helper helps wearer take off gown by ties into clinical waste")
        }
        Rule::spoken => words(line).find_map(example_of_verb).or_else(|| example(rule)),
        Rule::goes if line.starts_with("goes over") => Some("goes over inner gloves, boots"),
        Rule::counted if line.contains("pair") => Some("two pairs"),
        Rule::for_purpose if line.starts_with("for hand") => Some("for hands"),
        Rule::keep if line.starts_with("keep cover") => Some("keep covered hands, trunk, arms"),
        Rule::holds if line.starts_with("holds down") => Some("holds down goggles"),
        Rule::otherwise if line.contains("give") => Some("otherwise gives Contact"),
        Rule::then if line.contains("start") => Some("then start \"Taking off\""),
        Rule::print if line.starts_with("print as") => Some("print as \"Peel the gloves off.\""),
        Rule::if_not if line.contains("start") => Some("if not, start \"Possible exposure\""),
        _ => example(rule),
    }
}

fn unquoted(rule: Rule, written: &Written) -> Option<Slip> {
    let (start, end) = written.unquoted?;
    Some((ProblemKind::Line { seems: example_for(rule, &written.plain), wanted: vec![BARE_NAME] }, start, end))
}

/// What people write by habit, and what is understood but has to be put right.
fn habit(rule: Rule, list: &[Leaf], leaves: &Leaves) -> Option<Slip> {
    let line =
        |leaf: &Leaf, seems, wanted| Some((ProblemKind::Line { seems, wanted: vec![wanted] }, leaf.start, leaf.end));
    list.iter().enumerate().find_map(|(at, leaf)| match leaf.rule {
        Rule::bare | Rule::bare_before_for | Rule::bare_before_when => {
            line(leaf, example_for(rule, &leaves.written.plain), "words in double quotes")
        }
        _ if is_new(leaf.rule) && JOINING.contains(&leaves.plain(*leaf)) => {
            line(leaf, example_for(rule, &leaves.written.plain), "a name that is no word of the sentences")
        }
        Rule::apart_on => line(leaf, Some("wearer puts on gown"), "“on”"),
        Rule::apart_off => line(leaf, Some("wearer takes off gown by ties into clinical waste"), "“off”"),
        Rule::kw_by | Rule::kw_rolling | Rule::kw_together | Rule::kw_into | Rule::kw_onto
            if said_before(leaf.rule, &list[..at]) =>
        {
            line(leaf, Some("wearer takes off gown by ties into clinical waste"), "the end of the line")
        }
        Rule::date_figures => Some((dated(leaf, leaves), leaf.start, leaf.end)),
        Rule::month if list.get(at + 1).is_some_and(|next| next.rule == Rule::day) => {
            let end = list.iter().rfind(|leaf| leaf.rule == Rule::year).map_or(leaf.end, |year| year.end);
            Some((dated(&Leaf { end, ..*leaf }, leaves), leaf.start, end))
        }
        _ => None,
    })
}

fn is_new(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::new_item | Rule::new_role | Rule::new_place | Rule::new_surface | Rule::new_cleaner | Rule::new_container
    )
}

/// A sentence says once by what, how and into what something is taken off.
fn said_before(rule: Rule, before: &[Leaf]) -> bool {
    let alike: &[Rule] =
        if matches!(rule, Rule::kw_into | Rule::kw_onto) { &[Rule::kw_into, Rule::kw_onto] } else { &[rule] };
    before.iter().any(|leaf| alike.contains(&leaf.rule))
}

fn dated(leaf: &Leaf, leaves: &Leaves) -> ProblemKind {
    let span = leaves.span(*leaf);
    let written = leaves.text.get(span.start as usize..span.end as usize).unwrap_or_default();
    ProblemKind::Date { written: written.split_whitespace().collect::<Vec<_>>().join(" ") }
}

/// A number that is too large, or a date in figures that makes no day.
fn misfigured(rule: Rule, list: &[Leaf], leaves: &Leaves) -> Slip {
    if let Some(leaf) = list.iter().find(|leaf| leaf.rule == Rule::date_figures) {
        return (dated(leaf, leaves), leaf.start, leaf.end);
    }
    let plain = &leaves.written.plain;
    let number = list.iter().find(|leaf| token(leaf.rule).0 == TokenKind::Number);
    let (start, end) = number.map_or((0, word_end(plain, 0)), |leaf| (leaf.start, leaf.end));
    let wanted = vec!["a smaller number, or a whole one"];
    (ProblemKind::Line { seems: example_for(rule, plain), wanted }, start, end)
}
