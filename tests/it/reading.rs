//! The language: what is read, what is tidied, and what is told of a line that cannot be read. The samples are the
//! project's own; where a check leans on a standard, it says so.

use anteroom::syntax::problem::{Problem, ProblemKind};
use anteroom::syntax::tree::{Statement, Tree, What};
use anteroom::syntax::{Declared, declarations, parse, tidy};
use anteroom::text::{Source, SourceId};
use proptest::prelude::*;

const SHARED: &str = include_str!("../samples/shared-stores.ppe");
const SAMPLES: [(&str, &str); 4] = [
    ("side-room", include_str!("../samples/side-room.ppe")),
    ("isolation-suite", include_str!("../samples/isolation-suite.ppe")),
    ("transfer-team", include_str!("../samples/transfer-team.ppe")),
    ("shared-stores", SHARED),
];

fn declared(text: &str) -> Declared {
    let mut declared = declarations(SHARED);
    declared.extend(&declarations(text));
    declared
}

fn read(text: &str) -> (Tree, Vec<Problem>) {
    parse(SourceId(0), text, &declared(text))
}

fn tidied(text: &str) -> String {
    tidy(&read(text).0, text, &declared(text))
}

/// What was said, without the places at which it was said.
fn meaning(text: &str) -> Vec<String> {
    let said = |what: &What| match what {
        What::Statement(Statement::Note) => None,
        What::Statement(statement) => Some(format!("{statement:?}")),
        What::Hole => Some("a hole".to_owned()),
    };
    let placeless = |said: String| {
        let mut pieces = said.split("Span {");
        let first = pieces.next().unwrap_or_default().to_owned();
        pieces.fold(first, |so_far, piece| so_far + piece.split_once('}').map_or("", |(_, rest)| rest))
    };
    read(text).0.lines.iter().filter_map(|line| said(&line.what)).map(placeless).collect()
}

/// Each problem beneath its line, with a caret at its column.
fn told(text: &str) -> String {
    let source = Source::new("policy.ppe", text);
    let lines: Vec<&str> = text.split('\n').collect();
    let mut told = String::new();
    for problem in read(text).1 {
        let (start, end) = (source.position(problem.span.start), source.position(problem.span.end));
        let width = if end.line == start.line { end.column.saturating_sub(start.column).max(1) } else { 1 };
        told += &format!("{:>3} | {}\n", start.line, lines[start.line as usize - 1]);
        told += &format!("    | {}{}\n", " ".repeat(start.column as usize - 1), "^".repeat(width as usize));
        told += &format!("    {}\n\n", words(&problem.kind));
    }
    told
}

fn words(kind: &ProblemKind) -> String {
    match kind {
        ProblemKind::Line { seems, wanted } => {
            format!("fits: {}; like: {}", wanted.join(" | "), seems.as_deref().unwrap_or("nothing"))
        }
        other => format!("{other:?}"),
    }
}

#[test]
fn the_samples_are_read_whole() {
    for (name, text) in SAMPLES {
        let (tree, problems) = read(text);
        assert_eq!(problems, [], "{name}");
        let written = text.lines().filter(|line| !line.trim().is_empty()).count();
        assert_eq!(tree.lines.len(), written, "{name}");
        assert!(tree.lines.iter().all(|line| line.what != What::Hole), "{name}");
    }
}

#[test]
fn the_samples_are_tidy() {
    for (name, text) in SAMPLES {
        assert_eq!(tidied(text), text, "{name}");
    }
}

const KIT: &str = "role wearer\nrole helper\nplace lobby is clean\nplace room is contaminated\nitem gown\nitem gloves\n\
                   item apron\ncleaner hand rub\ncontainer bag for sharps\nlevel Contact against contact\n";

