//! The language reference cannot go stale: every example on the page is read, and every statement has one.
//! The page is the project's own (grammar/LANGUAGE.md); no outside source.

use std::collections::BTreeSet;

use anteroom::syntax::tree::{Statement, Verb, What};
use anteroom::syntax::{Declared, declarations, parse, tidy};
use anteroom::text::SourceId;

const PAGE: &str = include_str!("../../grammar/LANGUAGE.md");

/// The cells in code of each row of the tables.
fn rows() -> Vec<Vec<&'static str>> {
    let code = |cell: &'static str| cell.trim().strip_prefix('`').and_then(|cell| cell.strip_suffix('`'));
    let row = |line: &'static str| line.trim_matches('|').split('|').map_while(code).collect::<Vec<_>>();
    PAGE.lines().filter(|line| line.starts_with("| `")).map(row).collect()
}

fn examples() -> Vec<&'static str> {
    rows().into_iter().filter(|row| row.len() == 1).map(|row| row[0]).collect()
}

fn declared() -> Declared {
    declarations(&examples().join("\n"))
}

/// The words by which the checker knows an event are those of the page.
#[test]
fn the_words_of_events_are_the_ones_that_are_understood() {
    use anteroom::walk::happening::{FAILING, LOST, PIERCED, SOILED, TORN};
    let known: [(&str, &[&str]); 5] =
        [("Torn", &TORN), ("Soiled", &SOILED), ("Pierced", &PIERCED), ("Failing", &FAILING), ("Lost", &LOST)];
    for (event, words) in known {
        let row = PAGE.lines().find(|line| line.starts_with(&format!("| {event}, of"))).expect(event);
        let cell = row.split('|').nth(2).unwrap_or_default();
        let written: Vec<&str> = cell.split('`').skip(1).step_by(2).collect();
        assert_eq!(written, words, "{event}");
    }
}

fn statement(line: &str) -> Statement {
    let (tree, problems) = parse(SourceId(0), line, &declared());
    assert_eq!(problems, [], "{line}");
    match tree.lines.as_slice() {
        [only] => match &only.what {
            What::Statement(statement) => statement.clone(),
            What::Hole => panic!("a hole: {line}"),
        },
        lines => panic!("{} lines: {line}", lines.len()),
    }
}

macro_rules! kinds {
    ($function:ident $list:ident $type:ident: $($kind:ident)*) => {
        fn $function(of: &$type) -> &'static str {
            match of {
                $($type::$kind { .. } => stringify!($kind),)*
            }
        }
        const $list: &[&str] = &[$(stringify!($kind)),*];
    };
}

kinds! { statement_kind STATEMENTS Statement:
    Policy Site Edition Owner Approved ApprovalNeeds InForce ReviewBy Withdrawn Replaces Language Use Note Source From Dated Page Link Hazard
    SpreadsBy Place Way Role Helps Watches Leads Item Covers GoesOver TucksInto Grip HoldsDown ConnectsTo Meets Picture
    NeedsFitTest SingleUse ReusedAfter GoesTo Sharp RunsFor Fills WornBeneath Pairs Sizes Surface StandsIn LaidIn StartsClean
    StartsContaminated Cleaner ForHands ForSurfaces Strength WetFor NotOnVisibleSoil Worth Container ContainerFor Holds
    Level Wears KeepCovered AssumeFronts AssumeEverything KeepAway StayNoLonger Needs Forbids ChoiceOfLevel Ask Gives
    OtherwiseGives Outranks Sequence Contingency Part Hold Confirms IfNotGoBack IfNotStart If Otherwise EndIf ThenCarryOn
    ThenStart Step Say LookFor StopIf Caution Warning Danger Because Takes PrintAs Print OnPaper ReadFrom Copies Laminated
    BothSides Accept Differ
}

kinds! { verb_kind VERBS Verb:
    PutsOn PullsUp Changes TakesOff CleansHands Wipes Sprays Checks GoesTo Puts SwitchesOn SwitchesOff Connects
    Disconnects Cuts Breaks Unties StepsOnto StepsOff SitsOn StandsUp Opens Closes Folds Does
}

#[test]
fn every_example_is_read_and_every_statement_has_one() {
    let (mut statements, mut verbs) = (BTreeSet::new(), BTreeSet::new());
    for line in examples() {
        let statement = statement(line);
        statements.insert(statement_kind(&statement));
        if let Statement::Step(sentence) = &statement {
            verbs.insert(verb_kind(&sentence.verb));
        }
    }
    let missing: Vec<_> = STATEMENTS.iter().filter(|kind| !statements.contains(**kind)).collect();
    assert!(missing.is_empty(), "statements without an example: {missing:?}");
    let missing: Vec<_> = VERBS.iter().filter(|kind| !verbs.contains(**kind)).collect();
    assert!(missing.is_empty(), "verbs without an example: {missing:?}");
}

fn tidied(line: &str) -> String {
    let declared = declared();
    let (tree, problems) = parse(SourceId(0), line, &declared);
    assert_eq!(problems, [], "{line}");
    tidy(&tree, line, &declared)
}

#[test]
fn every_example_is_tidy() {
    for line in examples() {
        assert_eq!(tidied(line).trim(), line);
    }
}

#[test]
fn what_is_understood_besides_is_tidied_as_the_page_says() {
    let habits: Vec<_> = rows().into_iter().filter(|row| row.len() == 2).collect();
    assert!(habits.len() > 15, "the table is looked for in the wrong place");
    for row in habits {
        assert_eq!(tidied(row[0]).trim(), row[1], "{}", row[0]);
        assert_eq!(statement_kind(&statement(row[0])), statement_kind(&statement(row[1])), "{}", row[0]);
    }
}
