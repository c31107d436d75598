//! The choice of level: every combination of answers, against the plain reading of the lines, one combination at a time; and
//! the published decision of CDC on its own check values. Sources stand beside each check.

use std::collections::{BTreeMap, BTreeSet};

use anteroom::policy::{Answer, Choice, LevelId, QuestionId};
use anteroom::session::Checked;
use anteroom::walk::Assessment;
use proptest::prelude::*;

use crate::policy::{check, read};

/// A policy of nothing but a choice, between levels named by letters.
fn policy(levels: &[&str], lines: &str) -> String {
    let levels: String =
        levels.iter().map(|level| format!("level {level} against contact\n  nurse wears gloves\n")).collect();
    format!("policy \"Ward\"\nrole nurse\nitem gloves\n  covers hands\n{levels}choice of level\n{lines}")
}

fn told(checked: &Checked) -> Vec<String> {
    let of_choice = checked.findings.iter().filter(|finding| ["choice", "reading"].contains(&finding.name.family));
    of_choice.map(|finding| finding.name.to_string()).collect()
}

/// Everything that can be asked of a choice, by trying every combination of answers: the independent way.
struct Tried<'a> {
    choice: &'a Choice,
    lines: Vec<Option<usize>>,
}

impl Tried<'_> {
    fn new(choice: &Choice) -> Tried<'_> {
        let fits = |verdict: &anteroom::policy::Verdict, answers: usize| {
            verdict.answers.iter().all(|&(asked, yes)| (answers >> asked.index() & 1 == 1) == yes)
        };
        let combinations = 0..1_usize << choice.questions.len();
        let lines = combinations.map(|answers| choice.verdicts.iter().position(|verdict| fits(verdict, answers)));
        Tried { lines: lines.collect(), choice }
    }

    fn level(&self, line: Option<usize>) -> Option<LevelId> {
        line.map(|line| self.choice.verdicts[line].level)
    }

    /// Every combination in which these answers are given.
    fn within(&self, case: &[Answer]) -> Vec<usize> {
        let given = |answers: &usize| case.iter().all(|(asked, yes)| (answers >> asked.index() & 1 == 1) == *yes);
        (0..self.lines.len()).filter(given).collect()
    }

    /// By Warshall's algorithm; nobody in a circle outranks another of it.
    fn ranks(&self) -> BTreeSet<(LevelId, LevelId)> {
        let mut ranks: BTreeSet<(LevelId, LevelId)> = self.choice.outranks.iter().copied().collect();
        let levels: Vec<LevelId> = (0..6).map(LevelId::new).collect();
        for &by in &levels {
            for &high in &levels {
                for &low in &levels {
                    if ranks.contains(&(high, by)) && ranks.contains(&(by, low)) {
                        ranks.insert((high, low));
                    }
                }
            }
        }
        ranks.iter().copied().filter(|&(high, low)| !ranks.contains(&(low, high))).collect()
    }
}

/// A case is a right one, and none of its answers can be left out.
fn is_least(tried: &Tried, case: &[Answer], wanted: impl Fn(usize) -> bool) -> bool {
    let holds = |case: &[Answer]| tried.within(case).into_iter().all(&wanted);
    let fewer = |at: usize| case.iter().enumerate().filter(|&(other, _)| other != at).map(|(_, a)| *a).collect();
    holds(case) && (0..case.len()).all(|at| !holds(&Vec::from_iter::<Vec<Answer>>(fewer(at))))
}

fn compared(choice: &Choice, assessment: &Assessment) {
    let tried = Tried::new(choice);
    assert!(!assessment.gave_up);
    let uncovered = tried.lines.contains(&None);
    assert_eq!(assessment.uncovered.is_some(), uncovered, "uncovered");
    if let Some(case) = &assessment.uncovered {
        assert!(is_least(&tried, case, |answers| tried.lines[answers].is_none()), "{case:?}");
    }
    let reached: BTreeSet<usize> = tried.lines.iter().flatten().copied().collect();
    let unreached: Vec<usize> = (0..choice.verdicts.len()).filter(|line| !reached.contains(line)).collect();
    assert_eq!(assessment.unreached, unreached, "unreached");
    turned(&tried, assessment);
    doubled(&tried, assessment);
}