/// Each line has one mistake; each gives one message at the column where it stops making sense, and the line between
/// them is read as ever.
#[test]
fn ten_broken_lines_give_ten_messages() {
    let broken = [
        "place lobby",
        "way lobby via room",
        "  covers",
        "level Splash",
        "  keep skin many touches away",
        "sequence \"On\" for",
        "  wearer takes gown off by ties",
        "  wearer wipes apron hand rub",
        "    say \"Tie it\" at the neck",
        "print poster \"On\"",
    ];
    let text = broken.iter().map(|line| format!("{line}\nwearer puts on gown\n")).collect::<String>();
    let (tree, problems) = read(&(KIT.to_owned() + &text));
    assert_eq!(problems.len(), broken.len(), "{}", told(&(KIT.to_owned() + &text)));
    let steps = tree.lines.iter().filter(|line| matches!(line.what, What::Statement(Statement::Step(_)))).count();
    assert!(steps >= broken.len());
    insta::assert_snapshot!(told(&(KIT.to_owned() + &text)));
}

/// What people do wrong by habit or by a slip of the keyboard: pointed out, and understood.
#[test]
fn slips_are_told_and_understood() {
    let slips = [
        "itme hood",
        "sequense \"Off\" for Contact",
        "  wearer taks off gown by ties",
        "  wearer takes off gown buy ties into bag for sharps",
        "  wearer takes off gown by ties int bag for sharps",
        "  wearer goes too room",
        "  wearer puts gown on",
        "  wearer takes gown off",
        "  part Suit",
        "    say Tie at the neck, then at the waist",
        "    look for \"Tears",
        "  hold 'Ready'",
        "approved by \"Board\" on 2/11/2026",
        "in force from 2026-11-02",
        "review by Nov 2, 2026",
        "place lobby is claen",
        "item \"hood\" \"long hood\"",
        "    say Tie at the neck.\"",
        "  helper helps wearer take of gown",
        "  if gown is nto torn",
        "item into",
    ];
    assert_eq!(tidied("say Tie at the neck.\"\n"), "    say \"Tie at the neck.\"\n");
    assert_eq!(tidied("say Tie at the neck.\n"), "    say \"Tie at the neck.\"\n");
    let text = slips.iter().map(|line| format!("{line}\n")).collect::<String>();
    let whole = KIT.to_owned() + &text;
    let (tree, problems) = read(&whole);
    assert_eq!(problems.len(), slips.len(), "{}", told(&whole));
    assert!(tree.lines.iter().all(|line| line.what != What::Hole), "{}", told(&whole));
    insta::assert_snapshot!(told(&whole));
}

/// What nobody can read, and what would help.
#[test]
fn lines_that_nobody_can_read() {
    let lines = [
        "put on gown",
        "blah blah",
        "# a comment",
        "wearer",
        "wearer hops",
        "helper helps wearer gown",
        "wearer cleans hands",
        "wearer cleans hands with hand rub for 30",
        "wearer cleans gown with hand rub",
        "helper helps wearer take off gown by ties by cuff",
        "if gown is torn and apron is torn or gloves are torn",
        "if gown is torn, wearer puts on apron",
        "edition 4.5",
        "edition 99999999999999999999",
        "review by 2 Novemver 2026",
        "review by 31/02/2026",
        "    say \"Say “stop” now\"",
        "because \"x\" \"y\"",
        "accept order covered at \"On\" because \"x\" until",
        "\"\"",
        "wearer puts on gown and gloves",
        "wearer puts on gown, gloves",
        "two",
        ",",
    ];
    let text = lines.iter().map(|line| format!("{line}\n")).collect::<String>();
    let whole = KIT.to_owned() + &text;
    assert_eq!(read(&whole).1.len(), lines.len(), "{}", told(&whole));
    insta::assert_snapshot!(told(&whole));
}

/// A name may hold words of the language; the longest declared name wins.
#[test]
fn the_longest_declared_name_wins() {
    let text = "role wearer\nitem gloves\nitem gloves for hands\ncleaner soap and water\ncontainer bag for sharps\n\
                place room by the door is clean\nask splash is likely \"Splash?\"\n\
                wearer puts on gloves for hands\n\
                wearer cleans hands with soap and water for 40 seconds\n\
                wearer takes off gloves for hands by cuff into bag for sharps, if splash is likely\n\
                wearer goes to room by the door\n";
    assert_eq!(read(text).1, []);
    let steps = meaning(text)[7..].join("\n");
    for name in ["gloves for hands", "soap and water", "bag for sharps", "room by the door", "splash is likely"] {
        assert!(steps.contains(&format!("text: \"{name}\"")), "{name}:\n{steps}");
    }
}

