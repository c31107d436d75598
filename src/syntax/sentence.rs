//! From the leaves of a sentence to who does what, and when.
//!
//! In: leaves. Out: a sentence, its condition. Must never know what an item is for.

use super::figures::time;
use super::leaves::{Leaf, Leaves};
use super::parse::Rule;
use super::tree::{Amount, Claim, Condition, Destination, Name, Removal, Sentence, Verb, When};
use crate::text::Span;

pub(super) fn sentence(role: Name, leaves: &mut Leaves) -> Option<Sentence> {
    let verb = verb(leaves)?;
    while leaves.take(Rule::comma) {}
    let when = match leaves.next() {
        Some(Leaf { rule: Rule::kw_if, .. }) => When::If(condition(leaves)?),
        Some(Leaf { rule: Rule::kw_unless, .. }) => When::Unless(condition(leaves)?),
        Some(_) => return None,
        None => When::Always,
    };
    Some(Sentence { role, verb, when })
}

fn verb(leaves: &mut Leaves) -> Option<Verb> {
    let verb = leaves.next()?.rule;
    Some(match verb {
        Rule::kw_puts | Rule::kw_dons => puts(leaves)?,
        Rule::kw_helps => {
            let helped = Some(leaves.name()?);
            leaves.take(Rule::filler_to);
            helping(helped, leaves)?
        }
        Rule::kw_pulls => Verb::PullsUp { helped: None, item: leaves.name()? },
        Rule::kw_changes => Verb::Changes { helped: None, item: leaves.name()? },
        Rule::kw_takes | Rule::kw_removes => takes_off(None, leaves)?,
        Rule::kw_cleans => {
            let (cleaner, time) = with(leaves)?;
            Verb::CleansHands { cleaner, time }
        }
        Rule::kw_wipes | Rule::kw_sprays => {
            let target = leaves.name()?;
            let (cleaner, time) = with(leaves)?;
            if verb == Rule::kw_wipes {
                Verb::Wipes { target, cleaner, time }
            } else {
                Verb::Sprays { target, cleaner, time }
            }
        }
        Rule::kw_checks => Verb::Checks(leaves.name()?),
        Rule::kw_goes | Rule::kw_enters => Verb::GoesTo(leaves.name()?),
        Rule::kw_does => Verb::Does(leaves.quote()?),
        _ => handling(verb, leaves)?,
    })
}

fn handling(verb: Rule, leaves: &mut Leaves) -> Option<Verb> {
    Some(match verb {
        Rule::kw_switches if leaves.take(Rule::kw_on) => Verb::SwitchesOn(leaves.name()?),
        Rule::kw_switches => Verb::SwitchesOff(leaves.name()?),
        Rule::kw_connects => Verb::Connects { item: leaves.name()?, to: leaves.name()? },
        Rule::kw_disconnects => {
            let item = leaves.name()?;
            let from = if leaves.take(Rule::kw_from) { leaves.name() } else { None };
            Verb::Disconnects { item, from }
        }
        Rule::kw_cuts => {
            let (part, item) = part_of(leaves)?;
            let tool = if leaves.take(Rule::kw_with) { leaves.name() } else { None };
            Verb::Cuts { part, item, tool }
        }
        Rule::kw_breaks => {
            let (part, item) = part_of(leaves)?;
            Verb::Breaks { part, item }
        }
        Rule::kw_unties => Verb::Unties(leaves.name()?),
        Rule::kw_steps if leaves.take(Rule::kw_onto) => Verb::StepsOnto(leaves.name()?),
        Rule::kw_steps => Verb::StepsOff(leaves.name()?),
        Rule::kw_sits => Verb::SitsOn(leaves.name()?),
        Rule::kw_stands => {
            leaves.take(Rule::kw_up);
            Verb::StandsUp
        }
        Rule::kw_opens => Verb::Opens(leaves.name()?),
        Rule::kw_closes => Verb::Closes(leaves.name()?),
        Rule::kw_folds => Verb::Folds(leaves.name()?),
        _ => return None,
    })
}

/// `puts on ITEM`, `puts ITEM on`, `puts ITEM into CONTAINER`
fn puts(leaves: &mut Leaves) -> Option<Verb> {
    if leaves.take(Rule::kw_on) {
        return puts_on(None, leaves);
    }
    let first = leaves.first()?;
    if first.rule == Rule::thing_into {
        return Some(Verb::Puts { item: leaves.name()?, into: destination(leaves)? });
    }
    if first.rule == Rule::apart_on {
        let item = apart(leaves)?;
        return Some(Verb::PutsOn { helped: None, item, fresh: false, as_far_as: None });
    }
    puts_on(None, leaves)
}

/// `gown off`: the item without its last word.
fn apart(leaves: &mut Leaves) -> Option<Name> {
    let leaf = leaves.next()?;
    let (item, _) = leaves.plain(leaf).rsplit_once(' ')?;
    Some(leaves.name_of(Leaf { end: leaf.start + item.len(), ..leaf }))
}

fn puts_on(helped: Option<Name>, leaves: &mut Leaves) -> Option<Verb> {
    let fresh = leaves.take(Rule::kw_fresh);
    let item = leaves.name()?;
    let as_far_as = if leaves.take(Rule::kw_as) { leaves.name() } else { None };
    Some(Verb::PutsOn { helped, item, fresh, as_far_as })
}

