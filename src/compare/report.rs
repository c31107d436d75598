//! A comparison in plain sentences, for the terminal and for pipes: headings, each with its items.
//!
//! In: a comparison. Out: [`Section`]s, what weakens protection first. Must never leave out a change, nor sum one up that weakens.

use super::acting::{Acting, AidState};
use super::change::{Change, Weight};
use super::choosing::Combination;
use super::consequences::{Approached, Consequences, Range, Timed, Told};
use super::{Comparison, Edition};
use crate::policy::Seconds;

pub struct Section {
    pub heading: String,
    pub items: Vec<String>,
}

pub fn report(comparison: &Comparison) -> Vec<Section> {
    let mut sections = vec![
        section("Compared:", vec![edition("Before", &comparison.old), edition("Now", &comparison.new)]),
        section(&comparison.headline, counts(comparison)),
        section("WEAKENS PROTECTION", weakens(comparison)),
        section("Strengthens protection, as a consequence:", strengthens(&comparison.consequences)),
        section("Other answers, other levels:", choices(&comparison.consequences, Weight::ChangesPractice)),
        section("Findings that stay:", unchanged(&comparison.consequences)),
        section("Time:", comparison.consequences.times.iter().filter_map(timed).collect()),
        section("Kit for one entry:", kit(&comparison.consequences)),
    ];
    for (weight, heading) in [
        (Weight::Strengthens, "Strengthens protection:"),
        (Weight::ChangesPractice, "Changes practice:"),
        (Weight::Editorial, "Editorial:"),
    ] {
        sections.push(section(heading, of_weight(comparison, weight)));
    }
    sections.extend(acting(&comparison.acting));
    let mut not_looked_at = comparison.consequences.not_looked_at.clone();
    if comparison.acting.copies.is_none() && comparison.weight.is_some() {
        not_looked_at.push("Which copies are out: no print register was given.".to_owned());
    }
    sections.push(section("Not looked at:", not_looked_at));
    sections.retain(|section| !section.items.is_empty());
    sections
}

/// What departs from a reference: each deviation with the reason that the local policy gives. Document control, sources and
/// printing are each policy's own.
pub fn deviations(comparison: &Comparison) -> Vec<Section> {
    use super::view::Kind;
    let own = |change: &&Change| !matches!(change.kind, Kind::Paper | Kind::Source | Kind::Print | Kind::Deviation);
    let (acted, editorial): (Vec<&Change>, Vec<&Change>) =
        comparison.changes.iter().filter(own).partition(|change| change.weight != Weight::Editorial);
    let told = |change: &Change| {
        let reason = change.reason.as_deref().unwrap_or("no reason given");
        format!("{} Weight: {}. Reason: {reason}", change.sentence, change.weight.words())
    };
    let mut changes: Vec<String> = acted.into_iter().map(told).collect();
    let heading = match changes.len() {
        0 => "The local policy does not depart from the reference.".to_owned(),
        1 => "The local policy departs from the reference in one place:".to_owned(),
        many => format!("The local policy departs from the reference in {many} places:"),
    };
    if !editorial.is_empty() {
        changes.push(format!("{} more in headings, reasons and signs, which change no step.", editorial.len()));
    }
    let compared = vec![edition("Reference", &comparison.old), edition("Local", &comparison.new)];
    let mut sections = vec![section("Compared:", compared), Section { heading, items: changes }];
    let consequences = &comparison.consequences;
    let nearer = consequences.approaches.iter().filter(|each| each.weight == Weight::Weakens).map(approached);
    let findings = consequences.findings.new.iter().filter(|told| told.weight().is_some()).map(new_finding);
    sections.push(section("What that does to protection:", findings.chain(nearer).collect()));
    let idle = comparison.idle_reasons.iter().map(|at| format!("“{at}”."));
    sections.push(section("Reasons are given where nothing departs:", idle.collect()));
    sections.push(section("Not looked at:", consequences.not_looked_at.clone()));
    sections.retain(|section| !section.items.is_empty() || section.heading.starts_with("The local"));
    sections
}

fn section(heading: &str, items: Vec<String>) -> Section {
    Section { heading: heading.to_owned(), items }
}