/// As pasted from word processors, mail and web pages.
#[test]
fn pasted_text_is_read_as_if_it_were_typed() {
    let typed = "policy \"Side rooms\"\nrole wearer\nitem long-cuff gloves\ncontainer bin\n\
                 sequence \"Off\" for Contact\nwearer takes off long-cuff gloves by cuff into bin\nsay \"Slowly\"\n";
    let pasted = [
        typed.replace('\n', "\r\n"),
        typed.replace('\n', "\r"),
        typed.replace('\n', "\u{2028}"),
        format!("\u{feff}{typed}"),
        typed.replace(' ', "\u{a0}").replace("Side\u{a0}rooms", "Side rooms"),
        typed.replace("wearer takes", "wearer\t \u{2003}takes"),
        typed.replace("\"Side rooms\"", "“Side rooms”").replace("\"Off\"", "„Off“").replace("\"Slowly\"", "«Slowly»"),
        typed.replace("long-cuff", "long\u{2011}cuff"),
        typed.replace("long-cuff", "long–cuff"),
        typed.lines().map(|line| format!("  • {line}  \n")).collect(),
        typed.lines().map(|line| format!("\u{f0b7}\t{line}\n")).collect(),
        typed.lines().map(|line| format!("– {line}.\n")).collect(),
        typed.lines().map(|line| format!("o {line}\n")).collect(),
        typed.lines().enumerate().map(|(at, line)| format!("{}. {line}\n", at + 1)).collect(),
        typed.lines().enumerate().map(|(at, line)| format!("({}) {line}\n", at + 1)).collect(),
        typed.lines().map(|line| format!("a) {line};\n")).collect(),
        typed
            .to_uppercase()
            .replace("\"SIDE ROOMS\"", "\"Side rooms\"")
            .replace("\"OFF\"", "\"Off\"")
            .replace("\"SLOWLY\"", "\"Slowly\""),
        typed.replace("cuff into bin", "cuff,\n\n   into bin"),
        typed.replace("wearer takes", "The wearer: takes"),
    ];
    for text in pasted {
        assert_eq!(read(&text).1, [], "{text:?}");
        assert_eq!(meaning(&text), meaning(typed), "{text:?}");
    }
}

/// Unicode Standard Annex 15: a letter with its accent behind it is the letter with its accent.
#[test]
fn accents_may_be_typed_either_way() {
    let text = "role wearer\nitem masque étanche\nwearer puts on masque e\u{301}tanche\npart \"Apre\u{300}s\"\n";
    assert_eq!(read(text).1, []);
    let said = meaning(text).join("\n");
    assert_eq!(said.matches("masque étanche").count(), 2, "{said}");
    assert!(said.contains("Après"), "{said}");
}

