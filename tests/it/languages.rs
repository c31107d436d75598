//! Aids in other languages: the words of each language against the original's, word files, and what is a draft and why.
//! Tags are looked up by the PyPI package langcodes. That a translation has as many steps as its source and the same
//! figures follows from what a translation is; no outside source.

use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, Instant};

use anteroom::aids;
use anteroom::aids::plan::PrintPlan;
use anteroom::policy::Day;
use anteroom::session::Checked;
use anteroom::translation::{WordFile, is_tag, texts_of, written};
use serde_json::Value;

use crate::commands::{run, ward};
use crate::fuzz::text_changes::{Dice, changed_often};
use crate::oracle::python;
use crate::policies::checked;

const POLICY: &str = "policies/side-rooms.ppe";

fn side_rooms() -> Checked {
    checked(POLICY, Day::new(2026, 12, 1).unwrap())
}

fn words_of(tag: &str) -> Value {
    let name = if tag == "en" { "en-GB" } else { tag };
    serde_json::from_str(&std::fs::read_to_string(format!("src/aids/words/{name}.json")).unwrap()).unwrap()
}

fn others() -> Vec<&'static str> {
    aids::languages().into_iter().filter(|tag| *tag != "en").collect()
}

/// Every text by its path.
fn flat(value: &Value) -> BTreeMap<String, String> {
    fn walk(value: &Value, path: &str, found: &mut BTreeMap<String, String>) {
        match value {
            Value::Object(fields) => {
                fields.iter().for_each(|(key, value)| walk(value, &format!("{path}/{key}"), found))
            }
            Value::Array(items) => {
                items.iter().enumerate().for_each(|(at, value)| walk(value, &format!("{path}/{at}"), found));
            }
            Value::String(text) => {
                found.insert(path.to_owned(), text.clone());
            }
            _ => {}
        }
    }
    let mut found = BTreeMap::new();
    walk(value, "", &mut found);
    found
}

fn slots(pattern: &str) -> BTreeSet<String> {
    let names = pattern.split('{').skip(1).filter_map(|rest| rest.split('}').next());
    names.map(|name| name.split(':').next().unwrap_or_default().replace('’', "").to_lowercase()).collect()
}

/// What is each language's own, with as many texts as it needs.
fn is_its_own(path: &str) -> bool {
    let own = ["/agreement", "/not_made", "/said_already", "/approved_by", "/counting", "/time/hour", "/time/minute"];
    own.iter()
        .chain(&["/time/second", "/nouns/singular_endings", "/nouns/name_ends_before"])
        .any(|own| path.starts_with(own))
}

#[test]
fn every_language_has_the_keys_and_the_slots_of_the_original() {
    // They say only in what number or gender something is.
    let may_fall = ["it", "its", "verb", "not", "copies"].map(String::from);
    let english: BTreeMap<_, _> = flat(&words_of("en")).into_iter().filter(|(path, _)| !is_its_own(path)).collect();
    assert!(english.len() > 300);
    for tag in others() {
        let other: BTreeMap<_, _> = flat(&words_of(tag)).into_iter().filter(|(path, _)| !is_its_own(path)).collect();
        let missing: Vec<&String> = english.keys().filter(|path| !other.contains_key(*path)).collect();
        let besides: Vec<&String> = other.keys().filter(|path| !english.contains_key(*path)).collect();
        assert!(missing.is_empty() && besides.is_empty(), "{tag} lacks {missing:?}, has besides {besides:?}");
        for (path, pattern) in &english {
            let (asked, given) = (slots(pattern), slots(&other[path]));
            let lost: Vec<&String> = asked.difference(&given).filter(|slot| !may_fall.contains(slot)).collect();
            let new: Vec<&String> = given.difference(&asked).collect();
            assert!(lost.is_empty() && new.is_empty(), "{tag} {path}: lost {lost:?}, new {new:?}");
            assert_eq!(pattern.is_empty(), other[path].is_empty(), "{tag} {path}");
        }
    }
}

