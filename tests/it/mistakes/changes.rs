//! Single changes to a procedure's text, as somebody could make them by mistake: a step gone, two steps the wrong way
//! round, another part taken hold of, another person, place, cleaner, time, strength or container.

use std::collections::BTreeSet;

use anteroom::policy::Policy;
use anteroom::session::Reading;
use anteroom::syntax::tree::{Amount, Destination, Line, Name, Sentence, Statement, Verb, What};
use anteroom::text::Span;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    Deletion,
    Swap,
    Grip,
    Actor,
    Place,
    Cleaner,
    TimeOrStrength,
    Container,
}

impl Kind {
    pub const ALL: [Kind; 8] = [
        Kind::Deletion,
        Kind::Swap,
        Kind::Grip,
        Kind::Actor,
        Kind::Place,
        Kind::Cleaner,
        Kind::TimeOrStrength,
        Kind::Container,
    ];

    pub fn words(self) -> &'static str {
        match self {
            Kind::Deletion => "deletion",
            Kind::Swap => "swap",
            Kind::Grip => "grip",
            Kind::Actor => "actor",
            Kind::Place => "place",
            Kind::Cleaner => "cleaner",
            Kind::TimeOrStrength => "time, strength",
            Kind::Container => "container",
        }
    }
}

/// One changed text of a policy.
#[derive(Clone, Debug)]
pub struct Mistake {
    pub kind: Kind,
    /// In words, for whoever reads what was missed.
    pub told: String,
    /// The file that is changed, and its text after it.
    pub file: String,
    pub text: String,
    /// In a contingency's steps.
    pub in_drill: bool,
}

/// Parts of most kit, besides those that a policy names itself; common practice, no source.
const PARTS: [&str; 4] = ["front", "outside", "back", "inside"];

/// A step or hold with the lines beneath it: from the start of its first line to the start of the next statement's.
struct Block<'a> {
    line: &'a Line,
    from: usize,
    to: usize,
    title: &'a str,
}

struct Names {
    roles: Vec<String>,
    places: Vec<String>,
    cleaners: Vec<String>,
    containers: Vec<String>,
    parts: Vec<String>,
}

impl Names {
    fn of(policy: &Policy) -> Names {
        let parts = policy.items.iter().flat_map(|item| item.grips.iter().map(|grip| grip.part.clone()));
        let parts: BTreeSet<String> = parts.chain(PARTS.map(String::from)).collect();
        Names {
            roles: policy.roles.iter().map(|role| role.name.clone()).collect(),
            places: policy.places.iter().map(|place| place.name.clone()).collect(),
            cleaners: policy.cleaners.iter().map(|cleaner| cleaner.name.clone()).collect(),
            containers: policy.containers.iter().map(|container| container.name.clone()).collect(),
            parts: parts.into_iter().collect(),
        }
    }
}

/// Every single change to a policy that this knows of, in the order of the text.
pub fn mistakes(reading: &Reading) -> Vec<Mistake> {
    let mut all = Vec::new();
    for tree in &reading.trees {
        let source = reading.sources.get(tree.source);
        let names = Names::of(&reading.policy);
        let mut changing = Changing { file: &source.name, text: &source.text, names, in_drill: false, made: &mut all };
        let is_drill = |title: &str| reading.policy.contingencies.iter().any(|drill| drill.title == title);
        let blocks = blocks(&tree.lines, &source.text);
        changing.order(&blocks, &is_drill);
        for line in &tree.lines {
            changing.in_drill = title_at(&tree.lines, line).is_some_and(is_drill);
            changing.line(line, title_at(&tree.lines, line));
        }
    }
    all
}

fn title_at<'a>(lines: &'a [Line], line: &Line) -> Option<&'a str> {
    let before = lines.iter().take_while(|each| each.span.start <= line.span.start);
    before.filter_map(opens).last().flatten()
}

/// The title of a sequence or contingency that a line opens; an inner none where a line opens something else.
fn opens(line: &Line) -> Option<Option<&str>> {
    let What::Statement(statement) = &line.what else { return None };
    match statement {
        Statement::Sequence { title, .. } | Statement::Contingency { title, .. } => Some(Some(&title.text)),
        Statement::Print { .. } | Statement::Item { .. } | Statement::Level { .. } | Statement::Cleaner { .. } => {
            Some(None)
        }
        _ => None,
    }
}