/// Unicode Standard Annex 9 and Unicode Technical Standard 39 say which characters mislead.
#[test]
fn misleading_characters_are_told_once_a_line_and_the_line_is_read() {
    let told = |line: &str| {
        let text = format!("{KIT}{line}\n");
        let (tree, problems) = read(&text);
        assert!(tree.lines.iter().all(|line| line.what != What::Hole), "{line}");
        problems.into_iter().map(|problem| problem.kind).collect::<Vec<_>>()
    };
    let hidden =
        ["wearer puts on go\u{200b}wn", "say \"So\u{ad}ft\"", "note a\u{feff}b", "wearer puts\u{7f} on gown\u{2060}"];
    for line in hidden {
        assert!(matches!(told(line).as_slice(), [ProblemKind::Hidden { .. }]), "{line:?}: {:?}", told(line));
    }
    for line in ["wearer puts on \u{202e}gown\u{202c}", "say \"\u{2067}x\"", "note \u{200f}b"] {
        assert!(matches!(told(line).as_slice(), [ProblemKind::Direction { .. }]), "{line:?}: {:?}", told(line));
    }
    for line in ["wearer puts on gоwn", "wearer рuts on gown", "hold \"Rеady\"", "item сору", "item ｇown cover"]
    {
        assert!(matches!(told(line).as_slice(), [ProblemKind::LookAlike { .. }]), "{line:?}: {:?}", told(line));
    }
    let fine = [
        "say \"Μόνο ελληνικά\"",
        "say \"سلام می\u{200c}شود\"",
        "item халат",
        "say \"β-blocker, 5 µm, 20 °C\"",
        "say \"Wait ⚠\u{fe0f}\"",
    ];
    for line in fine {
        assert_eq!(told(line), [], "{line:?}");
    }
}

/// The libFuzzer run found it: tidied once, such a line kept what hid in its name, and twice, lost it.
#[test]
fn what_hides_in_a_declaring_word_keeps_no_name_from_being_known() {
    let hidden = [
        ("r\u{200b}ole bud\u{200b}dy", "role buddy"),
        ("\u{2060}item go\u{7f}wn cover", "item gown cover"),
        ("а\u{0}sk splash is lik\u{0}ely \"Could it?\"", "ask splash is likely \"Could it?\""),
    ];
    // However much hides there.
    let much = format!("r{}ole buddy", "\u{200b}".repeat(50));
    for (line, meant) in hidden.into_iter().chain([(much.as_str(), "role buddy")]) {
        let lines = |declaring: &str| format!("{KIT}choice of level\n{declaring}\nbuddy puts on gown cover\n");
        assert_eq!(tidied(&lines(line)), tidied(&lines(meant)), "{line:?}");
        let told = read(&lines(line)).1.len() - read(&lines(meant)).1.len();
        assert!((1..=2).contains(&told), "no more than what hides or looks alike: {:?}", read(&lines(line)).1);
    }
}

/// What becomes the first line may begin with a mark of byte order, which there is the file's.
#[test]
fn what_libfuzzer_tidied_twice_is_tidy_at_once() {
    // And a year of the first centuries keeps its noughts.
    let year = "policy \"A\"\nin force from 01 October 0026\n";
    assert_eq!(tidied(year), "policy \"A\"\nin force from 1 October 0026\n");
    // A name in quotes ends before its full stop, and what hides before the word makes a note no step.
    assert_eq!(tidied("item \"apron [M].\nitem \"gown.\"\n"), "item apron [M]\nitem gown\n");
    assert_eq!(tidied("\u{200b}note puts on off.\nno\u{0}te: who.\n"), "note puts on off.\nnote who.\n");
    for text in ["\u{feff}\n\u{feff}\n", "\n\u{feff}\u{feff}what is this\n", "\u{feff}\u{feff}  \nitem gown\n"] {
        let once = tidied(text);
        assert_eq!(tidied(&once), once, "{text:?}");
        assert!(!once.contains('\u{feff}'), "{once:?}");
    }
}

/// libFuzzer found it: the second line of a list was taken for a place called “is clean”, and the true place was not read.
#[test]
fn what_goes_on_from_the_line_above_declares_nothing() {
    let text = "place corridor is clean\nhazard infection\nspreads by airborne,\nplace is clean\n";
    let once = tidied(text);
    assert_eq!(tidied(&once), once);
    assert!(read(text).1.iter().all(|problem| problem.span.start as usize > text.find("spreads").expect("there")));
    // A comma by mistake takes no name away.
    assert_eq!(read("hazard infection\nspreads by airborne,\nplace ante room is clean\n").1, []);
}

