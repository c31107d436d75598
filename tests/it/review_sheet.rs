//! What is printed of two editions, read back by poppler and held against the comparison's own data. No outside source for what
//! the comparison says: that is `compare`'s to test.

use anteroom::aids::plan::{Aid, Body, FormRow, Review};
use anteroom::aids::plan_of_two;
use anteroom::compare::acting::AidState;
use anteroom::compare::sides::{Cell, Mark};
use anteroom::compare::{Comparison, Weight, compare};
use anteroom::policy::Day;
use anteroom::session::Checked;
use anteroom::typeset::typeset;

use crate::commands::{run, ward as ward_folder};
use crate::oracle::program;
use crate::policies::{checked, checked_text};
use crate::typeset::{Page, assert_in_order, assert_nothing_overlaps, printed, spaced};

fn day() -> Day {
    Day::new(2026, 12, 10).expect("a day")
}

/// The review sheet and the change slip of two editions, and their comparison.
fn of(old: &Checked, new: &Checked) -> ([Aid; 2], Comparison) {
    let comparison = compare(("old.ppe", old), ("new.ppe", new), None, &[]);
    let plan = plan_of_two(&comparison, old, new);
    (plan.aids.try_into().unwrap_or_else(|_| panic!("a sheet and a slip")), comparison)
}

/// Those of a pair of the demonstration.
pub fn demo(ward: &str) -> ([Aid; 2], Comparison) {
    let [old, new] = [2, 3].map(|edition| checked(&format!("policies/editions/{ward}-{edition}.ppe"), day()));
    of(&old, &new)
}

pub const WARDS: [&str; 3] = ["larch-ward", "sorrel-ward", "heron-unit"];

fn review(aid: &Aid) -> &Review {
    match &aid.body {
        Body::Review(review) => review,
        _ => panic!("a review sheet"),
    }
}

/// A ward without a date, with these lines in its one sequence.
fn ward(edition: u32, lines: &[String]) -> Checked {
    let lines: String = lines.iter().map(|line| format!("  {line}\n")).collect();
    checked_text(&format!("{}{lines}", WARD.replace("{edition}", &edition.to_string())), day())
}

const WARD: &str = r#"policy "Fern Ward"
site "Saltmarsh District Hospital"
edition {edition}
owner "Infection Prevention Nurses"

hazard gut infection
  spreads by contact

place lobby is clean

role wearer

container clinical waste "orange clinical waste bag"
  for soft clinical waste
  stands in lobby

item gloves "nitrile gloves"
  covers hands
  goes to clinical waste

level Only against gut infection
  wearer wears gloves

sequence "Walking" for Only, in lobby
"#;

fn does(what: impl std::fmt::Display) -> String {
    format!("wearer does \"{what}\"")
}

/// Every sentence of every change that weakens protection, every new finding and every nearer approach stands on the first
/// page, or the first page says how many follow; and no page is without the title, both fingerprints and its number.
fn assert_told(aid: &Aid, comparison: &Comparison) -> Page {
    let page = printed(aid);
    let first = spaced(&page.text(Some(1)));
    let all = spaced(&page.text(None));
    assert!(first.contains(&spaced(&comparison.headline)), "{first}");
    let findings = &comparison.consequences.findings.new;
    let weakening = comparison.changes.iter().filter(|change| change.weight == Weight::Weakens);
    let told: Vec<String> = weakening
        .map(|change| spaced(&change.sentence))
        .chain(findings.iter().filter(|told| told.weight().is_some()).map(|told| spaced(&told.message)))
        .collect();
    let here = told.iter().filter(|sentence| first.contains(sentence.as_str())).count();
    let nearer = comparison.consequences.approaches.iter().filter(|each| each.weight == Weight::Weakens).count();
    assert_eq!(told.len() + nearer, comparison.counts.weakens, "no level is chosen here");
    if here < told.len() {
        assert!(first.contains(&format!("{here} of {} stand on this page.", comparison.counts.weakens)), "{first}");
        assert!(first.contains(&format!("{} follow", comparison.counts.weakens - here)), "{first}");
    }
    for sentence in &told {
        assert!(all.contains(sentence.as_str()), "“{sentence}” is nowhere in {all}");
    }
    for change in &comparison.changes {
        assert!(all.contains(&spaced(&change.sentence)), "“{}” is nowhere", change.sentence);
        assert!(all.contains(change.rule.name), "rule “{}” is nowhere", change.rule.name);
    }
    for number in 1..=page.pages {
        let text = spaced(&page.text(Some(number)));
        for wanted in [&aid.title, &comparison.old.fingerprint, &comparison.new.fingerprint] {
            assert!(text.contains(wanted.as_str()), "page {number} lacks “{wanted}”");
        }
        assert!(text.contains(&format!("Page {number} of {}", page.pages)));
    }
    assert_nothing_overlaps(aid, &page);
    page
}