fn edition(which: &str, edition: &Edition) -> String {
    let number = edition.edition.map_or("no edition number".to_owned(), |number| format!("edition {number}"));
    let title = edition.title.as_deref().unwrap_or("no title");
    format!("{which}: {title}, {number}, fingerprint {}, {} ({})", edition.fingerprint, edition.standing, edition.file)
}

fn counts(comparison: &Comparison) -> Vec<String> {
    let told = comparison.counts.told().into_iter().filter(|(count, _)| *count > 0);
    let told: Vec<String> = told.map(|(count, words)| format!("{count} {words}")).collect();
    if told.is_empty() { vec!["Both editions say the same.".to_owned()] } else { vec![format!("{}.", told.join(", "))] }
}

fn weakens(comparison: &Comparison) -> Vec<String> {
    let consequences = &comparison.consequences;
    let findings = consequences.findings.new.iter().filter(|told| told.weight().is_some()).map(new_finding);
    let nearer = consequences.approaches.iter().filter(|each| each.weight == Weight::Weakens).map(approached);
    let levels = choices(consequences, Weight::Weakens);
    findings.chain(nearer).chain(levels).chain(of_weight(comparison, Weight::Weakens)).collect()
}

fn of_weight(comparison: &Comparison, weight: Weight) -> Vec<String> {
    comparison.changes.iter().filter(|change| change.weight == weight).map(changed).collect()
}

/// The line, and the rule that gave its weight.
pub fn changed(change: &Change) -> String {
    match change.weight {
        Weight::Editorial => change.sentence.clone(),
        _ => format!("{} [{}: {}]", change.sentence, change.rule.name, change.rule.says),
    }
}

/// A finding that the old edition did not have, with the way of the hazard.
pub fn new_finding(told: &Told) -> String {
    let case = if told.case.is_empty() { String::new() } else { format!(" When {}.", told.case.join(" and ")) };
    let chain = if told.chain.is_empty() { String::new() } else { format!(" {}", told.chain.join(" ")) };
    format!(
        "New finding, {} {}: {}. At: {}. {}{case}{chain}",
        told.signal.word(),
        told.name,
        told.title,
        told.line,
        told.message
    )
}

/// `High, wearer, hands: 6, 5, 4 touches away before, 5, 4, 4 now`
pub fn approached(approach: &Approached) -> String {
    let far = |touches: &[Option<u16>; 3]| {
        let words = touches.iter().map(|each| each.map_or("out of reach".to_owned(), |touches| touches.to_string()));
        words.collect::<Vec<_>>().join(", ")
    };
    let nearer = if approach.weight == Weight::Weakens { "comes nearer to" } else { "stays farther from" };
    let case = if approach.case.is_empty() { String::new() } else { format!(" When {}.", approach.case.join(" and ")) };
    let chain = if approach.chain.is_empty() { String::new() } else { format!(" {}", approach.chain.join(" ")) };
    format!(
        "{}: the hazard {nearer} the {}'s {}: {} before, {} now (touches as planned, after one slip, after two).{case}{chain}",
        approach.level,
        approach.who,
        approach.reached,
        far(&approach.before),
        far(&approach.after)
    )
}

fn strengthens(consequences: &Consequences) -> Vec<String> {
    let gone = consequences.findings.gone.iter().map(|told| {
        format!("No longer found, {} {}: {}. At: {}.", told.signal.word(), told.name, told.title, told.line)
    });
    let farther = consequences.approaches.iter().filter(|each| each.weight == Weight::Strengthens).map(approached);
    gone.chain(farther).chain(choices(consequences, Weight::Strengthens)).collect()
}

fn choices(consequences: &Consequences, weight: Weight) -> Vec<String> {
    consequences.choice.combinations.iter().filter(|each| each.weight == weight).map(combination).collect()
}

/// `With yes to airborne: level Room before, Door now.`
pub fn combination(each: &Combination) -> String {
    let with = if each.answers.is_empty() {
        "Whatever is answered".to_owned()
    } else {
        format!("With {}", each.answers.join(" and "))
    };
    let level = |level: &Option<String>| level.as_ref().map_or("no level".to_owned(), |level| format!("level {level}"));
    format!("{with}: {} before, {} now.", level(&each.before), level(&each.after))
}

