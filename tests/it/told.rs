//! One finding as each face tells it: on a terminal, in plain sentences. The pictures are this project's own.

use anteroom::findings::terminal::{self, Looks};
use anteroom::findings::{Finding, Kind, Name, Signal, plain};
use anteroom::text::{Source, SourceId, Sources, Span};

const POLICY: &str = "\
sequence \"Taking off\" for Splash, in doorway
  wearer takes off gloves by cuff into clinical waste
  wearer takes off gown by ties, rolling it inside out, into clinical waste
  wearer takes off mask by ties into clinical waste
";

fn span_of(text: &str, words: &str) -> Span {
    let start = text.find(words).unwrap();
    Span::new(SourceId(0), start, start + words.len())
}

fn sources(text: &str) -> Sources {
    let mut sources = Sources::default();
    sources.add(Source::new("ward/side-room.ppe", text));
    sources.add(Source::new("ward/shared.ppe", "item gown\n  grip ties\n"));
    sources
}

fn bare_hand() -> Finding {
    let words = "wearer takes off gown by ties, rolling it inside out, into clinical waste";
    Finding {
        name: Name { family: "touch", word: "near" },
        signal: Signal::Danger,
        kind: Kind::Guidance,
        span: span_of(POLICY, words),
        sentence: words.into(),
        title: "A bare hand meets the front of the gown".into(),
        message: "The hazard comes within 1 touch of the wearer's hands. The level keeps skin 2 touches away.".into(),
        way_out: "Clean hands between the gloves and the gown.".into(),
        case: vec!["splash is likely".into(), "gown is soiled".into()],
        chain: vec![
            "The front of the gown is contaminated in the side room.".into(),
            "At step 3 the wearer's bare hands take the gown by its ties, and the ties lie against the front.".into(),
        ],
        related: vec![
            (span_of(POLICY, "takes off gloves"), "the hands are bare from here".into()),
            (Span::new(SourceId(1), 0, 9), "the gown's ties are named here".into()),
        ],
        source: Some("CDC, Sequence for putting on and removing personal protective equipment".into()),
        accepted: None,
    }
}

#[test]
fn a_finding_on_a_terminal() {
    let told = terminal::finding(&bare_hand(), &sources(POLICY), Looks { colour: false, width: 80 });
    insta::assert_snapshot!(told);
}

#[test]
fn colours_carry_no_meaning_of_their_own() {
    let plainly = terminal::finding(&bare_hand(), &sources(POLICY), Looks { colour: false, width: 80 });
    let coloured = terminal::finding(&bare_hand(), &sources(POLICY), Looks { colour: true, width: 80 });
    assert!(coloured.contains("\u{1b}["));
    let bare = strip_ansi(&coloured);
    let words = |text: &str| text.split_whitespace().map(str::to_string).collect::<Vec<_>>();
    assert_eq!(words(&bare), words(&plainly));
}

#[test]
fn a_finding_in_plain_sentences() {
    let mut finding = bare_hand();
    finding.accepted = Some("The committee accepts it until 1 May 2027.".into());
    insta::assert_snapshot!(plain::finding(&finding, &sources(POLICY)));
}

#[test]
fn a_policy_cannot_steer_the_terminal() {
    let hostile = "wearer takes off \u{1b}[2Jgown\u{202e} by ties";
    let mut finding = bare_hand();
    finding.span = Span::new(SourceId(0), 0, hostile.len());
    finding.sentence = hostile.into();
    finding.related.clear();
    finding.message = "\u{1b}]0;title\u{7} and \u{9b}31m".into();
    let looks = Looks { colour: false, width: 80 };
    for told in [terminal::finding(&finding, &sources(hostile), looks), plain::finding(&finding, &sources(hostile))] {
        let unseen = |c: char| (c.is_control() && c != '\n') || c == '\u{202e}';
        assert!(!told.contains(unseen), "{told:?}");
    }
}

#[test]
fn odd_places_are_shown_without_fault() {
    let long = format!("note {}\nwearer takes off gown\n", "x".repeat(50_000));
    for (text, start, end) in [
        ("", 0, 0),
        ("é", 1, 1),
        ("a\n", 2, 2),
        ("\u{feff}policy \"A\"", 0, 3),
        (long.as_str(), 3, 49_000),
        ("ab", 9, 12),
    ] {
        let mut finding = bare_hand();
        finding.span = Span::new(SourceId(0), start, end);
        finding.related.clear();
        let told = terminal::finding(&finding, &sources(text), Looks { colour: false, width: 80 });
        assert!(told.contains("DANGER") && told.contains("A bare hand meets"), "{told}");
        assert!(told.len() < 5_000, "{} bytes for one finding", told.len());
        assert!(plain::finding(&finding, &sources(text)).contains("ward/side-room.ppe, line "));
    }
}

fn strip_ansi(text: &str) -> String {
    let mut bare = String::new();
    let mut in_colour = false;
    for c in text.chars() {
        match c {
            '\u{1b}' => in_colour = true,
            'm' if in_colour => in_colour = false,
            _ if in_colour => {}
            _ => bare.push(c),
        }
    }
    bare
}