/// The words of a side's cells, in their order.
fn words(cell: &Cell) -> String {
    cell.words.iter().map(|piece| piece.text.as_str()).collect::<Vec<_>>().join(" ")
}

/// Every line of both editions stands in its place, row by row.
fn assert_sides(page: &Page, comparison: &Comparison) {
    let rows = comparison.sides.iter().flat_map(|sides| &sides.rows);
    let told = rows.flat_map(|row| [row.old.as_ref(), row.new.as_ref()]).flatten().map(words);
    let titles: Vec<String> = comparison.sides.iter().map(|sides| format!("“{}”, side by side", sides.title)).collect();
    let text = spaced(&page.text(None));
    let from = titles.first().map_or(0, |title| text.find(title.as_str()).expect("the first of both sides"));
    assert_in_order(&text[from..], &told.collect::<Vec<_>>());
}

#[test]
fn a_reader_of_the_first_page_knows_what_is_weaker() {
    for ward in WARDS {
        let ([sheet, _], comparison) = demo(ward);
        let page = assert_told(&sheet, &comparison);
        assert_sides(&page, &comparison);
        let first = spaced(&page.text(Some(1)));
        let weaker = comparison.counts.weakens;
        assert_eq!(weaker > 0, ward == "larch-ward");
        assert_eq!(first.contains(&format!("All {weaker} stand on this page.")), weaker > 0, "{first}");
        for count in &review(&sheet).counts {
            assert!(first.contains(&format!("{} {}", count.number, count.words)), "{first}");
        }
        let changed = comparison.acting.aids.iter().filter(|aid| aid.state == AidState::Changed);
        changed.for_each(|aid| assert!(spaced(&page.text(None)).contains(&aid.aid)));
    }
}

/// The chain of each approach that is nearer than before is told with its figures.
#[test]
fn a_nearer_approach_is_told_with_its_chain() {
    let ([sheet, _], comparison) = demo("larch-ward");
    let text = spaced(&printed(&sheet).text(None));
    let nearer: Vec<_> =
        comparison.consequences.approaches.iter().filter(|each| each.weight == Weight::Weakens).collect();
    assert!(!nearer.is_empty());
    for each in nearer {
        let figures =
            each.after.map(|touches| touches.map_or("out of reach".to_owned(), |touches| touches.to_string()));
        assert!(text.contains(&figures.join(", ")), "{figures:?}");
        assert!(text.contains(&each.reached));
    }
    let chains = review(&sheet).sections.iter().flat_map(|section| &section.rows).filter_map(|row| match row {
        anteroom::aids::plan::ReviewRow::Cells(cells) if !cells.detail.is_empty() => Some(cells.detail.clone()),
        _ => None,
    });
    for chain in chains {
        assert!(text.contains(&spaced(&chain)), "{chain}");
    }
}

/// Sixty lines that each lose their caution: more than a page holds, and none is lost.
#[test]
fn what_does_not_fit_the_first_page_is_announced_there() {
    let lines = |with: bool| -> Vec<String> {
        let caution = |at| if with { format!("\n    caution \"Mind the edge of shelf {at}.\"") } else { String::new() };
        (1..=60).map(|at| format!("{}{}", does(format!("Walk past shelf {at}")), caution(at))).collect()
    };
    let ([sheet, _], comparison) = of(&ward(1, &lines(true)), &ward(2, &lines(false)));
    assert_eq!(comparison.counts.weakens, 60);
    let page = assert_told(&sheet, &comparison);
    assert_sides(&page, &comparison);
    let first = spaced(&page.text(Some(1)));
    assert!(first.contains("follow: read them before you sign."), "{first}");
    // What weakens protection comes before all else, however many pages it takes.
    let text = spaced(&page.text(None));
    let last = text.find("Mind the edge of shelf 60.").expect("the last");
    assert!(text.find("Editorial").is_none_or(|at| at > last));
}