fn turned(tried: &Tried, assessment: &Assessment) {
    let ranks = tried.ranks();
    let mut idle = Vec::new();
    let mut lowered: BTreeMap<(QuestionId, usize, usize), ()> = BTreeMap::new();
    for question in (0..tried.choice.questions.len()).map(QuestionId::new) {
        let bit = 1 << question.index();
        let pairs = (0..tried.lines.len()).filter(|answers| answers & bit == 0).map(|no| (no, no | bit));
        let lines: Vec<_> = pairs.map(|(no, yes)| (tried.lines[no], tried.lines[yes])).collect();
        if lines.iter().all(|&(no, yes)| tried.level(no) == tried.level(yes)) {
            idle.push(question);
        }
        for (no, yes) in lines.into_iter().filter_map(|(no, yes)| Some((no?, yes?))) {
            if ranks.contains(&(tried.choice.verdicts[no].level, tried.choice.verdicts[yes].level)) {
                lowered.insert((question, no, yes), ());
            }
        }
    }
    assert_eq!(assessment.idle, idle, "idle");
    let found: Vec<_> = assessment.lowered.iter().map(|each| (each.question, each.at_no, each.at_yes)).collect();
    assert_eq!(found, lowered.into_keys().collect::<Vec<_>>(), "lowered");
    for each in &assessment.lowered {
        let bit = 1 << each.question.index();
        let levels = [each.at_no, each.at_yes].map(|line| tried.level(Some(line)));
        let wanted =
            |answers: usize| [answers & !bit, answers | bit].map(|answers| tried.level(tried.lines[answers])) == levels;
        assert!(is_least(tried, &each.case, wanted), "{each:?}");
    }
}

fn doubled(tried: &Tried, assessment: &Assessment) {
    let ranks = tried.ranks();
    let lines = &tried.choice.verdicts;
    let mut wanted = Vec::new();
    for later in 0..lines.len() {
        let is_double = |first: &usize| {
            let (one, other) = (&lines[*first], &lines[later]);
            let exception = other.answers.iter().all(|answer| one.answers.contains(answer));
            let both = tried.within(&[&one.answers[..], &other.answers[..]].concat());
            !exception
                && one.level != other.level
                && !ranks.contains(&(one.level, other.level))
                && both.iter().any(|&answers| tried.lines[answers] == Some(*first))
        };
        let comes = tried.lines.contains(&Some(later)) && !lines[later].answers.is_empty();
        wanted.extend((0..later).find(is_double).filter(|_| comes).map(|first| (first, later)));
    }
    let found: Vec<_> = assessment.doubled.iter().map(|each| (each.first, each.later)).collect();
    assert_eq!(found, wanted, "doubled");
    for each in &assessment.doubled {
        let fits = |answers: usize, line: usize| tried.within(&lines[line].answers).contains(&answers);
        let cases = tried.within(&each.case);
        assert!(!cases.is_empty());
        assert!(cases.into_iter().all(|a| tried.lines[a] == Some(each.first) && fits(a, each.later)), "{each:?}");
    }
}

fn some_lines() -> impl Strategy<Value = String> {
    let answer = (0..10_usize, any::<bool>());
    let line = (proptest::collection::btree_map(0..10_usize, any::<bool>(), 1..5), 0..5_usize);
    let ranks = proptest::collection::vec((0..5_usize, 0..5_usize), 0..6);
    let lines = (proptest::collection::vec(line, 1..9), answer, any::<bool>(), 2..11_usize, ranks);
    lines.prop_map(|(lines, (_, with_rest), fallback, questions, ranks)| {
        let mut text: String = (0..questions).map(|at| format!("  ask q{at} is so \"Is it so, {at}?\"\n")).collect();
        for (answers, level) in lines {
            let answers: BTreeMap<usize, bool> = answers.iter().map(|(&at, &yes)| (at % questions, yes)).collect();
            let answers: Vec<String> =
                answers.iter().map(|(at, yes)| format!("{} to q{at} is so", if *yes { "yes" } else { "no" })).collect();
            text += &format!("  {} gives {}\n", answers.join(" and "), LEVELS[level]);
        }
        if fallback && with_rest {
            text += "  otherwise gives Amber\n";
        }
        for (high, low) in ranks {
            text += &format!("  {} outranks {}\n", LEVELS[high], LEVELS[low]);
        }
        text
    })
}

