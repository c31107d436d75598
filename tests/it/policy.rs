//! From text to a resolved policy: the samples, names that are nearly right, branches, uses.

use std::collections::BTreeMap;

use anteroom::policy::Day;
use anteroom::session::{self, Checked, Reading, Shelf};
use anteroom::syntax::problem::ProblemKind;

/// Files in memory, all in one folder.
#[derive(Default)]
pub struct Folder(BTreeMap<String, String>);

impl Folder {
    pub fn of(files: &[(&str, &str)]) -> Folder {
        Folder(files.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())).collect())
    }
}

impl Shelf for Folder {
    fn fetch(&self, _from: &str, written: &str) -> Result<(String, String), String> {
        let text = self.0.get(written).ok_or("there is no such file")?;
        Ok((written.to_owned(), text.clone()))
    }
}

const SHARED: &str = include_str!("../samples/shared-stores.ppe");

pub fn read(text: &str) -> Reading {
    let folder = Folder::of(&[("shared-stores.ppe", SHARED), ("policy.ppe", text)]);
    session::read("policy.ppe", text, &folder)
}

pub fn check(text: &str) -> Checked {
    session::check(read(text), Day::from_iso("2026-11-24"))
}

const ISOLATION: &str = include_str!("../samples/isolation-suite.ppe");
const SIDE_ROOM: &str = include_str!("../samples/side-room.ppe");
const TRANSFER: &str = include_str!("../samples/transfer-team.ppe");

#[test]
fn the_samples_resolve_without_a_problem() {
    for text in [ISOLATION, SIDE_ROOM, TRANSFER, SHARED] {
        let reading = read(text);
        assert_eq!(reading.problems, [], "{:?}", reading.policy.paper.title);
        assert!(reading.policy.gaps.is_empty());
    }
}

/// Without what is empty, absent or not so.
fn said(value: serde_json::Value) -> serde_json::Value {
    use serde_json::Value;
    let empty = |value: &Value| match value {
        Value::Null | Value::Bool(false) => true,
        Value::Array(values) => values.is_empty(),
        Value::Object(fields) => fields.is_empty(),
        _ => false,
    };
    match value {
        Value::Array(values) => Value::Array(values.into_iter().map(said).collect()),
        Value::Object(fields) => {
            let always = serde_json::json!({"any": [[]]});
            let kept =
                fields.into_iter().filter(|(_, value)| *value != always).map(|(name, value)| (name, said(value)));
            Value::Object(kept.filter(|(_, value)| !empty(value)).collect())
        }
        other => other,
    }
}

/// Every entry of every table on a line of its own.
fn listing(reading: &Reading) -> String {
    let policy = said(serde_json::to_value(&reading.policy).unwrap());
    let mut lines = String::new();
    for (table, entries) in policy.as_object().unwrap() {
        match entries {
            serde_json::Value::Array(entries) if table == "sequences" || table == "contingencies" => {
                for entry in entries {
                    let mut head = entry.clone();
                    let steps = head.as_object_mut().unwrap().shift_remove("steps").unwrap();
                    lines += &format!("{table}: {head}\n");
                    for step in steps.as_array().unwrap() {
                        lines += &format!("    {step}\n");
                    }
                }
            }
            serde_json::Value::Array(entries) => {
                for entry in entries {
                    lines += &format!("{table}: {entry}\n");
                }
            }
            other => lines += &format!("{table}: {other}\n"),
        }
    }
    lines
}

#[test]
fn the_samples_resolve_to_these_policies() {
    insta::assert_snapshot!("isolation_suite", listing(&read(ISOLATION)));
    insta::assert_snapshot!("side_room", listing(&read(SIDE_ROOM)));
    insta::assert_snapshot!("transfer_team", listing(&read(TRANSFER)));
    insta::assert_snapshot!("shared_stores", listing(&read(SHARED)));
}