/// Thirteen lines in the opposite order: twelve moves, by the longest rise of one; each has an arrow of its own lane, and both
/// of its ends name each other.
#[test]
fn twelve_moves_that_cross_have_their_arrows() {
    let named =
        ["Bell", "Chair", "Door", "Ewer", "Fan", "Gate", "Hook", "Iron", "Jug", "Kettle", "Lamp", "Mat", "Nail"];
    let lines: Vec<String> = named.iter().map(|name| does(format!("Touch the {name}"))).collect();
    let turned: Vec<String> = lines.iter().rev().cloned().collect();
    let ([sheet, _], comparison) = of(&ward(1, &lines), &ward(2, &turned));
    let moved = |mark| comparison.sides[0].rows.iter().filter(|row| row.mark == mark).count();
    assert_eq!((moved(Mark::MovedFrom), moved(Mark::MovedTo)), (12, 12));
    let page = assert_told(&sheet, &comparison);
    assert_sides(&page, &comparison);
    let text = spaced(&page.text(None));
    for row in comparison.sides[0].rows.iter().filter(|row| row.mark == Mark::MovedFrom) {
        let other = &comparison.sides[0].rows[row.other_end.expect("its other end")];
        let number = other.new.as_ref().and_then(|cell| cell.number).expect("its number");
        assert!(text.contains(&format!("Moved to step {number}")), "{text}");
    }
    assert_eq!(text.matches("Moved to step").count(), 12);
    assert_eq!(text.matches("Moved from step").count(), 12);
}

/// A line that moves to another page names the page, and the page that it names has it.
#[test]
fn a_move_to_another_page_names_the_page() {
    let mut lines: Vec<String> = (1..=70).map(|at| does(format!("Walk past shelf {at}"))).collect();
    let old = ward(1, &lines);
    let first = lines.remove(0);
    lines.push(first);
    let ([sheet, _], comparison) = of(&old, &ward(2, &lines));
    let page = assert_told(&sheet, &comparison);
    let named = |number: usize, words: &str| -> Option<usize> {
        let text = spaced(&page.text(Some(number)));
        text.split(words).nth(1)?.strip_prefix(", page ")?.split_whitespace().next()?.parse().ok()
    };
    let from = (1..=page.pages).find(|&number| page.text(Some(number)).contains("Moved to step 70")).expect("it left");
    let to = (1..=page.pages).find(|&number| page.text(Some(number)).contains("Moved from step 1")).expect("it came");
    assert!(from < to);
    assert_eq!((named(from, "Moved to step 70"), named(to, "Moved from step 1")), (Some(to), Some(from)));
}

#[test]
fn two_editions_that_say_the_same_have_a_sheet() {
    let lines = [does("Walk in"), does("Walk out")];
    let ([sheet, slip], comparison) = of(&ward(2, &lines), &ward(2, &lines));
    assert_eq!(comparison.weight, None);
    let page = assert_told(&sheet, &comparison);
    let text = spaced(&page.text(None));
    assert!(text.contains("Nothing changed in what the policy says.") && !text.contains("side by side"), "{text}");
    assert!(spaced(&printed(&slip).text(None)).contains("Nobody does anything otherwise."));
}

/// Words as long as German makes them stay within their columns, and what no column holds is told.
#[test]
fn long_words_stay_in_their_columns() {
    let long = "Atemschutzmaskendichtsitzprüfungsprotokoll";
    let old = ward(1, &[does("Walk in"), does("Walk out")]);
    let new = ward(2, &[does(format!("{long} {long}, then walk in")), does("Walk out")]);
    let ([sheet, _], comparison) = of(&old, &new);
    assert_told(&sheet, &comparison);
    let wide = "W".repeat(200);
    let ([sheet, _], _) = of(&old, &ward(2, &[does(&wide), does("Walk out")]));
    if let Err(fault) = typeset(&sheet) {
        assert!(fault.title.contains("too wide"), "{fault}");
    }
}

#[test]
fn the_same_editions_give_the_same_bytes() {
    let bytes = || {
        let ([sheet, slip], _) = demo("heron-unit");
        [sheet, slip].map(|aid| typeset(&aid).unwrap_or_else(|fault| panic!("{fault}")).pdf)
    };
    assert!(bytes() == bytes());
}

/// The sheet can be signed: what is signed, for both fingerprints, by whom.
#[test]
fn the_last_page_can_be_signed() {
    for ward in WARDS {
        let ([sheet, _], comparison) = demo(ward);
        let page = printed(&sheet);
        let last = spaced(&page.text(Some(page.pages)));
        let signing = &review(&sheet).signing;
        let wanted = signing.columns.iter().chain(&signing.rows).chain(&signing.decisions).chain(&signing.statement);
        for words in wanted.chain(signing.fingerprints.iter().flatten()) {
            assert!(last.contains(&spaced(words)), "“{words}” is not on the last page: {last}");
        }
        assert!(last.contains(comparison.new.review_by.as_deref().expect("a day")));
    }
}