fn blocks<'a>(lines: &'a [Line], text: &str) -> Vec<Block<'a>> {
    let mut blocks: Vec<Block> = Vec::new();
    for (at, line) in lines.iter().enumerate() {
        let What::Statement(Statement::Step(_) | Statement::Hold(_)) = &line.what else { continue };
        let Some(title) = title_at(lines, line) else { continue };
        let next = lines[at + 1..].iter().find(|line| !is_beneath(line));
        let to = next.map_or(text.len(), |next| line_start(text, next.span));
        blocks.push(Block { line, from: line_start(text, line.span), to, title });
    }
    blocks
}

/// Lines beneath a step or a hold.
fn is_beneath(line: &Line) -> bool {
    matches!(&line.what, What::Statement(says) if says.is_prompt() || says.is_of_hold())
}

fn line_start(text: &str, span: Span) -> usize {
    text[..span.start as usize].rfind('\n').map_or(0, |at| at + 1)
}

struct Changing<'a> {
    file: &'a str,
    text: &'a str,
    names: Names,
    in_drill: bool,
    made: &'a mut Vec<Mistake>,
}

impl Changing<'_> {
    fn made(&mut self, kind: Kind, told: String, text: String) {
        let in_drill = self.in_drill;
        self.made.push(Mistake { kind, told, file: self.file.to_string(), text, in_drill });
    }

    fn words(&self, span: Span) -> &str {
        &self.text[span.start as usize..span.end as usize]
    }

    /// What is left out, and what stands the wrong way round.
    fn order(&mut self, blocks: &[Block], is_drill: &dyn Fn(&str) -> bool) {
        let text = self.text;
        for (at, block) in blocks.iter().enumerate() {
            self.in_drill = is_drill(block.title);
            let place = format!("in “{}”", block.title);
            let words = self.words(block.line.span).to_string();
            let without = format!("{}{}", &text[..block.from], &text[block.to..]);
            self.made(Kind::Deletion, format!("{place}: without “{words}”"), without);
            let Some(next) = blocks.get(at + 1).filter(|next| next.title == block.title) else { continue };
            let swapped = [
                &text[..block.from],
                &text[next.from..next.to],
                &text[block.to..next.from],
                &text[block.from..block.to],
                &text[next.to..],
            ];
            let told = format!("{place}: “{}” before “{words}”", self.words(next.line.span));
            self.made(Kind::Swap, told, swapped.concat());
        }
    }

    fn replace(&mut self, kind: Kind, line: &Line, from: usize, to: usize, with: &str, within: Option<&str>) {
        let text = format!("{}{with}{}", &self.text[..from], &self.text[to..]);
        let (start, end) = (line.span.start as usize, line.span.end as usize);
        let changed = &text[start..end + with.len() - (to - from)];
        let place = within.map_or(String::new(), |title| format!("in “{title}”: "));
        let told = format!("{place}“{changed}” for “{}”", self.words(line.span));
        self.made(kind, told, text);
    }

    fn name(&mut self, kind: Kind, line: &Line, name: &Name, others: &[String], within: Option<&str>) {
        for other in others.iter().filter(|other| **other != name.text) {
            self.replace(kind, line, name.span.start as usize, name.span.end as usize, other, within);
        }
    }

    fn line(&mut self, line: &Line, within: Option<&str>) {
        let What::Statement(statement) = &line.what else { return };
        let (roles, places) = (self.names.roles.clone(), self.names.places.clone());
        let containers = self.names.containers.clone();
        match statement {
            Statement::Step(sentence) if within.is_some() => self.sentence(line, sentence, within),
            Statement::Confirms { role, .. } => self.name(Kind::Actor, line, role, &roles, within),
            Statement::Sequence { place: Some(place), .. } => self.name(Kind::Place, line, place, &places, within),
            Statement::GoesTo(container) => self.name(Kind::Container, line, container, &containers, None),
            Statement::StandsIn(place) => self.name(Kind::Place, line, place, &places, None),
            Statement::Strength(amount) => self.amounts(line, amount, &[2, 10], &[], None),
            Statement::WetFor(amount) => self.amounts(line, amount, &[], &[2, 10], None),
            _ => {}
        }
    }

    fn sentence(&mut self, line: &Line, sentence: &Sentence, within: Option<&str>) {
        let (roles, places) = (self.names.roles.clone(), self.names.places.clone());
        let cleaners = self.names.cleaners.clone();
        self.name(Kind::Actor, line, &sentence.role, &roles, within);
        match &sentence.verb {
            Verb::PutsOn { helped: Some(helped), .. } => self.unhelped(line, helped, "puts on", within),
            Verb::TakesOff { helped, how, item } => {
                if let Some(helped) = helped {
                    self.unhelped(line, helped, "takes off", within);
                }
                self.removal(line, item, how, within);
            }
            Verb::CleansHands { cleaner, time } => {
                self.name(Kind::Cleaner, line, cleaner, &cleaners, within);
                self.time(line, cleaner, time.as_ref(), within);
            }
            Verb::Wipes { cleaner, time, .. } | Verb::Sprays { cleaner, time, .. } => {
                self.name(Kind::Cleaner, line, cleaner, &cleaners, within);
                self.time(line, cleaner, time.as_ref(), within);
            }
            Verb::Checks(what) if roles.contains(&what.text) => self.name(Kind::Actor, line, what, &roles, within),
            Verb::GoesTo(place) => self.name(Kind::Place, line, place, &places, within),
            Verb::Puts { into, .. } => self.destination(line, into, within),
            _ => {}
        }
    }

    /// The one who was helped does it alone; or somebody else is helped.
    fn unhelped(&mut self, line: &Line, helped: &Name, verb: &str, within: Option<&str>) {
        let roles = self.names.roles.clone();
        self.name(Kind::Actor, line, helped, &roles, within);
        let after = self.text[helped.span.end as usize..].trim_start();
        let words = if verb == "puts on" { "put on" } else { "take off" };
        if let Some(rest) = after.strip_prefix(words) {
            let alone = format!("{} {verb}", helped.text);
            let end = self.text.len() - rest.len();
            self.replace(Kind::Actor, line, line.span.start as usize, end, &alone, within);
        }
    }

    fn removal(&mut self, line: &Line, item: &Name, how: &anteroom::syntax::tree::Removal, within: Option<&str>) {
        let parts = self.names.parts.clone();
        let end_of_item = item.span.end as usize;
        match &how.by {
            Some(by) => {
                self.name(Kind::Grip, line, by, &parts, within);
                self.replace(Kind::Grip, line, end_of_item, by.span.end as usize, "", within);
            }
            None => {
                for part in &parts {
                    self.replace(Kind::Grip, line, end_of_item, end_of_item, &format!(" by {part}"), within);
                }
            }
        }
        if let Some(rolled) = how.inside_out {
            let from = self.text[..rolled.start as usize].trim_end_matches([',', ' ']).len();
            let after = &self.text[rolled.end as usize..];
            let to = self.text.len() - after.strip_prefix(',').unwrap_or(after).len();
            self.replace(Kind::Grip, line, from, to, "", within);
        }
        if let Some(into) = &how.into {
            self.destination(line, into, within);
        }
    }

    fn destination(&mut self, line: &Line, into: &Destination, within: Option<&str>) {
        let containers = self.names.containers.clone();
        let (Destination::Into(name) | Destination::Onto(name)) = into;
        self.name(Kind::Container, line, name, &containers, within);
        let before = self.text[..name.span.start as usize].trim_end();
        let from = before.strip_suffix("into").or(before.strip_suffix("onto")).map(str::trim_end);
        if let Some(from) = from.map(|from| from.trim_end_matches(',').len()) {
            self.replace(Kind::Container, line, from, name.span.end as usize, "", within);
        }
    }

    fn time(&mut self, line: &Line, cleaner: &Name, time: Option<&Amount>, within: Option<&str>) {
        let Some(time) = time else { return };
        self.amounts(line, time, &[2, 3, 10], &[2], within);
        self.replace(Kind::TimeOrStrength, line, cleaner.span.end as usize, time.span.end as usize, "", within);
    }

    /// The same amount divided, and multiplied.
    fn amounts(&mut self, line: &Line, amount: &Amount, by: &[u64], times: &[u64], within: Option<&str>) {
        let written = self.words(amount.span).to_string();
        let Some(at) = written.find(|c: char| !c.is_ascii_digit() && c != '.') else { return };
        let (figures, unit) = written.split_at(at);
        let Ok(value) = figures.parse::<f64>() else { return };
        let (value, unit) = if unit.trim().starts_with("minute") { (value * 60.0, " seconds") } else { (value, unit) };
        let smaller = by.iter().map(|&by| value / by as f64);
        for other in smaller.chain(times.iter().map(|&times| value * times as f64)) {
            let other = format!("{}{unit}", other.ceil());
            let (from, to) = (amount.span.start as usize, amount.span.end as usize);
            self.replace(Kind::TimeOrStrength, line, from, to, &other, within);
        }
    }
}
