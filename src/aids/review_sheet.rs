//! The review sheet: two editions for those who sign.
//!
//! In: a comparison. Out: a [`Review`], in English. Must never leave out a place in which protection is weaker, nor say whether
//! to sign.

use super::plan::{
    FormField, Review, ReviewCells, ReviewColumn, ReviewCount, ReviewPair, ReviewPoint, ReviewRow, ReviewSection,
    Signing, Told,
};
use crate::compare::acting::AidState;
use crate::compare::consequences::{Approached, Findings, Told as Finding};
use crate::compare::sides::{Mark, Row, Sides};
use crate::compare::{Change, Comparison, Edition, Weight, report};

/// What no comparison of words can see.
const NEVER_LOOKED_AT: &str = "Whether people, kit and rooms are as the policies say: only their words are compared.";

pub fn review(comparison: &Comparison) -> Review {
    let (old, new) = (&comparison.old, &comparison.new);
    let weaker = comparison.counts.weakens;
    let editions = [("Before", old), ("Now", new)].map(|(when, edition)| format!("{when}: {}", numbered(edition)));
    let mut sections = weaker_sections(comparison);
    sections.extend(tables(comparison));
    sections.extend(others(comparison));
    sections.push(acting(comparison));
    let unseen = comparison.consequences.not_looked_at.iter().map(String::as_str);
    sections.push(points("Not looked at", unseen.chain([NEVER_LOOKED_AT]).map(point)));
    sections.push(rules(comparison));
    sections.extend(comparison.sides.iter().enumerate().map(|(at, sides)| side_by_side(sides, &editions, at == 0)));
    sections.retain(|section| !section.rows.is_empty());
    Review {
        purpose: "For the committee. Nobody works by this sheet.".to_owned(),
        control: control(old, new),
        fingerprints: format!("{}: {} · {}: {}", numbered(old), old.fingerprint, numbered(new), new.fingerprint),
        editions,
        headline: comparison.headline.clone(),
        is_weaker: weaker > 0,
        counts: counts(comparison),
        all_here: match weaker {
            0 => String::new(),
            1 => "It stands on this page.".to_owned(),
            many => format!("All {many} stand on this page."),
        },
        more_follow: if weaker == 0 {
            String::new()
        } else {
            format!("{{here}} of {weaker} stand on this page. {{more}} follow: read them before you sign.")
        },
        sections,
        signing: signing(old, new),
    }
}

/// `edition 2`
fn numbered(edition: &Edition) -> String {
    edition.edition.map_or_else(|| "edition without a number".to_owned(), |number| format!("edition {number}"))
}

fn control(old: &Edition, new: &Edition) -> Vec<Told> {
    let told = |label: &str, of: fn(&Edition) -> Option<String>| Told {
        label: label.to_owned(),
        both: [old, new].map(|edition| of(edition).unwrap_or_else(|| "not given".to_owned())),
    };
    let mut all = vec![
        told("Title", |edition| edition.title.clone()),
        told("Site", |edition| edition.site.clone()),
        told("Fingerprint", |edition| Some(edition.fingerprint.clone())),
        told("Stands as", |edition| Some(edition.standing.to_owned())),
        told("Approved", |edition| edition.approved.clone()),
        told("In force from", |edition| edition.in_force_from.clone()),
        told("Review by", |edition| edition.review_by.clone()),
        told("Owner", |edition| edition.owner.clone()),
        told("File", |edition| Some(edition.file.clone())),
    ];
    // What both say alike stands in the title already.
    all.retain(|told| !matches!(told.label.as_str(), "Title" | "Site") || told.both[0] != told.both[1]);
    all
}

fn counts(comparison: &Comparison) -> Vec<ReviewCount> {
    comparison.counts.told().map(|(number, words)| ReviewCount { number, words: words.to_owned() }).into()
}

/// Every place in which protection is weaker: what was written otherwise, and what follows from it.
fn weaker_sections(comparison: &Comparison) -> Vec<ReviewSection> {
    let consequences = &comparison.consequences;
    let changes = of_weight(comparison, Weight::Weakens).map(|change| {
        let rule = format!("Rule “{}”: {}", change.rule.name, change.rule.says);
        let reason = match &change.reason {
            Some(reason) => format!("The policy’s reason: {reason}"),
            None => "No reason given.".to_owned(),
        };
        weaker(ReviewPoint { words: change.sentence.clone(), details: vec![format!("{reason} {rule}")], weaker: 1 })
    });
    let findings = consequences.findings.new.iter().filter(|told| told.weight().is_some()).map(new_finding);
    let mut sections =
        vec![points("Weakens protection", changes), points("What the check now finds", findings), nearer(comparison)];
    sections.push(levels(comparison));
    for section in &mut sections {
        section.is_weaker = section.rows.iter().any(|row| row.weaker() > 0);
    }
    sections
}