/// The problems of a sample in which one thing is replaced by another, each with its line's number and the words there.
fn problems_after(sample: &str, edits: &[(&str, &str)]) -> Vec<String> {
    let mut text = sample.to_owned();
    for (from, to) in edits {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    let reading = read(&text);
    let told = |problem: &anteroom::syntax::problem::Problem| {
        let line = reading.sources.start(problem.span).line;
        let also = if problem.related.is_empty() { String::new() } else { format!(" (+{})", problem.related.len()) };
        format!("{line}: “{}” {:?}{also}", reading.sources.text(problem.span), problem.kind)
    };
    reading.problems.iter().map(told).collect()
}

fn one_problem(sample: &str, from: &str, to: &str) -> String {
    let problems = problems_after(sample, &[(from, to)]);
    assert_eq!(problems.len(), 1, "{from} → {to}: {problems:#?}");
    problems[0].clone()
}

#[test]
fn a_mistyped_name_is_told_once_with_what_was_meant() {
    let cases = [
        ("wearer takes off apron by", "wearer takes off aporn by"),
        ("into goggles box", "into gogles box"),
        ("observer checks wearer", "observer checks waerer"),
        ("wearer goes to bed space", "wearer goes to bed spase"),
        ("covers hair, neck", "covers hair, nekc"),
        ("spreads by contact, droplet", "spreads by contact, dropplet"),
        ("for Enhanced, in lobby", "for Enhansed, in lobby"),
        ("reused after chlorine wipe", "reused after chlorin wipe"),
        ("go back to \"Arrive\"", "go back to \"Arive\""),
        ("start \"Possible exposure\"", "start \"Posible exposure\""),
        ("print observer card of", "print observer cards of"),
        ("if apron is soiled", "if aporn is soiled"),
        ("still covered.\" who filovirus", "still covered.\" who filovius"),
        ("off apron by ties", "off apron by teis"),
        ("print kit list of Enhanced", "print kit list of Enhancd"),
        ("on A6", "on A9"),
    ];
    let told: Vec<String> =
        cases.iter().map(|(from, to)| format!("{to}\n    {}", one_problem(ISOLATION, from, to))).collect();
    insta::assert_snapshot!("mistyped_names", told.join("\n"));
}

/// An article is no part of a name: what was meant is found, and the way out declares no “the bed”.
#[test]
fn a_mistyped_name_with_its_article_is_told_like_one_without() {
    for (from, to, with) in [
        ("wearer takes off apron by", "wearer takes off aporn by", "wearer takes off the aporn by"),
        ("wearer goes to bed space", "wearer goes to bed spase", "wearer goes to the bed spase"),
        ("wearer goes to bed space", "wearer goes to helicopter", "wearer goes to the helicopter"),
        ("wearer goes to bed space", "wearer goes to goggles", "wearer goes to the goggles"),
    ] {
        let [plain, with] = [to, with].map(|to| one_problem(ISOLATION, from, to));
        assert_eq!(with.replace("“the ", "“"), plain);
    }
}

#[test]
fn a_name_used_ten_times_is_told_once_and_nothing_follows_from_it() {
    let without = ISOLATION.replace(
        "item goggles \"sealed goggles\"\n  covers eyes\n  grip headband\n",
        "item spectacles\n  covers eyes\n",
    );
    let checked = check(&without);
    let names: Vec<String> = checked.reading.problems.iter().map(|problem| format!("{:?}", problem.kind)).collect();
    assert_eq!(names.len(), 1, "{names:#?}");
    assert!(names[0].contains("goggles"), "{names:#?}");
    assert!(checked.reading.problems[0].related.len() >= 6);
    assert!(checked.findings.iter().all(|finding| finding.name.family == "reading"), "{:#?}", checked.findings);
    assert!(checked.examined.not_looked_at.iter().any(|sentence| sentence.contains("Enhanced to its end")));
    assert!(!session::draft_reasons(&checked).is_empty());
}

#[test]
fn other_mistakes_of_meaning_are_told_once() {
    let cases = [
        ("into goggles box", "into boots"),
        ("observer checks wearer", "observer checks lobby"),
        ("item hood \"head", "item apron\n  covers trunk\nitem hood \"head"),
        ("part \"Outside layer\"\n  wearer cleans", "part \"Arrive\"\n  wearer cleans"),
        ("if not, go back to \"Arrive\"", "if not, go back to \"Before you start\""),
        ("place corridor is clean", "place corridor is clean\n  covers hands"),
        ("note The suite", "wearer puts on apron\n  say \"Now.\"\nnote The suite"),
        ("edition 4", "edition 4\nedition 5"),
        ("stay no longer than 90 minutes", "stay no longer than 90 metres"),
        ("holds 60 litres", "holds 60 minutes"),
        ("review by 1 June 2027", "review by 31 June 2027"),
        ("item scrubs\n", "item scrubs\n  goes over scrubs\n"),
        ("then carry on", "part \"Next\"\n  then carry on"),
        ("hold \"Seal\"", "confirms"),
        ("print poster of \"Putting on\"", "print poster of Enhanced"),
        ("keep face 3 touches", "keep fase 3 touches"),
        ("sequence \"Possible exposure\"", "sequence \"Taking off\""),
    ];
    let told: Vec<String> = cases
        .iter()
        .map(|(from, to)| {
            format!("{}\n    {}", to.replace('\n', " / "), problems_after(ISOLATION, &[(from, to)]).join("\n    "))
        })
        .collect();
    insta::assert_snapshot!("mistakes_of_meaning", told.join("\n"));
}

#[test]
fn branches_that_do_not_close_are_told() {
    let steps = "  if apron is soiled\n  wearer checks apron\n";
    let cases = [
        ("no end", steps.to_owned()),
        ("no if", "  end if\n".to_owned()),
        ("otherwise alone", "  otherwise\n  wearer checks apron\n".to_owned()),
        (
            "two otherwise",
            format!("{steps}  otherwise\n  wearer checks apron\n  otherwise\n  wearer checks hood\n  end if\n"),
        ),
        ("nested and whole", format!("{steps}  if hood is torn\n  wearer checks hood\n  end if\n  end if\n")),
    ];
    let told: Vec<String> = cases
        .iter()
        .map(|(what, lines)| {
            let to = format!("{lines}  hold \"Clear to start\"");
            format!("{what}: {:#?}", problems_after(ISOLATION, &[("  hold \"Clear to start\"", &to)]))
        })
        .collect();
    insta::assert_snapshot!("branches", told.join("\n"));
}

#[test]
fn branches_become_guards_and_the_same_words_the_same_fact() {
    let steps = "  if apron is soiled or hood is torn\n  wearer checks apron\n  otherwise\n  wearer checks hood, unless the apron is not soiled\n  end if\n  wearer checks boots, if aprons are soiled\n";
    let text = ISOLATION.replacen("  hold \"Clear to start\"", &format!("{steps}  hold \"Clear to start\""), 1);
    let text = text.replace("if aprons are soiled", "if apron are soiled");
    let reading = read(&text);
    assert_eq!(reading.problems, []);
    let policy = &reading.policy;
    let words: Vec<&str> = policy.facts.iter().map(|fact| fact.words.as_str()).collect();
    assert_eq!(words, ["apron is soiled", "hood is torn"]);
    let sequence = policy.sequences.iter().find(|sequence| sequence.title == "Taking off").unwrap();
    let guards: Vec<String> = sequence.steps[3..6]
        .iter()
        .map(|step| {
            let any = step.guard.any.iter().map(|all| {
                let all =
                    all.iter().map(|literal| format!("{}{}", if literal.holds { "" } else { "!" }, literal.fact.0));
                all.collect::<Vec<_>>().join("&")
            });
            any.collect::<Vec<_>>().join("|")
        })
        .collect();
    // `not (soiled or torn)` and `soiled` cannot both be so: the step never happens.
    assert_eq!(guards, ["0|1", "", "0"]);
    assert!(sequence.steps[4].guard.any.is_empty());
}

/// A condition that nobody could keep in mind is told once, and its steps are not played as if they always happened.
#[test]
fn conditions_have_bounds() {
    let opened: String = (0..40).map(|at| format!("  if gown is torn{at} or hood is torn{at}\n")).collect();
    let closed = "  end if\n".repeat(40);
    let lines = format!("{opened}  wearer checks apron\n{closed}  hold \"Clear to start\"");
    let text = ISOLATION.replacen("  hold \"Clear to start\"", &lines, 1);
    let reading = read(&text.replace("gown is torn", "hood is wet"));
    assert!(!reading.problems.is_empty());
    assert!(!reading.policy.gaps.is_empty());
    let longest =
        reading.policy.sequences.iter().flat_map(|sequence| &sequence.steps).map(|step| step.guard.any.len()).max();
    assert!(longest <= Some(64), "{longest:?}");
}

#[test]
fn what_is_supplied_and_what_is_asked_are_facts_of_their_own() {
    use anteroom::policy::FactKind;
    let steps = "  wearer checks apron, if patient is wet and boot covers are not supplied\n";
    let text = TRANSFER.replacen("  part \"Arrive\"\n", &format!("  part \"Arrive\"\n{steps}"), 1);
    let reading = read(&text);
    assert_eq!(reading.problems, []);
    let kinds: Vec<&FactKind> = reading.policy.facts.iter().map(|fact| &fact.kind).collect();
    assert!(matches!(kinds[0], FactKind::Asked(_)), "{kinds:?}");
    assert!(matches!(kinds[1], FactKind::Supplied(_)), "{kinds:?}");
}

#[test]
fn an_item_belongs_to_who_wears_it() {
    use anteroom::policy::{Act, Target};
    let reading = read(TRANSFER);
    let policy = &reading.policy;
    let owners: Vec<(String, String, String)> = policy
        .sequences
        .iter()
        .flat_map(|sequence| &sequence.steps)
        .filter_map(|step| match &step.act {
            Act::Wipe { target: Target::Item { item, wearer }, .. }
            | Act::Untie(Target::Item { item, wearer })
            | Act::Disconnect { item: Target::Item { item, wearer }, .. } => {
                let role = |id: &anteroom::policy::RoleId| policy.role(*id).name.clone();
                Some((role(&step.actor), policy.item(*item).name.clone(), role(wearer)))
            }
            _ => None,
        })
        .collect();
    let told = |actor: &str, item: &str, wearer: &str| (actor.to_owned(), item.to_owned(), wearer.to_owned());
    assert_eq!(
        owners,
        [told("helper", "suit", "wearer"), told("helper", "hood", "wearer"), told("helper", "boot covers", "wearer")]
    );
}

#[test]
fn steps_are_numbered_from_one_in_each_sequence_and_holds_are_not() {
    for sequence in read(ISOLATION).policy.sequences {
        let numbers: Vec<u32> = sequence.steps.iter().filter_map(|step| step.number).collect();
        assert_eq!(numbers, (1..=numbers.len() as u32).collect::<Vec<_>>(), "{}", sequence.title);
        let holds = sequence.steps.iter().filter(|step| matches!(step.act, anteroom::policy::Act::Hold(_)));
        assert!(holds.clone().all(|step| step.number.is_none()));
        assert_eq!(holds.count() + numbers.len(), sequence.steps.len());
    }
}

/// 0.5 % is 5,000 mg/L and 0.05 % is 500 mg/L: Iqbal 2016, PLoS ONE 11(5):e0156136. 1 % is 10,000 ppm: GTFCC cholera
/// manual, appendix 14. 0.1 % is 1,000 ppm: WHO, questions and answers on cleaning, 2020.
#[test]
fn strengths_are_parts_per_million() {
    let cases = [
        ("0.5 % chlorine", 5_000),
        ("0.05 % chlorine", 500),
        ("1 % chlorine", 10_000),
        ("0.1 % chlorine", 1_000),
        ("1000 ppm chlorine", 1_000),
        ("5000 mg/L chlorine", 5_000),
    ];
    for (written, ppm) in cases {
        let reading = read(&ISOLATION.replacen("strength 1000 ppm chlorine", &format!("strength {written}"), 1));
        assert_eq!(reading.problems, [], "{written}");
        let cleaner = reading.policy.cleaners.iter().find(|cleaner| cleaner.name == "chlorine wipe").unwrap();
        assert_eq!((cleaner.strength_ppm, cleaner.substance.as_deref()), (Some(ppm), Some("chlorine")), "{written}");
    }
}

#[test]
fn uses_are_followed_once_and_circles_are_named() {
    let folder = Folder::of(&[
        ("a.ppe", "use \"b.ppe\"\nitem gown\n  covers trunk\n"),
        ("b.ppe", "use \"c.ppe\"\nuse \"a.ppe\"\n"),
        ("c.ppe", "use \"a.ppe\"\ncleaner hand rub\n  for hands\n"),
        ("lost.ppe", "use \"nowhere.ppe\"\n"),
    ]);
    let main = "policy \"Main\"\nuse \"a.ppe\"\nuse \"c.ppe\"\nuse \"lost.ppe\"\n";
    let reading = session::read("main.ppe", main, &folder);
    let names: Vec<&str> = reading.sources.iter().map(|(_, source)| source.name.as_str()).collect();
    assert_eq!(names, ["main.ppe", "a.ppe", "b.ppe", "c.ppe", "lost.ppe"]);
    let told: Vec<String> = reading
        .problems
        .iter()
        .map(|problem| format!("{}: {:?}", reading.sources.get(problem.span.source).name, problem.kind))
        .collect();
    insta::assert_snapshot!("uses", told.join("\n"));
    assert_eq!(reading.policy.items.len() + reading.policy.cleaners.len(), 2);
}

#[test]
fn a_file_that_uses_itself_is_a_circle_and_a_long_chain_ends() {
    let reading = session::read("a.ppe", "policy \"A\"\nuse \"a.ppe\"\n", &Folder::of(&[("a.ppe", "")]));
    assert_eq!(reading.problems.len(), 1);
    let chain: Vec<(String, String)> =
        (0..200).map(|at| (format!("{at}.ppe"), format!("use \"{}.ppe\"\n", at + 1))).collect();
    let files: Vec<(&str, &str)> = chain.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let reading = session::read("main.ppe", "policy \"A\"\nuse \"0.ppe\"\n", &Folder::of(&files));
    assert_eq!(reading.sources.iter().count(), 64);
    assert_eq!(reading.problems.len(), 1);
}

#[test]
fn a_missing_file_is_one_problem() {
    let reading = session::read("policy.ppe", TRANSFER, &Folder::default());
    let told: Vec<String> = reading.problems.iter().map(|problem| format!("{:?}", problem.kind)).collect();
    assert_eq!(told.len(), 1, "{told:#?}");
}

#[test]
fn a_broken_line_hides_nothing_that_comes_before_it() {
    let fault =
        ISOLATION.replacen("wearer takes off apron by ties, rolling it inside out, into clinical waste\n", "", 1);
    let whole: Vec<String> = check(&fault).findings.iter().map(|finding| finding.name.to_string()).collect();
    assert!(!whole.is_empty());
    let broken =
        fault.replacen("  wearer wipes boots with chlorine wipe\n", "  wearer wipes the boots somehow with\n", 1);
    let checked = check(&broken);
    assert_eq!(checked.reading.problems.len(), 1, "{:?}", checked.reading.problems);
    assert!(
        checked.findings.iter().any(|finding| finding.name.to_string() == "order covered"),
        "{:#?}",
        checked.findings
    );
}

#[test]
fn an_exception_accepts_its_finding_until_its_day() {
    let faulty = TRANSFER.to_owned()
        + "\naccept kit pairs at \"Transfer\" because \"Boxes hang at the door.\" until 1 May 2027\n";
    let on = |day: &str| session::check(read(&faulty), Day::from_iso(day));
    let pairs = |checked: &Checked| {
        let found = checked.findings.iter().find(|finding| finding.name.to_string() == "kit pairs").unwrap();
        found.accepted.clone()
    };
    assert_eq!(pairs(&on("2027-05-01")).as_deref(), Some("Boxes hang at the door. (until 1 May 2027)"));
    assert_eq!(pairs(&on("2027-05-02")), None);
    assert!(on("2027-05-02").findings.iter().any(|finding| finding.name.to_string() == "paper lapsed"));
    let elsewhere = faulty.replace("at \"Transfer\"", "at \"Taking off\"");
    assert_eq!(pairs(&session::check(read(&elsewhere), Day::from_iso("2026-11-24"))), None);
}

#[test]
fn an_unapproved_policy_is_a_draft_and_says_why() {
    let reasons = session::draft_reasons(&check(TRANSFER));
    assert!(reasons.iter().any(|reason| reason.sentence() == "Nobody has approved this edition."), "{reasons:?}");
    let late = session::check(read(SIDE_ROOM), Day::from_iso("2027-10-01"));
    assert!(session::draft_reasons(&late).iter().any(|reason| reason.sentence().contains("30 September 2027")));
    assert!(
        session::draft_reasons(&session::check(read(SIDE_ROOM), Day::from_iso("2027-09-30")))
            .iter()
            .all(|reason| !reason.sentence().contains("review"))
    );
}

#[test]
fn a_file_of_shared_items_is_checked_alone() {
    let checked = session::check(session::read("shared-stores.ppe", SHARED, &Folder::default()), None);
    assert_eq!(checked.reading.problems, []);
    assert!(!checked.reading.policy.paper.is_policy);
    assert!(checked.findings.is_empty(), "{:#?}", checked.findings);
    insta::assert_snapshot!("shared_examined", format!("{:#?}", checked.examined));
}

/// Numbers that look random and are the same on every machine (xorshift, Marsaglia 2003).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % sides.max(1) as u64) as usize
    }
}

