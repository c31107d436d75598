//! From what the walk noticed to a finding: the place, the step's own words, the case and the chain.
//!
//! In: an event and what the rule says of it. Out: a finding. Must never choose a word of the rule's own message.

use std::collections::{BTreeMap, BTreeSet};

use crate::findings::{Finding, Signal};
use crate::policy::{FactId, ItemId, LevelId, Policy, RoleId, Step};
use crate::syntax::problem::{Problem, ProblemKind};
use crate::text::Span;
use crate::walk::telling::{case_words, chain_words, fact_words, step_name};
use crate::walk::{Event, Run, StepRef, What};

use super::headings::follows_from_dressing_there;
use super::{Brief, Rule};

/// A rule's own words about one fault.
pub struct Said {
    pub title: String,
    pub message: String,
    pub way_out: String,
}

impl<'a> Brief<'a> {
    /// What the walk noticed, run by run; each thing at a step once, however many ways lead to it. What only follows from a
    /// putting-on that is written for where the hazard is, is left out.
    pub fn events(&self) -> impl Iterator<Item = (&'a Run, &'a Event)> {
        let mut told: BTreeSet<(&What, Option<StepRef>, RoleId, Option<LevelId>)> = BTreeSet::new();
        self.walk.runs.iter().flat_map(|run| run.events.iter().map(move |event| (run, event))).filter(
            move |(run, event)| {
                if follows_from_dressing_there(self.policy, run, event) {
                    return false;
                }
                let level = event.step.is_none().then_some(run.level);
                told.insert((&event.what, event.step, event.who, level))
            },
        )
    }

    /// Events that are one mistake together: those with the same key, in the order of the runs.
    pub fn groups<K: PartialEq>(&self, key: impl Fn(&Run, &Event) -> Option<K>) -> Vec<(&'a Run, Vec<&'a Event>)> {
        let mut keys: Vec<K> = Vec::new();
        let mut groups: Vec<(&Run, Vec<&Event>)> = Vec::new();
        for (run, event) in self.events() {
            let Some(key) = key(run, event) else { continue };
            match keys.iter().position(|known| *known == key) {
                Some(at) => groups[at].1.push(event),
                None => {
                    keys.push(key);
                    groups.push((run, vec![event]));
                }
            }
        }
        groups
    }

    /// The steps of further events, as places that belong to a finding about the first.
    pub fn further(&self, events: &[&Event]) -> Vec<(Span, String)> {
        let mut steps: Vec<StepRef> = events.iter().filter_map(|event| event.step).collect();
        steps.sort();
        steps.dedup();
        let name = |at: StepRef| format!("{}: {}", capital(&step_name(self.policy, at)), self.step(at).words);
        steps.into_iter().map(|at| (self.step(at).span, name(at))).collect()
    }

    /// A finding at the first of several events, with the steps of the others beside it.
    pub fn finding_of_all(&self, rule: &dyn Rule, run: &Run, events: &[&Event], said: Said) -> Finding {
        let mut finding = self.finding(rule, run, events[0], said);
        finding.related.extend(self.further(&events[1..]));
        finding
    }

    /// The same at DANGER, with how the hazard gets there, where in one of the events' steps a bare hand meets the hazard
    /// itself and the one who acts has no kit: the bare hand is then not told apart.
    pub fn by_bare_hand(&self, finding: Finding, run: &Run, events: &[&Event]) -> Finding {
        let bare = run.events.iter().find(|other| {
            matches!(other.what, What::BareHand { .. })
                && !self.has_kit(run, other.actor)
                && events.iter().any(|event| (event.step, event.actor) == (other.step, other.actor))
        });
        match bare {
            Some(bare) => Finding {
                signal: Signal::Danger,
                chain: chain_words(self.policy, run, bare.step, &bare.chain),
                ..finding
            },
            None => finding,
        }
    }

    /// Kit listed for the level, or put on although it is not listed; own clothes are none.
    pub fn has_kit(&self, run: &Run, who: RoleId) -> bool {
        let listed = self.policy.level(run.level).kit(who).map(|kit| kit.items.as_slice()).unwrap_or_default();
        listed.iter().any(|worn| !self.policy.item(worn.item).worn_beneath)
            || run.spells.iter().any(|spell| spell.wearer == who && spell.on_at.is_some())
    }

    /// Whether a line of document control stands there, even one that could not be read and is told as that.
    pub fn wrote(&self, property: &str) -> bool {
        let seems = |problem: &Problem| match &problem.kind {
            ProblemKind::Line { seems: Some(example), .. } => example.starts_with(property),
            _ => false,
        };
        self.policy.paper.wrote(property) || self.problems.iter().any(seems)
    }

    /// Whether something within this place could not be read or resolved, and so has been told already.
    pub fn has_problem_in(&self, span: Span) -> bool {
        let within = |at: Span| at.source == span.source && at.start < span.end && at.end > span.start;
        self.problems.iter().any(|problem| within(problem.span))
    }