#[test]
fn every_form_that_a_pattern_asks_for_is_one_that_a_word_file_can_give() {
    for tag in others() {
        let words = words_of(tag);
        let list = |key: &str| -> Vec<String> { serde_json::from_value(words["agreement"][key].clone()).unwrap() };
        let (classes, forms) = (list("classes"), list("forms"));
        for (path, pattern) in flat(&words) {
            let asked = pattern.split('{').skip(1).filter_map(|rest| rest.split('}').next());
            for (_, form) in asked.filter_map(|slot| slot.split_once(':')) {
                assert!(form == "*" || forms.iter().any(|known| known == form), "{tag} {path}: {form}");
            }
        }
        for key in words["agreement"]["nouns"].as_object().unwrap().keys() {
            let (kind, class) = key.split_once(' ').unwrap();
            assert!(words["nouns"].get(kind).is_some() || kind == "fresh", "{tag} {key}");
            assert!(classes.iter().any(|known| known == class), "{tag} {key}");
        }
        for unit in ["hour", "minute", "second"] {
            let counted = match words["counting"].as_str().unwrap() {
                "english" => 2,
                "polish" => 3,
                _ => 5,
            };
            let patterns = words["time"][unit].as_array().unwrap();
            assert_eq!(patterns.len(), counted, "{tag} {unit}");
            assert!(patterns.iter().all(|pattern| pattern.as_str().unwrap().contains("{count}")), "{tag} {unit}");
        }
    }
}

#[test]
fn the_tags_are_those_of_the_languages() {
    let told = python("tags.py", &[], &aids::languages().join("\n"));
    let names = [
        "en valid English",
        "fr valid French",
        "cy valid Welsh",
        "pl valid Polish",
        "ar valid Arabic",
        "hi valid Hindi",
    ];
    for (line, tag) in told.lines().zip(aids::languages()) {
        assert!(is_tag(tag));
        assert!(names.contains(&line), "{line}");
    }
    for odd in ["", "f", "french-", "fr_FR", "fr--CA", "../fr", "fr/..", "fr.x"] {
        assert!(!is_tag(odd), "{odd}");
    }
}

/// A word file in which every text is told in letters that no language of the program has.
fn filled(checked: &Checked, tag: &str) -> WordFile {
    filled_with(checked, tag, |at| format!("Ωψ{at}"))
}

/// A word file with words of the test's own for every text.
pub fn filled_with(checked: &Checked, tag: &str, words: impl Fn(usize) -> String) -> WordFile {
    let policy = &checked.reading.policy;
    let empty = written(policy, tag, &checked.fingerprint, &WordFile::default());
    let mut at = 0;
    let lines = empty.lines().map(|line| match line.strip_suffix(" is \"\"") {
        Some(begun) => {
            at += 1;
            format!("{begun} is \"{}\"", words(at))
        }
        None => line.to_owned(),
    });
    let signed = ["translated by \"A\" on 1 October 2026", "checked back by \"B\" on 2 October 2026"].map(String::from);
    let text: Vec<String> = lines.chain(signed).collect();
    let file = WordFile::read(&text.join("\n"), aids::allowed_of(tag));
    assert_eq!(file.mistakes, []);
    assert_eq!(file.entries.len(), texts_of(policy).len());
    file
}

/// What is said aloud is left out where the act says it as it stands, and a detail where a prompt does: by the words of
/// each language.
fn shape(value: &Value, path: &str, found: &mut Vec<String>) {
    match value {
        _ if path.ends_with("/say") || path.ends_with("/detail") => {}
        Value::Object(fields) => fields.iter().for_each(|(key, value)| shape(value, &format!("{path}/{key}"), found)),
        Value::Array(items) => {
            found.push(format!("{path} {}", items.len()));
            items.iter().enumerate().for_each(|(at, value)| shape(value, &format!("{path}/{at}"), found));
        }
        Value::String(text) if path.ends_with("/key") => found.push(format!("{path} {text}")),
        Value::String(text) => found.push(format!("{path} {}", text.is_empty())),
        other => found.push(format!("{path} {other}")),
    }
}

fn shape_of(plan: &PrintPlan) -> Vec<String> {
    let mut found = Vec::new();
    for (at, aid) in plan.aids.iter().enumerate() {
        shape(&serde_json::to_value(&aid.body).unwrap(), &format!("{at}"), &mut found);
        found.push(format!("{at} {:?} {:?} {}", aid.layout, aid.paper, aid.copies.len()));
    }
    found
}