const LEVELS: [&str; 5] = ["Amber", "Blue", "Cyan", "Drab", "Ecru"];

/// As many as are asked for, else so many.
fn cases(usual: u32) -> u32 {
    if std::env::var_os("PROPTEST_CASES").is_some() { ProptestConfig::default().cases } else { usual }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(300), failure_persistence: None, ..ProptestConfig::default() })]

    /// Independent: every combination of up to ten answers, tried one by one.
    #[test]
    fn every_combination_comes_out_as_when_tried_alone(lines in some_lines()) {
        let checked = check(&policy(&LEVELS, &lines));
        let choice = checked.reading.policy.choice.as_ref().unwrap();
        compared(choice, checked.walk.assessment.as_ref().unwrap());
    }
}

const QUESTIONS: &str = "  ask infection is confirmed \"Has the laboratory confirmed the infection?\"\n  \
    ask patient is wet \"Obvious bleeding, vomiting or diarrhoea?\"\n  \
    ask patient is unstable \"Is the patient clinically unstable?\"\n  \
    ask procedure is planned \"Is an invasive procedure planned, or one that makes aerosol?\"\n";

/// CDC for viral haemorrhagic fevers (2015 text): full kit if confirmed, or obvious bleeding, vomiting or diarrhoea, or
/// clinically unstable, or an invasive or aerosol-generating procedure; lesser kit only if suspected, stable and dry.
const BY_ANY: &str = "  yes to infection is confirmed gives Full\n  yes to patient is wet gives Full\n  \
    yes to patient is unstable gives Full\n  yes to procedure is planned gives Full\n  otherwise gives Lesser\n  \
    Full outranks Lesser\n";
const BY_NONE: &str = "  no to infection is confirmed and no to patient is wet and no to patient is unstable and \
    no to procedure is planned gives Lesser\n  otherwise gives Full\n  Full outranks Lesser\n";

fn level(text: &str, yes: &[&str]) -> String {
    let reading = read(text);
    let choice = reading.policy.choice.as_ref().unwrap();
    for name in yes {
        assert!(choice.questions.iter().any(|question| question.name == *name), "{name}");
    }
    let line = choice.line_for(|asked| yes.contains(&choice.questions[asked.index()].name.as_str())).unwrap();
    reading.policy.level(choice.verdicts[line].level).name.clone()
}

/// T64 to T67 (CDC, as above), in both ways of writing it; and nothing is told of either.
#[test]
fn the_published_choice_gives_the_published_levels() {
    for lines in [BY_ANY, BY_NONE] {
        let text = policy(&["Lesser", "Full"], &format!("{QUESTIONS}{lines}"));
        assert_eq!(level(&text, &[]), "Lesser", "T64: suspected, stable, dry, no procedure");
        assert_eq!(level(&text, &["patient is wet"]), "Full", "T65: suspected, stable, vomiting");
        assert_eq!(level(&text, &["infection is confirmed"]), "Full", "T66: confirmed, stable, dry");
        assert_eq!(level(&text, &["procedure is planned"]), "Full", "T67: suspected, dry, intubation planned");
        assert_eq!(level(&text, &["patient is unstable"]), "Full", "clinically unstable");
        assert_eq!(told(&check(&text)), Vec::<String>::new());
    }
}

/// The same, written wrongly: no outside source for the faults.
#[test]
fn a_published_choice_gone_wrong_is_told() {
    let told = |lines: &str| told(&check(&policy(&["Lesser", "Full"], &format!("{QUESTIONS}{lines}"))));
    assert_eq!(told(&BY_ANY.replace("  otherwise gives Lesser\n", "")), ["choice unreachable", "choice none"]);
    assert_eq!(told(&BY_ANY.replace("  yes to patient is wet gives Full\n", "")), ["choice unasked"]);
    assert_eq!(
        told(&BY_ANY.replace("yes to patient is wet gives Full", "yes to patient is wet gives Lesser")),
        ["choice lower"]
    );
    let swapped = BY_NONE.replace("gives Lesser", "gives Most").replace("gives Full", "gives Lesser");
    assert_eq!(told(&swapped.replace("gives Most", "gives Full")), ["choice lower"]);
    let first = BY_ANY.replace("  yes to infection", "  otherwise gives Lesser\n  yes to infection");
    assert!(told(&first).contains(&"choice unreachable".to_string()));
}