/// The ward's slip: the mark of each change that weakens protection, what is no longer done, what is new, and whom to ask.
#[test]
fn the_slip_hides_nothing_that_is_weaker() {
    let ([_, slip], comparison) = demo("larch-ward");
    let page = printed(&slip);
    assert_nothing_overlaps(&slip, &page);
    let text = spaced(&page.text(None));
    let Body::Form(form) = &slip.body else { panic!("a slip is a form") };
    let entries: Vec<_> = form.sections.iter().flat_map(|section| &section.rows).collect();
    let marked = entries.iter().filter(|row| matches!(row, FormRow::Entry(entry) if !entry.mark.is_empty())).count();
    let lines: std::collections::BTreeSet<String> = comparison
        .changes
        .iter()
        .filter(|change| change.weight == Weight::Weakens)
        .map(|change| change.at().map_or(change.of.clone(), |at| format!("{} {}", at.sequence, at.name)))
        .collect();
    // The hold is told to both who confirm it.
    assert_eq!(marked, lines.len() + 1);
    for wanted in [
        "No longer: Clean hands",
        "No longer: The outside of the gloves is contaminated.",
        "“1000 ppm” becomes “500 ppm”",
        &format!("Places in which this edition protects less: {}.", comparison.counts.weakens),
        "From 1 April 2027, work by this edition.",
        "Ask Infection Prevention and Control Team",
    ] {
        assert!(text.contains(wanted), "“{wanted}” is not in {text}");
    }
    assert!(text.contains("DRAFT") && slip.marking.is_some());
}

/// Whoever has no part in the policy any more: what was theirs is told all the same.
#[test]
fn the_slip_tells_what_only_a_lost_role_did() {
    let text = std::fs::read_to_string("policies/editions/heron-unit-3.ppe").expect("it is there");
    let hold = text.split("  hold \"Ready to go in\"").nth(1).and_then(|rest| rest.split("  wearer goes").next());
    let hold = format!("  hold \"Ready to go in\"{}", hold.expect("the hold"));
    let tidied = text
        .replace(&hold, "")
        .replace("role observer\n  watches\n", "")
        .replace("    observer confirms", "    wearer confirms")
        .replace("edition 3", "edition 4");
    let ([_, slip], comparison) = of(&checked_text(&text, day()), &checked_text(&tidied, day()));
    assert!(comparison.changes.iter().any(|change| change.sentence.contains("“Ready to go in” is taken out")));
    let text = spaced(&printed(&slip).text(None));
    assert!(text.contains("Protects less than before No longer: HOLD · Ready to go in"), "{text}");
}

/// A move is told with the step that it was; a sentence that only a committee reads is not.
#[test]
fn the_slip_tells_moves_by_their_numbers() {
    let ([_, slip], _) = demo("heron-unit");
    let text = spaced(&printed(&slip).text(None));
    for wanted in ["Wearer: Putting on", "Put on the boot covers", "Before, this was step 5.", "Observer: Taking off"] {
        assert!(text.contains(wanted), "“{wanted}” is not in {text}");
    }
    assert!(!text.contains("Document control") && !text.contains("Protects less"), "{text}");
}

/// `anteroom compare --out`: both papers, named after the new edition, on the paper that its policy asks for (ISO 216).
#[test]
fn compare_writes_the_sheet_and_the_slip() {
    let ward = ward_folder();
    for edition in [2, 3] {
        let name = format!("heron-unit-{edition}.ppe");
        std::fs::copy(format!("policies/editions/{name}"), ward.path().join(&name)).expect("copied");
    }
    let arguments = ["compare", "heron-unit-2.ppe", "heron-unit-3.ppe", "--today", "2026-12-10", "--out", "papers"];
    let (status, out, said) = run(&arguments, ward.path());
    assert_eq!(status, 1, "something changed: {out}{said}");
    for (name, size) in
        [("review-sheet-heron-unit-3", "595.276 x 841.89"), ("change-slip-heron-unit-3", "419.528 x 595.276")]
    {
        let path = ward.path().join("papers").join(format!("{name}.pdf"));
        assert!(out.contains(&format!("{name}.pdf: ")), "{out}");
        let told = program("pdfinfo", &[&path.to_string_lossy()]);
        assert!(told.contains(size), "{name}: {told}");
    }
    let (status, ..) = run(&[&arguments[..5], &["--out", "heron-unit-2.ppe"]].concat(), ward.path());
    assert_eq!(status, 2, "a file is no folder");
}