    pub fn step(&self, at: StepRef) -> &'a Step {
        &self.policy.steps(at.sequence)[at.step]
    }

    /// Whether the walk noticed this of somebody at a step.
    pub fn noticed(&self, run: &Run, step: Option<StepRef>, who: RoleId, is_it: impl Fn(&What) -> bool) -> bool {
        run.events.iter().any(|event| event.step == step && event.who == who && is_it(&event.what))
    }

    /// The place of an event: its step's line, or the line of the level where it is of no single step.
    pub fn span(&self, run: &Run, at: Option<StepRef>) -> Span {
        at.map_or(self.policy.level(run.level).span, |at| self.step(at).span)
    }

    /// A finding about an event: its place, words, case, chain and the earlier step that brought it about.
    pub fn finding(&self, rule: &dyn Rule, run: &Run, event: &Event, said: Said) -> Finding {
        let related = event.earlier.filter(|&at| Some(at) != event.step).map(|at| {
            let words = format!("{}: {}", capital(&step_name(self.policy, at)), self.step(at).words);
            (self.step(at).span, words)
        });
        Finding {
            case: case_words(self.policy, &event.case),
            chain: chain_words(self.policy, run, event.step, &event.chain),
            related: related.into_iter().collect(),
            ..plain(rule, self.span(run, event.step), said)
        }
    }
}

/// By which steps are played: putting on, then what does neither, then taking off; in each by the order of the policy.
pub fn played_at(run: &Run, step: Option<StepRef>) -> (u8, Option<StepRef>) {
    let stage = match step {
        Some(at) if run.putting_on.contains(&at.sequence) => 0,
        Some(at) if run.taking_off.contains(&at.sequence) => 2,
        _ => 1,
    };
    (stage, step)
}

/// Whether a mask comes off at that moment while this is still on: what that means for the mouth is told instead.
pub fn bares_mouth(run: &Run, event: &Event, still_worn: ItemId) -> bool {
    run.events.iter().any(|other| {
        let worn = matches!(other.what, What::FaceBefore { still_on, .. } if still_on == still_worn);
        worn && other.step == event.step && other.who == event.who
    })
}

/// A finding that comes from the policy alone.
pub fn plain(rule: &dyn Rule, span: Span, said: Said) -> Finding {
    Finding {
        name: rule.name(),
        signal: rule.signal(),
        kind: rule.kind(),
        span,
        sentence: String::new(),
        title: said.title,
        message: said.message,
        way_out: said.way_out,
        case: Vec::new(),
        chain: Vec::new(),
        related: Vec::new(),
        source: first_source(rule.page()),
        accepted: None,
    }
}

/// The first source that a rule's page names, all of its lines; none where it rests on common practice.
fn first_source(page: &str) -> Option<String> {
    let sources = page.split("## Sources").nth(1)?;
    let mut lines = sources.lines().map(str::trim).skip_while(|line| line.is_empty());
    let first = lines.next()?.trim_start_matches("- ");
    // A source that is too long for one line goes on in the next.
    let more = lines.take_while(|line| !line.is_empty() && !line.starts_with("- "));
    let line = std::iter::once(first).chain(more).collect::<Vec<_>>().join(" ");
    // How a source was seen is for the page's readers, not for the ward.
    let line = [" [S]", " [S3]"].iter().fold(line, |line, tag| line.replace(tag, ""));
    let common = line.to_lowercase().contains("common practice, no source");
    (!common).then_some(line)
}

/// A title with the policy's own names in it; the shorter one where they make it too long for a list.
pub fn fitting(title: String, shorter: &str) -> String {
    if title.chars().count() <= 60 { title } else { shorter.to_string() }
}

/// The answers of a case by themselves.
pub fn known_words(policy: &Policy, known: &BTreeMap<FactId, bool>) -> Vec<String> {
    known.iter().map(|(&fact, &holds)| fact_words(policy.fact(fact), holds)).collect()
}

/// `the wearer`
pub fn the_role(policy: &Policy, who: RoleId) -> String {
    format!("the {}", policy.role(who).name)
}

/// `the outer gloves`
pub fn the_item(policy: &Policy, item: ItemId) -> String {
    format!("the {}", policy.item(item).name)
}

/// `are` for gloves, boots, goggles and the like; `is` for the rest.
pub fn is_are(policy: &Policy, item: ItemId) -> &'static str {
    if is_many(policy, item) { "are" } else { "is" }
}

pub fn comes(policy: &Policy, item: ItemId) -> &'static str {
    if is_many(policy, item) { "come" } else { "comes" }
}

/// Named in the plural.
pub fn is_many(policy: &Policy, item: ItemId) -> bool {
    let name = &policy.item(item).name;
    name.ends_with('s') && !name.ends_with("ss")
}

pub fn it_them(policy: &Policy, item: ItemId) -> &'static str {
    if is_many(policy, item) { "them" } else { "it" }
}

/// `the gown`, `the gown and the apron`, `the gown, the apron and the hood`
pub fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [others @ .., last] => format!("{} and {last}", others.join(", ")),
    }
}

pub use crate::walk::telling::capital;

/// A finding about a line or a name that could not be read.
pub fn unread(rule: &dyn Rule, problem: &Problem, said: Said) -> Finding {
    Finding { related: problem.related.clone(), ..plain(rule, problem.span, said) }
}

/// A name short enough for a title.
pub fn short(name: &str) -> String {
    const MOST: usize = 28;
    match name.char_indices().nth(MOST) {
        Some((end, _)) => format!("{} …", name[..end].trim_end()),
        None => name.to_owned(),
    }
}

/// `“by”`, `“by” or “into”`, `“by”, “into” or the end of the line`
pub fn either(words: &[&str]) -> String {
    match words {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [others @ .., last] => format!("{} or {last}", others.join(", ")),
    }
}