fn weaker(point: ReviewPoint) -> ReviewRow {
    ReviewRow::Point(ReviewPoint { weaker: 1, ..point })
}

fn new_finding(told: &Finding) -> ReviewRow {
    let case = if told.case.is_empty() { String::new() } else { format!(" When {}.", told.case.join(" and ")) };
    let words = format!("{}: {}. At: {}.", told.signal.word(), told.title, told.line);
    let way = (!told.chain.is_empty()).then(|| told.chain.join(" "));
    let details = [Some(format!("{}{case} Rule “{}”.", told.message, told.name)), way];
    weaker(ReviewPoint { words, details: details.into_iter().flatten().collect(), weaker: 1 })
}

/// The nearest approaches that differ; surfaces of one person of which the figures are the same stand in one row.
fn nearer(comparison: &Comparison) -> ReviewSection {
    let differs = |each: &&Approached| each.weight != Weight::Editorial;
    let mut groups: Vec<Vec<&Approached>> = Vec::new();
    for approach in comparison.consequences.approaches.iter().filter(differs) {
        let like = |group: &&mut Vec<&Approached>| {
            let key = |of: &Approached| (of.level.clone(), of.who.clone(), of.before, of.after);
            group.first().is_some_and(|first| key(first) == key(approach))
        };
        match groups.iter_mut().find(like) {
            Some(group) => group.push(approach),
            None => groups.push(vec![approach]),
        }
    }
    let far = |touches: &[Option<u16>; 3]| {
        touches.map(|each| each.map_or("out of reach".to_owned(), |touches| touches.to_string())).join(", ")
    };
    let row = |group: Vec<&Approached>| {
        let first = group[0];
        let is_weaker = first.weight == Weight::Weakens;
        let case = if first.case.is_empty() { String::new() } else { format!("When {}. ", first.case.join(" and ")) };
        let way = if is_weaker { format!("{case}{}", first.chain.join(" ")) } else { String::new() };
        let reached: Vec<&str> = group.iter().map(|each| each.reached.as_str()).collect();
        let comes = if is_weaker { "nearer" } else { "farther" };
        ReviewRow::Cells(ReviewCells {
            cells: vec![
                format!("{}, {}: {}", first.level, first.who, reached.join(", ")),
                far(&first.before),
                far(&first.after),
                comes.to_owned(),
            ],
            detail: way,
            weaker: if is_weaker { group.len() } else { 0 },
        })
    };
    ReviewSection {
        note: "In touches: as planned, after one slip, after two.".to_owned(),
        ..table(
            "How near the hazard comes",
            &[("Level, person, skin", 8), ("Before", 3), ("Now", 3), ("Comes", 3)],
            groups.into_iter().map(row),
        )
    }
}

fn levels(comparison: &Comparison) -> ReviewSection {
    let level = |level: &Option<String>| level.clone().unwrap_or_else(|| "no level".to_owned());
    let combinations = comparison.consequences.choice.combinations.iter();
    let rows = combinations.map(|each| {
        let answers = if each.answers.is_empty() { "whatever is answered".to_owned() } else { each.answers.join(", ") };
        let weaker = usize::from(each.weight == Weight::Weakens);
        let cells = vec![answers, level(&each.before), level(&each.after), each.weight.words().to_owned()];
        ReviewRow::Cells(ReviewCells { cells, detail: String::new(), weaker })
    });
    let columns = [("With these answers", 9), ("Before", 3), ("Now", 3), ("", 4)];
    table("Answers that give another level", &columns, rows)
}