/// With a colon behind its first word a line declares as well: a name that is a sentence too is known from the first reading.
#[test]
fn a_colon_behind_the_declaring_word_hides_no_name() {
    let sentence = "\n    note Seen.\n    observer confirms \"No air.\"\n";
    for (thing, name) in
        [("source", "observer confirms \"Report\""), ("role", "observer confirms"), ("item", "puts on")]
    {
        let [with, without] =
            [": ", " "].map(|colon| tidied(&format!("review by 31 October 2027\n{sentence}{thing}{colon}{name}\n")));
        assert_eq!(with, without, "{thing}");
        assert_eq!(tidied(&with), with, "{thing}");
    }
}

#[test]
fn lines_and_files_that_are_too_long_are_refused_with_one_message() {
    let long = format!("{KIT}wearer puts on {}\nwearer puts on gown\n", "gown ".repeat(2000));
    let (tree, problems) = read(&long);
    assert_eq!(problems.len(), 1);
    assert!(matches!(tree.lines.last().map(|line| &line.what), Some(What::Statement(Statement::Step(_)))));
    let commas = "hands,\n".repeat(10_000);
    assert_eq!(read(&commas).1.len(), 1);
    let note = format!("note {}\n", "words ".repeat(5000));
    assert_eq!(read(&note).1, []);
    let huge = "wearer puts on gown\n".repeat(300_000);
    let (tree, problems) = read(&huge);
    assert!(matches!(problems.as_slice(), [Problem { kind: ProblemKind::File { .. }, .. }]));
    assert!(tree.lines.is_empty());
}

#[test]
fn tidying_lays_out_by_structure_and_keeps_what_it_cannot_read() {
    let untidy = "sequence \"A\" for Contact\nnote before a step\nif gown is torn\nif gloves are torn\nwearer changes gloves\n\
                  say \"Now\"\notherwise\nwearer checks gown\nend if\nend if\n   • wearer  hops  \nhold \"Done\"\n\
                  wearer confirms \"Yes.\"\nif not go back to \"A\"\nnote about the print\nprint poster of \"A\"\non a3\n\
                  item gown\nitem gloves\n";
    insta::assert_snapshot!(tidied(untidy));
}

#[test]
fn long_lines_go_on_after_a_comma() {
    let items = (1..=30).map(|n| format!("item thing number {n}\n")).collect::<String>();
    let list = (1..=30).map(|n| format!("thing number {n}")).collect::<Vec<_>>().join(", ");
    let text = format!("{items}role wearer\nlevel Full against contact\nwearer wears {list}\n");
    let tidy = tidied(&text);
    assert!(tidy.lines().all(|line| line.chars().count() <= 120), "{tidy}");
    assert_eq!(meaning(&tidy), meaning(&text).into_iter().collect::<Vec<_>>());
    assert_eq!(tidied(&tidy), tidy);
}

/// Lines of the samples in any order, some of them damaged.
fn damaged() -> impl Strategy<Value = String> {
    let lines: Vec<&'static str> = SAMPLES.iter().flat_map(|(_, text)| text.lines()).collect();
    let line = (proptest::sample::select(lines), 0..8_u8, any::<proptest::sample::Index>(), "\\PC{0,3}");
    let damage = |(line, how, at, put): (&str, u8, proptest::sample::Index, String)| {
        let mut characters: Vec<char> = line.chars().collect();
        let at = at.index(characters.len() + 1);
        match how {
            0 => characters.truncate(at),
            1 => drop(characters.drain(..at)),
            2 if at < characters.len() => drop(characters.remove(at)),
            3 => characters.splice(at..at, put.chars()).for_each(drop),
            4 => characters.extend_from_within(at..),
            _ => {}
        }
        characters.into_iter().collect::<String>()
    };
    proptest::collection::vec(line.prop_map(damage), 0..40).prop_map(|lines| lines.join("\n"))
}

