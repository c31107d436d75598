//! Aids in other scripts as poppler reads them back: every word of the plan, letter by letter, in the order of reading.

use std::collections::BTreeSet;

use anteroom::aids;
use anteroom::aids::plan::{Aid, Body, PrintPlan, Row};
use anteroom::policy::{Day, PaperSize};
use anteroom::translation::WordFile;
use anteroom::typeset::typeset;
use serde_json::Value;

use crate::languages::filled_with;
use crate::oracle::{program, python};
use crate::policies::checked;

/// The demonstration in another language, by its word file, which lacks nothing.
fn plan(tag: &str) -> PrintPlan {
    let checked = checked("policies/side-rooms.ppe", Day::new(2026, 12, 1).unwrap());
    let words = std::fs::read_to_string(format!("policies/side-rooms.{tag}.words")).unwrap();
    let (plan, told) = aids::plan_in(&checked, tag, &WordFile::read(&words, aids::allowed_of(tag)));
    assert_eq!(told.lines, [""; 0], "{tag}");
    plan
}

/// The same with words that hold many of the letters of its script.
fn plan_of_many_letters(tag: &str) -> PrintPlan {
    let checked = checked("policies/side-rooms.ppe", Day::new(2026, 12, 1).unwrap());
    let file = filled_with(&checked, tag, |at| match tag {
        "hi" => format!("क्षत्रिय स्वास्थ्य कर्मियों की उँगलियाँ द्वारा {at}"),
        "ar" => format!("أبجد هوز حطي كلمن سعفص قرشت ثخذ ضظغ {at}"),
        _ => format!("zażółć gęślą jaźń ŵyneb ŷd {at}"),
    });
    aids::plan_in(&checked, tag, &file).0
}