/// What else follows, in figures.
fn tables(comparison: &Comparison) -> Vec<ReviewSection> {
    let consequences = &comparison.consequences;
    let changed = consequences.kit.iter().filter(|each| each.before != each.after);
    let kit = changed.map(|each| {
        let of = format!("{}, {}: {}", each.level, each.role, each.item);
        cells(vec![of, each.before.to_string(), each.after.to_string()])
    });
    vec![
        found(&consequences.findings),
        points("Time", consequences.times.iter().filter_map(report::timed).map(|told| point(&told))),
        table("Kit for one entry", &[("Level, person, item", 9), ("Before", 2), ("Now", 2)], kit),
    ]
}

fn found(findings: &Findings) -> ReviewSection {
    let told = [
        ("New", &findings.new),
        ("Gone", &findings.gone),
        ("Accepted now", &findings.newly_accepted),
        ("No longer accepted", &findings.no_longer_accepted),
        ("In both", &findings.unchanged),
    ];
    let rows = told.into_iter().filter(|(_, list)| !list.is_empty()).map(|(label, list)| {
        let titles: Vec<String> = list.iter().map(|told| format!("{} {}", told.signal.word(), told.title)).collect();
        cells(vec![label.to_owned(), list.len().to_string(), titles.join("; ")])
    });
    table("Findings of the check", &[("", 3), ("How many", 2), ("Which", 13)], rows)
}

/// What does not weaken protection, a line each.
fn others(comparison: &Comparison) -> Vec<ReviewSection> {
    let told = |change: &Change| {
        let reason = change.reason.as_ref().filter(|_| change.weight != Weight::Editorial);
        let details = reason.map(|reason| format!("The policy’s reason: {reason}")).into_iter().collect();
        let words = format!("{} [{}]", change.sentence, change.rule.name);
        ReviewRow::Point(ReviewPoint { words, details, weaker: 0 })
    };
    let of = |title, weight| points(title, of_weight(comparison, weight).map(told));
    vec![
        of("Strengthens protection", Weight::Strengthens),
        of("Changes practice: people have to be briefed", Weight::ChangesPractice),
        of("Editorial", Weight::Editorial),
    ]
}

fn acting(comparison: &Comparison) -> ReviewSection {
    let acting = &comparison.acting;
    let aids = |state: AidState| -> Vec<String> {
        acting.aids.iter().filter(|aid| aid.state == state).map(|aid| aid.aid.clone()).collect()
    };
    let copies = acting.copies.iter().flatten().map(|each| {
        let place = if each.place.is_empty() { "no place written" } else { &each.place };
        format!("{}, edition {}, {place}: {}", each.aid, each.edition, each.copies.join(", "))
    });
    let copies = match acting.copies {
        Some(_) => copies.collect(),
        None => vec!["every copy of the old edition; no print register was given".to_owned()],
    };
    let told: [(&str, Vec<String>); 8] = [
        ("Print anew", aids(AidState::Changed)),
        ("Print for the first time", aids(AidState::New)),
        ("Take down for good", aids(AidState::Gone)),
        ("Print anew: only edition and dates differ", aids(AidState::SameSteps)),
        ("Recall", if comparison.weight.is_some() { copies } else { Vec::new() }),
        ("Brief", acting.roles.iter().map(|each| format!("{} on {}", each.role, each.on.join(", "))).collect()),
        ("Assess again", acting.competences.iter().map(|title| format!("“{title}”")).collect()),
        ("Translate anew", acting.translations.iter().map(|each| each.file.clone()).collect()),
    ];
    let trolleys = acting.trolleys.iter().map(|each| format!("{}: {}", each.level, each.items.join("; ")));
    let told = told.into_iter().chain([("Restock trolleys", trolleys.collect())]);
    let rows = told.filter(|(_, what)| !what.is_empty());
    table(
        "Who must act",
        &[("What", 4), ("Which, who", 14)],
        rows.map(|(label, what)| cells(vec![label.to_owned(), what.join("; ")])),
    )
}

/// The rules that stand in brackets, each once.
fn rules(comparison: &Comparison) -> ReviewSection {
    let mut rules: Vec<_> = Vec::new();
    for change in comparison.changes.iter().filter(|change| change.weight != Weight::Weakens) {
        if !rules.contains(&change.rule) {
            rules.push(change.rule);
        }
    }
    let told: Vec<String> = rules.iter().map(|rule| format!("[{}] {}", rule.name, rule.says)).collect();
    points("The rules in brackets", (!told.is_empty()).then(|| point(&told.join(" "))).into_iter())
}