fn helping(helped: Option<Name>, leaves: &mut Leaves) -> Option<Verb> {
    Some(match leaves.next()?.rule {
        Rule::kw_put => {
            leaves.take(Rule::kw_on);
            puts_on(helped, leaves)?
        }
        Rule::kw_don => puts_on(helped, leaves)?,
        Rule::kw_take | Rule::kw_remove => takes_off(helped, leaves)?,
        Rule::kw_pull => Verb::PullsUp { helped, item: leaves.name()? },
        Rule::kw_change => Verb::Changes { helped, item: leaves.name()? },
        _ => return None,
    })
}

fn takes_off(helped: Option<Name>, leaves: &mut Leaves) -> Option<Verb> {
    leaves.take(Rule::kw_off);
    if leaves.first()?.rule == Rule::apart_off {
        return Some(Verb::TakesOff { helped, item: apart(leaves)?, how: Removal::default() });
    }
    let item = leaves.name()?;
    let mut how = Removal::default();
    while let Some(leaf) = leaves.first() {
        match leaf.rule {
            Rule::comma => {
                leaves.next();
            }
            Rule::kw_by => {
                let by = leaves.name()?;
                how.by.get_or_insert(by);
            }
            Rule::kw_rolling => {
                let mut end = leaf;
                while end.rule != Rule::kw_out {
                    end = leaves.next()?;
                }
                how.inside_out = Some(leaves.span(leaf).to(leaves.span(end)));
            }
            Rule::kw_together | Rule::kw_and => {
                how.together_with.push(leaves.name()?);
            }
            Rule::kw_into | Rule::kw_onto => {
                let into = destination(leaves)?;
                how.into.get_or_insert(into);
            }
            _ => break,
        }
    }
    Some(Verb::TakesOff { helped, item, how })
}

fn destination(leaves: &mut Leaves) -> Option<Destination> {
    match leaves.next()?.rule {
        Rule::kw_into => Some(Destination::Into(leaves.name()?)),
        Rule::kw_onto => Some(Destination::Onto(leaves.name()?)),
        _ => None,
    }
}

/// `with CLEANER for 30 seconds`, in either order.
fn with(leaves: &mut Leaves) -> Option<(Name, Option<Amount>)> {
    let mut cleaner = None;
    let mut lasting = None;
    leaves.take(Rule::kw_hands);
    while let Some(leaf) = leaves.first() {
        match leaf.rule {
            Rule::kw_with => cleaner = Some(leaves.name()?),
            Rule::kw_for => {
                leaves.next();
                lasting = Some(time(leaves)?);
            }
            _ => break,
        }
    }
    Some((cleaner?, lasting))
}

fn part_of(leaves: &mut Leaves) -> Option<(Option<Name>, Name)> {
    let first = leaves.name()?;
    if leaves.take(Rule::kw_of) {
        return Some((Some(first), leaves.name()?));
    }
    Some((None, first))
}

pub(super) fn condition(leaves: &mut Leaves) -> Option<Condition> {
    let mut any = Vec::new();
    let mut span: Option<Span> = None;
    loop {
        let claim = claim(leaves)?;
        span = Some(span.map_or(claim.words.span, |span| span.to(claim.words.span)));
        while leaves.take(Rule::comma) {}
        any.push(vec![claim]);
        while leaves.take(Rule::kw_and) {
            let also = self::claim(leaves)?;
            span = span.map(|span| span.to(also.words.span));
            any.last_mut()?.push(also);
            while leaves.take(Rule::comma) {}
        }
        if !leaves.take(Rule::kw_or) {
            return Some(Condition { any, span: span? });
        }
    }
}

/// `gown is not soiled`, `outer gloves are torn`, or the name of a question.
pub(super) fn claim(leaves: &mut Leaves) -> Option<Claim> {
    let name = leaves.name()?;
    let Some(being) = leaves.first().filter(|leaf| leaf.rule == Rule::kw_is_or_are) else {
        let (subject, state) = split_being(&name).unzip();
        return Some(Claim { words: name, subject, state, denied: false });
    };
    leaves.next();
    let denied = leaves.take(Rule::kw_not) || leaves.take(Rule::kw_not_short);
    let state = leaves.name()?;
    let text = format!("{} {} {}", name.text, leaves.plain(being), state.text);
    let words = Name { text, span: name.span.to(state.span) };
    Some(Claim { words, subject: Some(name), state: Some(state), denied })
}

/// A declared name that says that something is so: what is, and what it is. Both bear the place of the whole.
fn split_being(name: &Name) -> Option<(Name, Name)> {
    let (subject, state) = name.text.split_once(" is ").or_else(|| name.text.split_once(" are "))?;
    Some(pair(name, subject, state))
}

/// `blower fails`: the last word tells what befalls the rest.
pub(super) fn split_last(words: &Name) -> (Name, Name) {
    let (subject, state) = words.text.rsplit_once(' ').unwrap_or((&words.text, ""));
    pair(words, subject, state)
}

fn pair(whole: &Name, subject: &str, state: &str) -> (Name, Name) {
    let name = |text: &str| Name { text: text.to_owned(), span: whole.span };
    (name(subject), name(state))
}