fn words(text: &str) -> BTreeSet<String> {
    // Poppler writes marks of direction where it turns, and puts the vowel marks of Arabic beside one letter or the next.
    let turns = |c: char| matches!(u32::from(c), 0x200E..=0x200F | 0x202A..=0x202E | 0x2066..=0x2069);
    let is_vowel_mark = |c: char| matches!(u32::from(c), 0x064B..=0x0652);
    let text = text.chars().filter(|&c| !is_vowel_mark(c)).map(|c| if turns(c) { ' ' } else { c });
    let text: String = text.collect();
    // A hyphen at a line's end parts a word; the form feed parts pages.
    let text = text.replace("-\n", "").replace('\u{c}', "\n").to_lowercase();
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

fn told(value: &Value, found: &mut String) {
    match value {
        Value::String(text) => {
            found.push_str(text);
            found.push('\n');
        }
        Value::Array(items) => items.iter().for_each(|item| told(item, found)),
        // What is seen and not read: keys of drawings and their alternative texts, kinds, layers' own names on hand cards.
        Value::Object(fields) => {
            let read = fields.iter().filter(|(key, _)| !["pictogram", "signal", "layers"].contains(&key.as_str()));
            read.for_each(|(_, field)| told(field, found));
        }
        _ => {}
    }
}

fn read_back(aid: &Aid, options: &[&str]) -> String {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("aid.pdf").to_string_lossy().into_owned();
    std::fs::write(&path, typeset(aid).unwrap_or_else(|fault| panic!("{fault}")).pdf).unwrap();
    program("pdftotext", &[options, &[&path, "-"]].concat())
}

#[test]
fn every_word_of_every_language_is_read_back_from_its_cards() {
    for tag in aids::languages().into_iter().filter(|tag| *tag != "en") {
        let aids = [plan(tag), plan_of_many_letters(tag)].map(|plan| plan.aids);
        let cards: Vec<&Aid> = aids.iter().flatten().filter(|aid| aid.file.starts_with("wearer-card")).collect();
        assert!(!cards.is_empty());
        for card in cards {
            // The words that fill in for a translation are longer than a hospital's.
            let card = &Aid { paper: PaperSize::A5, ..card.clone() };
            assert_eq!(card.right_to_left, tag == "ar");
            let mut all = String::new();
            let control = &card.control;
            let told_of = serde_json::json!([card.title, card.body, control.caution, control.edition, card.marking]);
            told(&told_of, &mut all);
            let read = read_back(card, &[]);
            let known = words(&read);
            // Poppler takes the room beside some marks of Devanagari for a space: there the letters are compared without.
            let letters: String = read.split(|c: char| !c.is_alphanumeric()).collect();
            let is_read = |word: &String| known.contains(word) || tag == "hi" && letters.contains(word.as_str());
            let lost: Vec<String> = words(&all).into_iter().filter(|word| !is_read(word)).collect();
            assert!(lost.is_empty(), "{tag} {}: {lost:?} of {read}", card.file);
        }
    }
}

/// Wherever the lines of a foot break: a dot ends one, or stands in its middle. The rule is the project's own.
#[test]
fn no_line_begins_with_the_dot_that_parts_it_from_the_last() {
    for tag in ["pl", "hi"] {
        let card = plan(tag).aids.into_iter().find(|aid| aid.file.starts_with("wearer-card")).expect("a card");
        let mut ended = 0;
        for letters in 5..15 {
            let mut card = Aid { paper: PaperSize::A5, ..card.clone() };
            card.control.site = "W".repeat(letters);
            let read = read_back(&card, &[]);
            let dotted = read.lines().find(|line| line.trim_start().starts_with('·'));
            assert_eq!(dotted, None, "{tag}, {letters} letters: {read}");
            ended += read.lines().filter(|line| line.trim_end().ends_with('·')).count();
        }
        assert!(ended > 0, "{tag}: no line broke at a dot");
    }
}

/// Wherever the lines of a step break: its last word has another beside it, and no Polish line ends with a word of one letter.
/// Typesetters' common practice, no source.
#[test]
fn no_last_word_stands_alone() {
    let mut card = plan("pl").aids.into_iter().find(|aid| aid.file.starts_with("wearer-card")).expect("a card");
    card.paper = PaperSize::A5;
    let mut broken = 0;
    for letters in 8..26 {
        let Body::Steps(steps) = &mut card.body else { panic!("a card has steps") };
        for row in steps.bands.iter_mut().flat_map(|band| &mut band.rows) {
            if let Row::Step(step) = row {
                step.act = format!("Zdjąć {} z fartuchem w brodziku", "n".repeat(letters));
                step.detail = format!("Zawsze odkładać {} do pudła i myć dłonie", "n".repeat(2 * letters));
            }
        }
        let read = read_back(&card, &[]);
        let lines: Vec<&str> = read.lines().map(str::trim).collect();
        let alone: Vec<&&str> = lines.iter().filter(|line| ["brodziku", "dłonie"].contains(line)).collect();
        assert!(alone.is_empty(), "{letters} letters: {read}");
        let forlorn = |line: &str| [" w", " z", " i"].iter().any(|end| line.ends_with(end));
        let steps = lines.iter().filter(|line| line.contains("nn") || line.contains("fartuchem"));
        assert!(steps.clone().all(|line| !forlorn(line)), "{letters} letters: {read}");
        broken += lines.iter().filter(|line| ["w brodziku", "myć dłonie", "i myć dłonie"].contains(line)).count();
    }
    assert!(broken > 5, "{broken}");
}

/// Unicode Standard Annex 9: words of a script that is read from the left keep their order in lines that are read from the right.
#[test]
fn names_of_another_script_keep_their_order() {
    let name = "Kestrel Moor Hospital";
    for aid in plan("ar").aids {
        assert_eq!(aid.control.site, name);
        // Near enough for the door signs.
        let aid = Aid { read_from_mm: aid.read_from_mm.map(|_| 1_000), ..aid };
        let told = read_back(&aid, &["-bbox", "-l", "1"]);
        let placed = told.lines().filter(|line| line.contains("<word"));
        // Poppler tells the words of a line in some order; here they are put from left to right.
        let mut words: Vec<(i64, i64, &str)> = placed
            .filter_map(|line| {
                let place = |key: &str| line.split(key).nth(1)?.split('"').nth(1)?.parse::<f64>().ok();
                let word = line.split('>').nth(1)?.split('<').next()?;
                Some((place("yMin")?.round() as i64, place("xMin")?.round() as i64, word))
            })
            .filter(|(.., word)| word.bytes().all(|byte| byte.is_ascii_alphabetic()))
            .collect();
        words.sort_unstable();
        let words: Vec<&str> = words.into_iter().map(|(.., word)| word).collect();
        assert!(words.join(" ").contains(name), "{}: {words:?}", aid.file);
    }
}

/// The words lie in the file beside the policy, as its source (ISO 32000-2, 7.11.3); read by pikepdf.
#[test]
fn a_translation_holds_the_words_that_it_was_printed_by() {
    let aid = plan("fr").aids.into_iter().find(|aid| aid.file.starts_with("incident-form")).expect("a form");
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("aid.pdf").to_string_lossy().into_owned();
    std::fs::write(&path, typeset(&aid).unwrap().pdf).unwrap();
    let told: Value = serde_json::from_str(&python("pdf_facts.py", &[&path], "")).unwrap();
    for name in ["side-rooms.ppe", "common.ppe", "side-rooms.fr.words"] {
        let text = std::fs::read_to_string(format!("policies/{name}")).unwrap();
        assert_eq!(told[0]["attached"][name], serde_json::json!([text, "/Source"]), "{name}");
    }
    assert_eq!(told[0]["attached"].as_object().map(|files| files.len()), Some(3));
    assert_eq!(told[0]["metadata"]["pdfaid:part"], "3");
    program("qpdf", &["--check", &path]);
}

#[test]
fn every_aid_of_every_language_is_set() {
    for tag in aids::languages().into_iter().filter(|tag| *tag != "en") {
        let plan = plan(tag);
        let unset: Vec<String> =
            plan.aids.iter().filter_map(|aid| typeset(aid).err()).map(|fault| fault.to_string()).collect();
        // Only what is too long to be read from its distance on its paper is not, and is told with the paper that would do.
        assert!(
            unset.iter().all(|fault| fault.contains("cannot be read from") && fault.contains("Print it on")),
            "{unset:?}"
        );
        assert!(unset.len() < plan.aids.len() / 4, "{tag}: {unset:?}");
        assert!(plan.aids.iter().all(|aid| aid.file.ends_with(&format!("-{tag}"))));
    }
}