#[test]
fn mangled_policies_never_stop_the_program() {
    let mut dice = Dice(0x5eed_1234_5678_9abc);
    for round in 0..120 {
        let sample = [ISOLATION, SIDE_ROOM, TRANSFER, SHARED][round % 4];
        let mut lines: Vec<String> = sample.lines().map(str::to_owned).collect();
        for _ in 0..1 + dice.roll(12) {
            let (at, other) = (dice.roll(lines.len()), dice.roll(lines.len()));
            match dice.roll(6) {
                0 => drop(lines.remove(at)),
                1 => lines.swap(at, other),
                2 => {
                    let line = lines[other].clone();
                    lines.insert(at, line);
                }
                3 => {
                    let words: Vec<&str> = lines[at].split(' ').collect();
                    let word = dice.roll(words.len());
                    let kept: Vec<&str> =
                        words.iter().enumerate().filter(|(at, _)| *at != word).map(|(_, w)| *w).collect();
                    lines[at] = kept.join(" ");
                }
                4 => {
                    let words: Vec<String> = lines[other].split(' ').map(str::to_owned).collect();
                    let word = words[dice.roll(words.len())].clone();
                    lines[at] = format!("{} {word}", lines[at]);
                }
                _ => {
                    let cut = dice.roll(lines[at].chars().count() + 1);
                    lines[at] = lines[at].chars().take(cut).collect();
                }
            }
        }
        let checked = check(&lines.join("\n"));
        assert_eq!(checked.fingerprint.len(), 8);
        let again = check(&lines.join("\n"));
        assert_eq!(checked.fingerprint, again.fingerprint);
        assert_eq!(checked.findings.len(), again.findings.len());
    }
}

