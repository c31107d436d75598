//! From the leaves of a line to its statement.
//!
//! In: the rule that read the line, and its leaves. Out: a statement. Must never look beyond its line.

use super::figures::{amount, date, time};
use super::leaves::Leaves;
use super::parse::Rule;
use super::sentence;
use super::tree::{Answer, Event, GripPart, PlaceKind, Statement, Target, Worn};

/// None where a number is too large, or a date is in figures that make no day.
pub(super) fn statement(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    paper(rule, leaves)
        .or_else(|| declaration(rule, leaves))
        .or_else(|| property(rule, leaves))
        .or_else(|| level(rule, leaves))
        .or_else(|| procedure(rule, leaves))
        .or_else(|| prompt(rule, leaves))
        .or_else(|| print(rule, leaves))
}

fn paper(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::policy => Statement::Policy(leaves.quote()?),
        Rule::site => Statement::Site(leaves.quote()?),
        Rule::edition => Statement::Edition(leaves.count()?),
        Rule::owner => Statement::Owner(leaves.quote()?),
        Rule::approved => Statement::Approved { by: leaves.quote()?, on: date(leaves)? },
        Rule::approval => Statement::ApprovalNeeds(leaves.count()?),
        Rule::in_force => Statement::InForce(date(leaves)?),
        Rule::review_by => Statement::ReviewBy(date(leaves)?),
        Rule::withdrawn => Statement::Withdrawn(date(leaves)?),
        Rule::replaces => Statement::Replaces(leaves.count()?),
        Rule::language => Statement::Language(leaves.name()?),
        Rule::uses => Statement::Use(leaves.quote()?),
        _ => return None,
    })
}

fn declaration(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::source => Statement::Source { name: leaves.name()?, title: leaves.quote()? },
        Rule::from => Statement::From(leaves.quote()?),
        Rule::dated => Statement::Dated(leaves.name()?),
        Rule::page => Statement::Page(leaves.name()?),
        Rule::link => Statement::Link(leaves.quote()?),
        Rule::hazard => Statement::Hazard(leaves.name()?),
        Rule::spreads => Statement::SpreadsBy(leaves.names()),
        Rule::place => {
            let kind = if leaves.has(Rule::kw_clean) {
                PlaceKind::Clean
            } else if leaves.has(Rule::kw_contaminated) {
                PlaceKind::Contaminated
            } else if leaves.has(Rule::kw_putting) || leaves.has(Rule::kw_donning) {
                PlaceKind::ForPuttingOn
            } else {
                PlaceKind::ForTakingOff
            };
            Statement::Place { name: leaves.name()?, kind }
        }
        Rule::way => Statement::Way(leaves.names()),
        Rule::role => Statement::Role(leaves.name()?),
        Rule::helps => Statement::Helps(leaves.name()?),
        Rule::watches => Statement::Watches,
        Rule::leads => Statement::Leads,
        Rule::item => Statement::Item { name: leaves.name()?, printed: leaves.quote() },
        Rule::surface => Statement::Surface(leaves.name()?),
        Rule::cleaner => Statement::Cleaner { name: leaves.name()?, printed: leaves.quote() },
        Rule::container => Statement::Container { name: leaves.name()?, printed: leaves.quote() },
        _ => return None,
    })
}

fn property(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::covers => Statement::Covers(leaves.names()),
        Rule::goes if leaves.has(Rule::kw_over) => Statement::GoesOver(leaves.names()),
        Rule::goes => Statement::GoesTo(leaves.name()?),
        Rule::tucks => Statement::TucksInto(leaves.names()),
        Rule::grip => Statement::Grip(grip_parts(leaves)?),
        Rule::holds if leaves.has(Rule::kw_down) => Statement::HoldsDown(leaves.names()),
        Rule::holds => Statement::Holds(amount(leaves)?),
        Rule::connects => Statement::ConnectsTo(leaves.names()),
        Rule::meets => Statement::Meets(leaves.quote()?),
        Rule::picture => Statement::Picture(leaves.quote()?),
        Rule::needs => Statement::NeedsFitTest,
        Rule::single => Statement::SingleUse,
        Rule::reused => Statement::ReusedAfter(leaves.names()),
        Rule::sharp => Statement::Sharp,
        Rule::fills => Statement::Fills(amount(leaves)?),
        Rule::runs => Statement::RunsFor(time(leaves)?),
        Rule::worn => Statement::WornBeneath,
        Rule::counted if leaves.has(Rule::kw_pairs) => Statement::Pairs(leaves.count()?),
        Rule::counted => Statement::Copies { count: leaves.count()?, place: leaves.quote() },
        Rule::sizes => Statement::Sizes(leaves.names()),
        Rule::stands => Statement::StandsIn(leaves.name()?),
        Rule::laid => Statement::LaidIn(leaves.name()?),
        Rule::starts if leaves.has(Rule::kw_clean) => Statement::StartsClean,
        Rule::starts => Statement::StartsContaminated,
        Rule::for_purpose if leaves.has(Rule::kw_hands) => Statement::ForHands,
        Rule::for_purpose if leaves.has(Rule::kw_surfaces) => Statement::ForSurfaces,
        Rule::for_purpose => Statement::ContainerFor(leaves.name()?),
        Rule::strength => Statement::Strength(amount(leaves)?),
        Rule::wet => Statement::WetFor(time(leaves)?),
        Rule::not_on => Statement::NotOnVisibleSoil,
        Rule::worth => Statement::Worth(leaves.count()?),
        _ => return None,
    })
}

fn grip_parts(leaves: &mut Leaves) -> Option<Vec<GripPart>> {
    let mut parts = Vec::new();
    leaves.take(Rule::kw_grip);
    while leaves.first().is_some() {
        let part = leaves.name()?;
        let on = if leaves.take(Rule::kw_on) { leaves.name() } else { None };
        parts.push(GripPart { part, on });
    }
    Some(parts)
}