/// One combination after another would take 2 to the power of 40 steps; no outside source for the shapes.
#[test]
fn many_questions_are_no_burden() {
    let ask: String = (0..40).map(|at| format!("  ask q{at} is so \"Is it so, {at}?\"\n")).collect();
    let shapes: [(&str, String); 4] = [
        ("any", (0..40).map(|at| format!("  yes to q{at} is so gives Blue\n")).collect()),
        (
            "pairs",
            (0..20).map(|at| format!("  yes to q{} is so and yes to q{} is so gives Blue\n", at, 39 - at)).collect(),
        ),
        (
            "any two",
            (0..40)
                .flat_map(|one| (0..one).map(move |two| (one, two)))
                .map(|(one, two)| format!("  yes to q{one} is so and yes to q{two} is so gives Blue\n"))
                .collect(),
        ),
        (
            "ladder",
            (0..39)
                .map(|at| format!("  yes to q{} is so and yes to q{} is so gives {}\n", at, at + 1, LEVELS[1 + at % 2]))
                .collect(),
        ),
    ];
    for (name, lines) in shapes {
        let text = policy(&LEVELS, &format!("{ask}{lines}  otherwise gives Amber\n  Blue outranks Amber\n"));
        let checked = check(&text);
        let assessment = checked.walk.assessment.as_ref().unwrap();
        assert!(!assessment.gave_up, "{name}");
        assert_eq!((&assessment.uncovered, &assessment.idle), (&None, &Vec::new()), "{name}");
        assert!(assessment.unreached.is_empty() && assessment.lowered.is_empty(), "{name}");
        let looked = "The choice of level: all combinations of answers, more than a million, to 40 questions.";
        assert!(checked.examined.looked_at.iter().any(|sentence| sentence == looked), "{name}");
    }
}

/// Built to explode: the check comes to an end and says that it did not see everything.
#[test]
fn what_is_too_large_is_said_to_be() {
    let ask: String = (0..60).map(|at| format!("  ask q{at} is so \"Is it so, {at}?\"\n")).collect();
    let lines: String = (0..400_usize)
        .map(|at| {
            let answer = |by: usize| (at * by + at / 7 + by * by) % 60;
            let (one, two, three) = (answer(7), answer(13), answer(29));
            format!("  yes to q{one} is so and no to q{two} is so and yes to q{three} is so gives {}\n", LEVELS[at % 5])
        })
        .collect();
    let checked = check(&policy(&LEVELS, &format!("{ask}{lines}  otherwise gives Amber\n")));
    assert!(checked.walk.assessment.as_ref().unwrap().gave_up);
    let unseen = &checked.examined.not_looked_at;
    assert!(unseen.iter().any(|sentence| sentence.starts_with("The choice of level to its end")), "{unseen:?}");
    let reasons = anteroom::session::draft_reasons(&checked);
    assert!(reasons.iter().any(|reason| reason.sentence().contains("did not come to its end")), "{reasons:?}");
}

/// What the check says that it looked at.
#[test]
fn the_number_of_combinations_is_said() {
    let text = policy(&["Lesser", "Full"], &format!("{QUESTIONS}{BY_ANY}"));
    let looked = check(&text).examined.looked_at;
    assert!(looked.contains(&"The choice of level: all 16 combinations of answers to 4 questions.".to_string()));
    let unread = check(&text.replace("yes to patient is wet", "yes to patient is wett and dry"));
    assert!(unread.walk.assessment.is_none());
    let sentence = "The choice of level: lines of it cannot be read yet.";
    assert!(unread.examined.not_looked_at.iter().any(|other| other == sentence));
}