#[test]
fn a_translation_has_the_steps_the_figures_and_the_pictograms_of_its_source() {
    for policy in [POLICY, "policies/negative-pressure-room.ppe", "policies/assessment-suite.ppe"] {
        let checked = checked(policy, Day::new(2026, 12, 1).unwrap());
        let source = shape_of(&aids::plan(&checked));
        assert!(source.len() > 500);
        for tag in others() {
            let (plan, told) = aids::plan_in(&checked, tag, &filled(&checked, tag));
            assert_eq!(told.lines, [] as [String; 0], "{policy} {tag}");
            let translated = shape_of(&plan);
            let differs: Vec<_> = source.iter().zip(&translated).filter(|(a, b)| a != b).collect();
            assert!(differs.is_empty() && source.len() == translated.len(), "{policy} {tag}: {differs:#?}");
        }
    }
}

#[test]
fn nothing_of_the_original_is_left_in_a_whole_translation() {
    let checked = side_rooms();
    let strings = |plan: &PrintPlan| {
        let aids =
            plan.aids.iter().map(|aid| serde_json::json!([aid.title, aid.kind, aid.copies, aid.body, aid.labels]));
        flat(&Value::Array(aids.collect()))
    };
    let english = strings(&aids::plan(&checked));
    // Sources, standards and sizes stay as they are; some words are the same in two languages.
    let stays = ["EN ", "World Health", "Centers for", "JAMA", "S, M, L", "ppm"];
    let same = ["date", "date du", "stop", "page {n}", "contact", "danger", "plan", "poster"];
    for tag in others() {
        let other = strings(&aids::plan_in(&checked, tag, &filled(&checked, tag)).0);
        let left: Vec<_> = other
            .iter()
            .filter(|(path, text)| !path.ends_with("/key") && english.get(*path) == Some(*text))
            .filter(|(_, text)| text.chars().filter(|letter| letter.is_alphabetic()).count() > 3)
            .filter(|(path, text)| !path.ends_with("/signal") && !stays.iter().any(|stays| text.contains(stays)))
            .filter(|(path, text)| {
                let is_symbol =
                    ["snake", "row", "words", "blank", "tick", "clean", "contaminated"].contains(&text.as_str());
                !same.contains(&text.to_lowercase().as_str()) && !is_symbol && !path.ends_with("/kind")
            })
            .collect();
        assert!(left.is_empty(), "{tag}: {left:#?}");
    }
}

fn drafts(change: impl Fn(&mut String)) -> (Vec<String>, Vec<String>) {
    let checked = side_rooms();
    let text = std::fs::read_to_string("policies/side-rooms.fr.words").unwrap();
    let lines = text.lines().filter(|line| !line.starts_with("of fingerprint"));
    let mut text =
        lines.chain([format!("of fingerprint {}", checked.fingerprint).as_str()]).collect::<Vec<_>>().join("\n");
    change(&mut text);
    let file = WordFile::read(&text, aids::allowed_of("fr"));
    let (plan, told) = aids::plan_in(&checked, "fr", &file);
    assert!(plan.aids.iter().all(|aid| aid.marking == plan.aids[0].marking), "every face says the same");
    let marking = plan.aids[0].marking.clone();
    (marking.map(|marking| [marking.reasons, marking.original].concat()).unwrap_or_default(), told.lines)
}

#[test]
fn a_stale_an_unsigned_or_an_unfinished_translation_prints_as_a_draft_in_both_languages() {
    let prevails = "Translation of edition 3; the English text prevails.";
    let cases: [(&str, &str, &str, &str); 4] = [
        ("of fingerprint", "of fingerprint 00000000\nnote", "has changed since it was translated", "a changé depuis"),
        ("checked back by", "note", "Nobody has checked this translation back.", "retraduisant"),
        ("translated by", "note", "Nobody has signed this translation.", "signé"),
        ("title \"Hands\"", "note", "Texts without a translation: 1.", "sans traduction\u{a0}: 1."),
    ];
    let (fresh, lines) = drafts(|_| ());
    assert!(lines.is_empty(), "{lines:?}");
    for (line, instead, english, french) in cases {
        assert!(!fresh.iter().any(|reason| reason.contains(english) || reason.contains(french)), "{fresh:?}");
        let (draft, _) = drafts(|text| *text = text.replace(line, instead));
        for words in [english, french, prevails, "le texte anglais prévaut"] {
            assert!(draft.iter().any(|reason| reason.contains(words)), "{line}: no {words} in {draft:?}");
        }
    }
    // The program's own words are drafts until a person who speaks the language approves them.
    assert!(fresh.iter().any(|reason| reason.contains("Nobody has approved the program’s own words")), "{fresh:?}");
    assert!(words_of("fr")["approved_by"].is_null());
}