fn unchanged(consequences: &Consequences) -> Vec<String> {
    let findings = &consequences.findings;
    let told = |told: &Told, how: &str| {
        let reason = told.accepted.as_ref().map(|why| format!(" Because: {why}.")).unwrap_or_default();
        format!("{how}{} {}: {}. At: {}.{reason}", told.signal.word(), told.name, told.title, told.line)
    };
    let lesser = findings.new.iter().filter(|each| each.weight().is_none()).map(|each| told(each, "New: "));
    let newly = findings.newly_accepted.iter().map(|each| told(each, "Accepted now: "));
    let lapsed = findings.no_longer_accepted.iter().map(|each| told(each, "No longer accepted: "));
    lesser.chain(newly).chain(lapsed).chain(findings.unchanged.iter().map(|each| told(each, ""))).collect()
}

/// Nothing where no time is written or none changed.
pub fn timed(timed: &Timed) -> Option<String> {
    let range = |range: Range| {
        let (shortest, longest) = (Seconds(range.shortest_seconds), Seconds(range.longest_seconds));
        if shortest == longest { longest.to_string() } else { format!("{shortest} to {longest}") }
    };
    let mut told = Vec::new();
    if timed.before != timed.after {
        let [before, after] = [timed.before, timed.after].map(|time| time.map_or("no time written".to_owned(), range));
        told.push(format!("takes {before} before, {after} now"));
    }
    if timed.read_aloud_before != timed.read_aloud_after {
        let time = |time: Option<u32>| time.map_or("not read aloud".to_owned(), |time| Seconds(time).to_string());
        let (before, after) = (time(timed.read_aloud_before), time(timed.read_aloud_after));
        told.push(format!("its card takes {before} to read aloud before, {after} now"));
    }
    (!told.is_empty()).then(|| format!("“{}” {}.", timed.sequence, told.join("; ")))
}

fn kit(consequences: &Consequences) -> Vec<String> {
    let changed = consequences.kit.iter().filter(|counted| counted.before != counted.after);
    changed
        .map(|each| format!("{}, {}: {} {} before, {} now.", each.level, each.role, each.item, each.before, each.after))
        .collect()
}

/// Names in one item: of each there is nothing more to tell.
fn together(names: &[String]) -> Vec<String> {
    if names.is_empty() { Vec::new() } else { vec![format!("{}.", names.join("; "))] }
}

fn acting(acting: &Acting) -> Vec<Section> {
    let aids = |state: AidState| -> Vec<String> {
        acting.aids.iter().filter(|aid| aid.state == state).map(|aid| aid.aid.clone()).collect()
    };
    let copies = acting.copies.iter().flatten();
    let copies = copies.map(|each| {
        let numbers = if each.copies.len() == 1 { "copy" } else { "copies" };
        let place = if each.place.is_empty() { "no place written" } else { &each.place };
        format!("{}, edition {}, {place}: {numbers} {}.", each.aid, each.edition, each.copies.join(", "))
    });
    let roles = acting.roles.iter().map(|each| format!("{}: {}.", each.role, each.on.join(", ")));
    let trolleys = acting
        .trolleys
        .iter()
        .flat_map(|each| each.items.iter().map(|item| format!("{}: {item}.", each.level)).collect::<Vec<_>>());
    let words = acting.translations.iter().map(|each| format!("{} ({}).", each.file, each.language));
    vec![
        section("Print anew, other steps or words:", aids(AidState::Changed)),
        section("Print for the first time:", aids(AidState::New)),
        section("Take down, nothing takes their place:", aids(AidState::Gone)),
        section("Print anew, only edition and fingerprint differ:", together(&aids(AidState::SameSteps))),
        section("Recall, by the print register:", copies.collect()),
        section("Brief again:", roles.collect()),
        section("Assess competence again:", acting.competences.iter().map(|title| format!("“{title}”.")).collect()),
        section("Restock trolleys:", trolleys.collect()),
        section("Translations that go stale:", words.collect()),
    ]
}