/// As many as the environment asks for, else few enough for every day.
fn cases() -> u32 {
    if std::env::var_os("PROPTEST_CASES").is_some() { ProptestConfig::default().cases } else { 100 }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_text_is_read_and_every_place_lies_within_it(text in "\\PC{0,400}|(\\PC{0,30}\n){0,20}|[\\x00-\\x{2fff}\n \",]{0,200}") {
        let (tree, problems) = read(&text);
        let places = tree.lines.iter().map(|line| line.span).chain(problems.iter().map(|problem| problem.span));
        for span in places {
            prop_assert!(text.get(span.start as usize..span.end as usize).is_some());
        }
        prop_assert!(problems.windows(2).all(|pair| pair[0].span <= pair[1].span));
        tidied(&text);
    }

    #[test]
    fn tidying_twice_changes_nothing_and_no_meaning(text in damaged()) {
        let once = tidied(&text);
        prop_assert_eq!(&tidied(&once), &once);
        prop_assert_eq!(meaning(&once), meaning(&text));
    }

    #[test]
    fn layout_means_nothing(at in 0..4_usize, indents in proptest::collection::vec(0..6_usize, 300), blanks in proptest::collection::vec(0..10_u8, 300)) {
        let text = SAMPLES[at].1;
        let lines = text.lines().filter(|line| !line.trim().is_empty()).zip(&indents).zip(&blanks);
        let relaid: String = lines
            .map(|((line, indent), blank)| format!("{}{}\n{}", " ".repeat(*indent), line.trim(), if *blank == 0 { "\n" } else { "" }))
            .collect();
        prop_assert_eq!(tidied(&relaid), text);
    }
}

/// Unicode Technical Standard 39, confusables.txt, as the crate unicode-security carries it.
#[test]
fn look_alikes_agree_with_the_unicode_consortium() {
    use anteroom::text::misleading::latin_twin;
    use unicode_security::confusable_detection::skeleton;
    let form = |c: char| skeleton(&c.to_string()).collect::<String>();
    let latin: Vec<(char, String)> = ('a'..='z').chain('A'..='Z').map(|c| (c, form(c))).collect();
    let scripts = ['\u{370}'..='\u{58f}', '\u{13a0}'..='\u{13ff}', '\u{ff21}'..='\u{ff5a}', '\u{1d400}'..='\u{1d6a3}'];
    let mut faults = Vec::new();
    for c in scripts.into_iter().flatten().filter(|c| c.is_alphabetic()) {
        let published =
            latin.iter().filter(|(_, latin)| *latin == form(c)).map(|(letter, _)| *letter).collect::<Vec<_>>();
        match latin_twin(c) {
            Some(twin) if !published.contains(&twin) => faults.push(format!("{c} {twin} {published:?}")),
            None if !published.is_empty() => faults.push(format!("{c} - {published:?}")),
            _ => {}
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("; "));
}

/// How people write `is not`; tidying writes it in full.
#[test]
fn short_denials_are_understood() {
    let full = "wearer checks apron, if apron is not soiled and gloves are not torn";
    for (is, are) in [("isn't", "aren't"), ("isn’t", "aren’t"), ("isnt", "arent"), ("Isn't", "Aren't")] {
        let short = full.replace("is not", is).replace("are not", are);
        let whole = |line: &str| format!("role wearer\nitem apron\nitem gloves\n{line}\n");
        assert_eq!(meaning(&whole(&short)), meaning(&whole(full)), "{short}");
        assert!(tidied(&whole(&short)).ends_with(&format!("{full}\n")), "{}", tidied(&whole(&short)));
    }
}

/// What people add before a step, and the short words for the two halves of the work; tidying writes what is meant.
#[test]
fn then_and_donning_are_understood() {
    let whole = |line: &str| format!("role wearer\nitem gown\n{line}\n");
    for (habit, meant) in [
        ("then wearer puts on gown", "wearer puts on gown"),
        ("Then, wearer puts on gown", "wearer puts on gown"),
        ("place lobby is for donning", "place lobby is for putting on"),
        ("place lobby is for doffing", "place lobby is for taking off"),
    ] {
        assert_eq!(meaning(&whole(habit)), meaning(&whole(meant)), "{habit}");
        assert!(tidied(&whole(habit)).contains(meant), "{}", tidied(&whole(habit)));
    }
}