fn level(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::level => Statement::Level { name: leaves.name()?, against: leaves.names() },
        Rule::keep if leaves.has(Rule::kw_covered) => Statement::KeepCovered(leaves.names()),
        Rule::keep => Statement::KeepAway { what: leaves.name()?, touches: leaves.count()?, slips: 0 },
        Rule::even => {
            let slips = u8::try_from(leaves.count()?.value).unwrap_or(u8::MAX);
            Statement::KeepAway { what: leaves.name()?, touches: leaves.count()?, slips }
        }
        Rule::assume if leaves.has(Rule::kw_fronts) => Statement::AssumeFronts,
        Rule::assume => Statement::AssumeEverything,
        Rule::stay => Statement::StayNoLonger(time(leaves)?),
        Rule::house if leaves.has(Rule::kw_needs) => Statement::Needs(leaves.name()?),
        Rule::house => Statement::Forbids(leaves.name()?),
        Rule::choice => Statement::ChoiceOfLevel,
        Rule::ask => Statement::Ask { name: leaves.name()?, question: leaves.quote()? },
        Rule::answers => {
            let mut answers = Vec::new();
            while !leaves.take(Rule::kw_gives) {
                let leaf = leaves.next()?;
                if matches!(leaf.rule, Rule::kw_yes | Rule::kw_no) {
                    answers.push(Answer { yes: leaf.rule == Rule::kw_yes, question: leaves.name()? });
                }
            }
            Statement::Gives { answers, level: leaves.name()? }
        }
        _ => return None,
    })
}

fn procedure(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::sequence => Statement::Sequence { title: leaves.quote()?, level: leaves.name()?, place: leaves.name() },
        Rule::contingency => Statement::Contingency { title: leaves.quote()?, event: event(leaves)? },
        Rule::part => Statement::Part(leaves.quote()?),
        Rule::hold => Statement::Hold(leaves.quote()?),
        Rule::if_not if leaves.has(Rule::kw_start) => Statement::IfNotStart(leaves.quote()?),
        Rule::if_not => Statement::IfNotGoBack(leaves.quote()?),
        Rule::if_so => {
            leaves.take(Rule::kw_if);
            Statement::If(sentence::condition(leaves)?)
        }
        Rule::otherwise if leaves.has(Rule::kw_gives) => Statement::OtherwiseGives(leaves.name()?),
        Rule::otherwise => Statement::Otherwise,
        Rule::end_if => Statement::EndIf,
        Rule::then if leaves.has(Rule::kw_start) => Statement::ThenStart(leaves.quote()?),
        Rule::then => Statement::ThenCarryOn,
        Rule::spoken => return spoken(leaves),
        _ => return None,
    })
}

fn event(leaves: &mut Leaves) -> Option<Event> {
    let claim = sentence::claim(leaves)?;
    let (subject, state) = match (claim.subject, claim.state) {
        (Some(subject), Some(state)) => (subject, state),
        _ => sentence::split_last(&claim.words),
    };
    Some(Event { words: claim.words, subject, state })
}

fn spoken(leaves: &mut Leaves) -> Option<Statement> {
    let who = leaves.name()?;
    Some(match leaves.first()?.rule {
        Rule::kw_wears => Statement::Wears { role: who, items: kit(leaves)? },
        Rule::kw_confirms => Statement::Confirms { role: who, what: leaves.quote()? },
        Rule::kw_outranks => Statement::Outranks { higher: who, lower: leaves.name()? },
        _ => Statement::Step(sentence::sentence(who, leaves)?),
    })
}

fn kit(leaves: &mut Leaves) -> Option<Vec<Worn>> {
    let mut items = Vec::new();
    leaves.next();
    while let Some(leaf) = leaves.first() {
        let pairs = if leaf.rule == Rule::number { Some(leaves.count()?) } else { None };
        items.push(Worn { pairs, item: leaves.name()? });
        leaves.take(Rule::and_comma);
    }
    Some(items)
}

fn prompt(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::say => Statement::Say(leaves.quote()?),
        Rule::look_for => Statement::LookFor(leaves.quote()?),
        Rule::stop_if => Statement::StopIf(leaves.quote()?),
        Rule::caution => Statement::Caution(leaves.quote()?),
        Rule::warning => Statement::Warning(leaves.quote()?),
        Rule::danger => Statement::Danger(leaves.quote()?),
        Rule::because => Statement::Because { reason: leaves.quote()?, source: leaves.name() },
        Rule::takes => Statement::Takes(time(leaves)?),
        _ => return None,
    })
}

fn print(rule: Rule, leaves: &mut Leaves) -> Option<Statement> {
    Some(match rule {
        Rule::print if leaves.has(Rule::kw_as) => Statement::PrintAs(leaves.quote()?),
        Rule::print => {
            let kind = leaves.name()?;
            let of = match leaves.list.last() {
                Some(last) if last.rule == Rule::quote => Target::Title(leaves.quote()?),
                Some(_) => Target::Name(leaves.name()?),
                None => Target::Nothing,
            };
            Statement::Print { kind, of }
        }
        Rule::on_paper => Statement::OnPaper(leaves.name()?),
        Rule::read_from => Statement::ReadFrom(amount(leaves)?),
        Rule::laminated => Statement::Laminated,
        Rule::both => Statement::BothSides,
        Rule::accept => Statement::Accept {
            finding: leaves.name()?,
            at: leaves.quote()?,
            because: leaves.quote()?,
            until: date(leaves)?,
        },
        Rule::differ => Statement::Differ { at: leaves.quote()?, because: leaves.quote()?, source: leaves.name() },
        _ => return None,
    })
}