/// What makes a draft of the policy itself is told in the language of the aid too.
#[test]
fn the_reasons_of_a_draft_are_told_in_both_languages() {
    let text = std::fs::read_to_string("policies/side-rooms.ppe").unwrap();
    let text = text.replace("use \"common.ppe\"", &std::fs::read_to_string("policies/common.ppe").unwrap());
    let text = text.lines().filter(|line| !line.starts_with("approved by")).collect::<Vec<_>>().join("\n");
    let checked = crate::policies::checked_text(&text, Day::new(2028, 1, 1).unwrap());
    for (tag, reasons) in [
        ("fr", ["Personne n’a approuvé cette édition.", "La date de révision, le 30 septembre 2027, est passée."]),
        ("ar", ["لم يوافق أحد على هذا الإصدار.", "انقضى موعد المراجعة، 30 سبتمبر 2027."]),
    ] {
        let (plan, told) = aids::plan_in(&checked, tag, &filled(&checked, tag));
        let english = ["Nobody has approved this edition.", "The review date, 30 September 2027, has passed."];
        let marking = plan.aids[0].marking.clone().expect("a draft");
        assert!(reasons.iter().all(|&reason| marking.reasons.iter().any(|told| told == reason)), "{marking:?}");
        assert!(english.iter().all(|&reason| marking.original.iter().any(|told| told == reason)), "{marking:?}");
        assert_eq!(told.marking.expect("a draft").reasons, marking.original, "{tag}");
    }
}

#[test]
fn a_missing_text_is_told_once_and_marked_where_it_is_printed() {
    let checked = side_rooms();
    let text = std::fs::read_to_string("policies/side-rooms.fr.words").unwrap();
    let text = text.replace("item \"gloves\" is \"gants\"", "item \"gloves\" is \"\"");
    let (plan, told) = aids::plan_in(&checked, "fr", &WordFile::read(&text, aids::allowed_of("fr")));
    assert_eq!(told.lines, ["No words for: item \"gloves\"."]);
    let printed = serde_json::to_string(&plan).unwrap();
    assert!(printed.contains("Retirer l’article «\u{202f}[en: gloves]\u{202f}»"), "in no form that might be wrong");
}

#[test]
fn mistakes_in_a_word_file_are_told_by_line_each_once() {
    let cases = [
        ("item \"apron\" is \"tablier", "not closed"),
        ("itme \"apron\" is \"tablier\"", "Is “item” meant?"),
        ("item \"apron\" \"tablier\"", "item \"as in the policy\" is \"translated\""),
        ("item \"apron\" is \"tablier\", manly", "masculine, feminine, elided, plural"),
        ("item \"apron\" is \"tablier\", gen \"x\"", "no form of this language"),
        ("item \"apron\" is \"tablier\" \"x\"", "what form it is"),
        ("translated by \"A\" on 31 February 2026", "Write the date as"),
        ("translated \"A\"", "Write this line as: translated by"),
        ("of fingerprint 12345", "eight digits"),
        ("words for \"T\" in f", "as its tag"),
        ("of fingerprint 00000001", "says this already"),
        ("item \"gloves\" is \"gants\"", "Line 2 has words"),
        ("blah", "not understood"),
    ];
    for (line, told) in cases {
        let text = format!("of fingerprint 1a2b3c4d\nitem \"gloves\" is \"gants\", plural\n\n{line}\n");
        let file = WordFile::read(&text, aids::allowed_of("fr"));
        let [mistake] = file.mistakes.as_slice() else { panic!("{line}: {:?}", file.mistakes) };
        assert_eq!(mistake.line, 4, "{line}");
        assert!(mistake.why.contains(told), "{line}: {}", mistake.why);
        assert!(
            mistake.why.split_inclusive(['.', '?']).all(|sentence| sentence.split(' ').count() <= 20),
            "{}",
            mistake.why
        );
    }
}