/// Two letters changed places in a word of the language or in a name: one message at most, and nothing follows from it.
/// What a policy may put in any words (`for soft clinical waste`, `chlorine`) and names that nothing uses give none.
#[test]
fn a_slip_of_the_keyboard_gives_one_message() {
    let (mut slips, mut told) = (0, 0);
    for sample in [ISOLATION, TRANSFER, SIDE_ROOM] {
        let known = |checked: &Checked| -> Vec<(String, u32)> {
            let place = |span| checked.reading.sources.start(span).line;
            checked.findings.iter().map(|finding| (finding.name.to_string(), place(finding.span))).collect()
        };
        let before = known(&check(sample));
        let lines: Vec<&str> = sample.lines().collect();
        for (at, line) in lines.iter().enumerate().filter(|(_, line)| !line.starts_with("note")) {
            let outside = line.split('"').next().unwrap_or_default();
            let words = outside.split(' ').filter(|word| word.len() >= 5 && word.chars().all(char::is_alphabetic));
            for (number, word) in words.enumerate().filter(|(number, _)| (number + at) % 4 == 0) {
                let mut letters: Vec<char> = word.chars().collect();
                let middle = letters.len() / 2;
                if letters[middle] == letters[middle - 1] {
                    continue;
                }
                letters.swap(middle, middle - 1);
                let slip = line.replacen(word, &letters.iter().collect::<String>(), 1);
                let mut changed = lines.clone();
                changed[at] = &slip;
                let after = known(&check(&changed.join("\n")));
                let new: Vec<_> = after.iter().filter(|finding| !before.contains(finding)).collect();
                assert!(new.len() <= 1, "{}: {slip} (word {number}): {new:?}", at + 1);
                assert!(new.iter().all(|(name, _)| name.starts_with("reading ")), "{slip}: {new:?}");
                slips += 1;
                told += new.len();
            }
        }
    }
    assert!(slips > 200 && told * 100 > slips * 94, "{told} of {slips} told");
}