fn side_by_side(sides: &Sides, editions: &[String; 2], begins: bool) -> ReviewSection {
    let columns = editions.iter().map(|edition| ReviewColumn { label: edition.clone(), share: 1 }).collect();
    let rows = sides.rows.iter().map(|row| ReviewRow::Pair(Box::new(pair(row, &sides.rows)))).collect();
    let title = format!("“{}”, side by side", sides.title);
    ReviewSection { title, note: String::new(), columns, rows, is_weaker: false, begins }
}

fn pair(row: &Row, rows: &[Row]) -> ReviewPair {
    let marks = match row.mark {
        Mark::Same => ["", ""],
        Mark::Changed => ["", "Changed"],
        Mark::Added => ["", "New"],
        Mark::TakenOut => ["Taken out", ""],
        Mark::MovedFrom => ["Moved", ""],
        Mark::MovedTo => ["", "Moved"],
    };
    let is_weaker = row.weight == Some(Weight::Weakens);
    let marks =
        marks.map(|mark| if is_weaker && !mark.is_empty() { format!("{mark}, weaker") } else { mark.to_owned() });
    let other = row.other_end.and_then(|at| rows.get(at));
    let (way, end) = match row.mark {
        Mark::MovedFrom => ("to", other.and_then(|other| other.new.as_ref())),
        _ => ("from", other.and_then(|other| other.old.as_ref())),
    };
    // What has no number stands before the next that has one.
    let next = || {
        let after = rows.get(row.other_end? + 1..)?;
        after.iter().find_map(|row| if way == "to" { row.new.as_ref()?.number } else { row.old.as_ref()?.number })
    };
    let moved = match (end, end.and_then(|end| end.number)) {
        (None, _) => String::new(),
        (Some(_), Some(number)) => format!("Moved {way} step {number}"),
        (Some(_), None) => match next() {
            Some(number) => format!("Moved {way} before step {number}"),
            None => format!("Moved {way} the end"),
        },
    };
    let elsewhere = if moved.is_empty() { String::new() } else { ", page {page}".to_owned() };
    ReviewPair { row: row.clone(), marks, moved, elsewhere }
}

fn signing(old: &Edition, new: &Edition) -> Signing {
    let own = str::to_owned;
    let field = |label: &str, value: Option<String>, tall: bool| FormField {
        label: own(label),
        value: value.unwrap_or_default(),
        share: 1,
        tall,
    };
    Signing {
        title: own("Signatures"),
        statement: vec![
            format!(
                "Who signs here has read this sheet, above all what weakens protection, and stands by {} as it is.",
                numbered(new)
            ),
            own(
                "A signature is for the fingerprint beneath. Change one word of what it says, and the fingerprint is another.",
            ),
        ],
        fingerprints: [old, new]
            .map(|edition| [format!("Fingerprint of {}", numbered(edition)), edition.fingerprint.clone()])
            .into(),
        how: format!("To compare: anteroom check {}", new.file),
        columns: ["Name", "Role", "Date", "Signature"].map(own),
        rows: ["Consulted", "Consulted", "Approved", "Ratified"].map(own).into(),
        decisions: ["Approved as it is", "Approved once changed as written here", "Not approved"].map(own).into(),
        fields: vec![field("To be changed", None, true), field("Next review", new.review_by.clone(), false)],
    }
}

fn of_weight(comparison: &Comparison, weight: Weight) -> impl Iterator<Item = &Change> {
    comparison.changes.iter().filter(move |change| change.weight == weight)
}

fn point(words: &str) -> ReviewRow {
    ReviewRow::Point(ReviewPoint { words: words.to_owned(), details: Vec::new(), weaker: 0 })
}

fn cells(cells: Vec<String>) -> ReviewRow {
    ReviewRow::Cells(ReviewCells { cells, detail: String::new(), weaker: 0 })
}

fn points(title: &str, rows: impl Iterator<Item = ReviewRow>) -> ReviewSection {
    let (title, note) = (title.to_owned(), String::new());
    ReviewSection { title, note, columns: Vec::new(), rows: rows.collect(), is_weaker: false, begins: false }
}

fn table(title: &str, columns: &[(&str, u8)], rows: impl Iterator<Item = ReviewRow>) -> ReviewSection {
    let column = |&(label, share): &(&str, u8)| ReviewColumn { label: label.to_owned(), share };
    ReviewSection { columns: columns.iter().map(column).collect(), ..points(title, rows) }
}