#[test]
fn whatever_a_word_file_holds_it_is_read_soon_and_written_as_it_was_understood() {
    let checked = side_rooms();
    let policy = &checked.reading.policy;
    for entry in std::fs::read_dir("policies").unwrap().map(|entry| entry.unwrap().path()) {
        let name = entry.to_string_lossy().into_owned();
        let Some(tag) = name.strip_suffix(".words").and_then(|stem| stem.rsplit('.').next()) else { continue };
        let text = std::fs::read_to_string(&entry).unwrap();
        assert_eq!(WordFile::read(&text, aids::allowed_of(tag)).mistakes, []);
        for seed in 0..60 {
            let hostile = changed_often(&text, &text, 40, &mut Dice(seed));
            let start = Instant::now();
            let file = WordFile::read(&hostile, aids::allowed_of(tag));
            let again = WordFile::read(&written(policy, tag, "1a2b3c4d", &file), aids::allowed_of(tag));
            assert_eq!(again.mistakes, [], "seed {seed}");
            for entry in file.entries.iter().filter(|entry| !entry.target.is_empty()) {
                let kept = again.entry(entry.kind, &entry.source);
                assert_eq!(
                    kept.map(|kept| (&kept.target, &kept.class, &kept.forms)),
                    Some((&entry.target, &entry.class, &entry.forms))
                );
            }
            let _ = aids::plan_in(&checked, tag, &file);
            assert!(start.elapsed() < Duration::from_secs(20), "seed {seed}");
        }
    }
    let many: String = (0..60_000).map(|at| format!("say \"{at}\" is \"x\"\n")).collect();
    let start = Instant::now();
    assert_eq!(WordFile::read(&many, aids::allowed_of("fr")).entries.len(), 60_000);
    assert!(start.elapsed() < Duration::from_secs(10), "{:?}", start.elapsed());
}

#[test]
fn translate_begins_a_word_file_and_keeps_what_is_filled_in() {
    let ward = ward();
    for file in ["side-rooms.ppe", "common.ppe"] {
        std::fs::copy(format!("policies/{file}"), ward.path().join(file)).unwrap();
    }
    let (status, out, err) = run(&["print", "side-rooms.ppe", "--language", "fr"], ward.path());
    assert_eq!((status, out.contains("fingerprint")), (2, true));
    assert!(
        err.contains("There is no side-rooms.fr.words. To begin it: anteroom translate side-rooms.ppe --to fr"),
        "{err}"
    );
    let (status, out, _) = run(&["translate", "side-rooms.ppe", "--to", "fr"], ward.path());
    assert_eq!(status, 0, "{out}");
    assert!(out.contains("87 of them still to be translated"), "{out}");
    let path = ward.path().join("side-rooms.fr.words");
    let begun = std::fs::read_to_string(&path).unwrap();
    let mine =
        begun.replace("role \"wearer\" is \"\"", "note Ask the union.\nrole \"wearer\" is \"personne\", feminine");
    let mine = format!("{mine}say \"Old words.\" is \"Anciens mots.\"\n");
    std::fs::write(&path, &mine).unwrap();
    let (status, out, _) = run(&["translate", "side-rooms.ppe", "--to", "fr"], ward.path());
    assert!(status == 0 && out.contains("86 of them still") && out.contains("1 at its end"), "{out}");
    let again = std::fs::read_to_string(&path).unwrap();
    assert!(again.contains("note Ask the union.\nrole \"wearer\" is \"personne\", feminine\n"), "{again}");
    assert!(again.ends_with("\nsay \"Old words.\" is \"Anciens mots.\"\n"), "{again}");
    std::fs::write(&path, "item \"a\n").unwrap();
    let (status, _, err) = run(&["translate", "side-rooms.ppe", "--to", "fr"], ward.path());
    assert!(status == 2 && err.contains("left as it was. Put right line 1 first"), "{err}");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), "item \"a\n");
    let (status, _, err) = run(&["translate", "side-rooms.ppe", "--to", "xx"], ward.path());
    assert!(status == 2 && err.contains("the aids speak en, fr"), "{err}");
}