/// HOUSE.md: one mistake, one message. What is made of a line that matches no sentence is not told a second time.
#[test]
fn a_line_far_from_the_language_gives_one_message() {
    for (right, wrong) in [
        ("  wearer puts on boots\n", "  wearer gloves fresh again\n"),
        ("go back to \"Face\"", "go back to the start"),
        ("helper helps wearer put on apron", "helper helps the patient on with apron"),
    ] {
        assert!(ISOLATION.contains(right), "{right}");
        let told = read(&ISOLATION.replacen(right, wrong, 1)).problems;
        assert_eq!(told.len(), 1, "{wrong}: {told:#?}");
        assert!(matches!(told[0].kind, ProblemKind::Line { .. }), "{wrong}: {told:#?}");
    }
}

/// Ten mistakes of ten kinds in one file: ten messages, each at its line, and nothing that follows from them.
#[test]
fn ten_mistakes_give_ten_messages() {
    let mut text = ISOLATION.replacen(
        "  wearer wipes boots with chlorine wipe\n",
        "  wearer checks inner gloves\n  wearer wipes boots with chlorine wipe\n  wearer takes off boots\n",
        1,
    );
    assert_eq!(check(&text).findings.len(), 0, "{:#?}", check(&text).findings);
    let mistakes = [
        ("review by 1 June 2027", "review by 31 June 2027"),
        ("spreads by contact, droplet", "spreads by contact, dropplet"),
        ("  holds 60 litres", "  holds 60 minutes"),
        ("item helper gown", "item hood\nitem helper gown"),
        ("  keep covered hands", "  keep covered hands and\n  covers hair\n  keep covered hands"),
        ("go back to \"Face\"", "go back to \"Fase\""),
        ("helper wipes apron with chlorine wipe, if", "helper wipes aporn with chlorine wipe, if"),
        ("  wearer takes off goggles by headband", "  end if\n  wearer takes off goggles by headband"),
        ("then start \"Possible exposure\"\ncontingency", "then start \"Possible exposures\"\ncontingency"),
        ("print poster of \"Putting on\"", "print postr of \"Putting on\""),
    ];
    for (from, to) in mistakes {
        assert!(text.contains(from), "{from}");
        text = text.replacen(from, to, 1);
    }
    let checked = check(&text);
    let told: Vec<String> = checked
        .findings
        .iter()
        .map(|finding| {
            let at = checked.reading.sources.start(finding.span);
            format!("{}:{} {}: {} “{}”", at.line, at.column, finding.name, finding.title, finding.sentence)
        })
        .collect();
    insta::assert_snapshot!("ten_mistakes", told.join("\n"));
}

/// HOUSE.md: one mistake, one message. What cannot be read of a drill, or of the steps that it breaks into, is not played in it.
#[test]
fn an_unread_line_of_a_drill_or_of_its_level_is_told_alone() {
    let whole = include_str!("../../src/faces/cli/first-policy.ppe");
    let unread = [
        ("  then carry on", "  then continue"),
        ("  wearer puts on fresh gloves", "  wearer gets fresh gloves"),
        ("  wearer takes off gown by ties,", "  wearer gown by its ties away,"),
        ("when gloves are torn", "whenever torn gloves"),
    ];
    let told = |text: &str| -> Vec<String> {
        let checked = crate::policies::checked_text(text, Day::new(2026, 12, 2).unwrap());
        checked.findings.iter().map(|finding| format!("{}: {}", finding.name, finding.sentence)).collect()
    };
    let known = told(whole);
    for (right, wrong) in unread {
        assert!(whole.contains(right), "{right}");
        let mut new = told(&whole.replacen(right, wrong, 1));
        new.retain(|finding| !known.contains(finding));
        assert_eq!(new.len(), 1, "{wrong}: {new:#?}");
        assert!(new[0].starts_with("reading "), "{wrong}: {new:#?}");
    }
}
