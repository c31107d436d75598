//! Two people's changes put together by statement: what is clean, what is a conflict, and how it looks.
//! What a line merge makes of the same texts is asked of `git merge-file`; the rest is this project's own decision.

use std::fs;
use std::process::Command;

use anteroom::merge::{Marks, Merged, Texts, Why, merge};
use anteroom::syntax::Declared;

pub const MARKS: Marks = Marks { ours: "ours", theirs: "theirs", size: 7 };

pub fn merged(base: &str, ours: &str, theirs: &str) -> Merged {
    merge(Texts { base, ours, theirs }, &Declared::default())
}

/// The text of a line merge, and whether it is clean.
pub fn line_merged(base: &str, ours: &str, theirs: &str) -> (String, bool) {
    let folder = tempfile::tempdir().unwrap();
    let files = [("ours", ours), ("base", base), ("theirs", theirs)];
    let paths = files.map(|(name, text)| {
        fs::write(folder.path().join(name), text).unwrap();
        name
    });
    let mut git = Command::new("git");
    git.args(["merge-file", "-p", "-L", "ours", "-L", "base", "-L", "theirs"]).args(paths);
    let output = git.current_dir(folder.path()).output().unwrap();
    (String::from_utf8(output.stdout).unwrap(), output.status.success())
}

const WARD: &str = r#"policy "Ward"
edition 3
owner "Team"

role observer
  watches

item gown "blue gown"
  covers trunk, arms
  grip ties
item mask
  covers nose, mouth
  grip straps

level Splash against droplet
  wearer wears gown, mask

sequence "Off" for Splash
  wearer takes off gown by ties
    say "Slowly."
  wearer cleans hands with hand rub for 30 seconds
  wearer takes off mask by straps
  wearer cleans hands with hand rub for 30 seconds
  hold "End"
    observer confirms "Nothing is left on."
    if not, go back to "Off"
"#;

fn with(changes: &[(&str, &str)]) -> String {
    let mut text = WARD.to_string();
    for (from, to) in changes {
        assert_eq!(text.matches(from).count(), 1, "{from}");
        text = text.replace(from, to);
    }
    text
}

/// Both orders of the sides give the same.
fn clean(ours: &str, theirs: &str) -> String {
    let one = merged(WARD, ours, theirs);
    let other = merged(WARD, theirs, ours);
    assert!(one.is_clean() && other.is_clean(), "{}", one.text(&MARKS));
    assert_eq!(one.text(&MARKS), other.text(&MARKS));
    one.text(&MARKS)
}

fn conflict(ours: &str, theirs: &str) -> (Vec<Why>, String) {
    let one = merged(WARD, ours, theirs);
    (one.conflicts().map(|conflict| conflict.why).collect(), one.text(&MARKS))
}

const LAST_CLEANING: &str = "  wearer takes off mask by straps\n  wearer cleans hands with hand rub for 30 seconds\n";

#[test]
fn neighbouring_steps_prompts_and_declarations_merge_where_lines_do_not() {
    let pairs = [
        // Two steps, one beneath the other.
        (("off mask by straps", "off mask by back"), ("30 seconds\n  wearer takes", "60 seconds\n  wearer takes")),
        (("off mask by straps", "off mask by back"), ("30 seconds\n  hold", "60 seconds\n  hold")),
        // A prompt more beneath a step that the other reworded.
        (("    say", "    look for \"Dry.\"\n    say"), ("off gown by ties", "off gown by inside")),
        // Two prompts of one step.
        (("\"Slowly.\"", "\"Very slowly.\""), ("    say", "    danger \"Front.\"\n    say")),
        // Neighbouring properties, and declarations.
        (("covers trunk, arms\n", "covers trunk\n"), ("grip ties\n", "grip ties, inside\n")),
        (("  grip ties\n", "  grip ties\n  single use\n"), ("item mask\n", "item mask \"fluid-repellent mask\"\n")),
        (("edition 3", "edition 4"), ("owner \"Team\"", "owner \"Infection control\"")),
    ];
    for ((from, to), (other_from, other_to)) in pairs {
        let (ours, theirs) = (with(&[(from, to)]), with(&[(other_from, other_to)]));
        assert!(!line_merged(WARD, &ours, &theirs).1, "a line merge does this, too: {to}");
        let text = clean(&ours, &theirs);
        let both = [to, other_to].map(|to| to.lines().all(|line| text.contains(line.trim())));
        assert_eq!(both, [true, true], "{text}");
    }
}

#[test]
fn the_same_change_on_both_sides_is_one() {
    let change = ("off mask by straps\n", "off mask by straps\n    caution \"Front.\"\n");
    let ours = with(&[change, ("edition 3", "edition 4")]);
    let theirs = with(&[change, ("30 seconds\n  hold", "30 seconds\n  wearer does \"Breathe\"\n  hold")]);
    let text = clean(&ours, &theirs);
    assert_eq!(text.matches("caution").count(), 1, "{text}");
    // A step that both put in, with a prompt more on one side.
    let breath = "off mask by straps\n  wearer does \"Breathe\"\n";
    let ours = with(&[("off mask by straps\n", breath)]);
    let theirs = with(&[("off mask by straps\n", &format!("{breath}    say \"Now.\"\n"))]);
    assert_eq!(clean(&ours, &theirs), theirs);
    let new_item = ("item mask\n", "item cap\n  covers hair\nitem mask\n");
    let text = clean(&with(&[new_item, ("edition 3", "edition 4")]), &with(&[new_item, ("\"Slowly.\"", "\"Slow.\"")]));
    assert_eq!(text.matches("item cap").count(), 1, "{text}");
}

#[test]
fn a_step_moved_by_one_and_edited_by_the_other_is_moved_and_edited() {
    let gown = "  wearer takes off gown by ties\n    say \"Slowly.\"\n";
    let ours = with(&[(gown, ""), (LAST_CLEANING, &format!("{LAST_CLEANING}{gown}"))]);
    let theirs = with(&[("off gown by ties", "off gown by inside"), ("\"Slowly.\"", "\"Very slowly.\"")]);
    let text = clean(&ours, &theirs);
    let moved = "  wearer takes off gown by inside\n    say \"Very slowly.\"\n";
    assert_eq!(text, ours.replace(gown, moved));
}

#[test]
fn notes_go_with_what_they_stand_before() {
    let noted = WARD.replace("  wearer takes off mask", "  note Straps, never the front.\n  wearer takes off mask");
    let step = "  note Straps, never the front.\n  wearer takes off mask by straps\n";
    let ours = noted.replace(step, "").replace("  hold", &format!("{step}  hold"));
    let theirs = noted.replace("by straps", "by back").replace("never the front", "not the front");
    let both = merged(&noted, &ours, &theirs);
    assert!(both.is_clean(), "{}", both.text(&MARKS));
    let moved = "  note Straps, not the front.\n  wearer takes off mask by back\n";
    assert_eq!(both.text(&MARKS), ours.replace(step, moved));
}

#[test]
fn what_is_laid_out_anew_still_merges() {
    let ours: String =
        WARD.lines().map(|line| format!("{}\r\n", line.trim().to_uppercase().replace("SAY", "say"))).collect();
    let ours = ours.replace("TAKES OFF", "takes  off");
    let theirs = with(&[("off mask by straps", "off mask by back"), ("edition 3", "edition 4")]);
    let quotes =
        ["\"WARD\"", "\"TEAM\"", "\"BLUE GOWN\"", "\"OFF\"", "\"SLOWLY.\"", "\"END\"", "\"NOTHING IS LEFT ON.\""];
    let ours = quotes.iter().fold(ours, |text, quote| {
        let as_written = WARD[WARD.to_uppercase().find(quote).unwrap()..].get(..quote.len()).unwrap();
        text.replace(quote, as_written)
    });
    let both = merged(WARD, &ours, &theirs);
    assert!(both.is_clean(), "{}", both.text(&MARKS));
    let text = both.text(&MARKS);
    assert!(text.contains("by back\r\n") && text.contains("edition 4\r\n") && text.contains("ITEM GOWN"), "{text}");
    assert_eq!(
        text.matches('\n').count(),
        text.matches("\r\n").count(),
        "line ends are those of the side that changed them"
    );
}

#[test]
fn different_wishes_for_one_statement_are_a_conflict_around_it() {
    let ours = with(&[("off mask by straps", "off mask by back"), ("edition 3", "edition 4")]);
    let theirs = with(&[("off mask by straps", "off mask by ear loops"), ("\"Slowly.\"", "\"Very slowly.\"")]);
    let (why, text) = conflict(&ours, &theirs);
    assert_eq!(why, [Why::Changed]);
    let block = "<<<<<<< ours\n  wearer takes off mask by back\n=======\n  wearer takes off mask by ear loops\n>>>>>>> theirs\n";
    let rest = with(&[("edition 3", "edition 4"), ("\"Slowly.\"", "\"Very slowly.\"")]);
    assert_eq!(text, rest.replace("  wearer takes off mask by straps\n", block));
}

#[test]
fn what_one_changed_and_the_other_took_out_is_a_conflict() {
    let gown = "  wearer takes off gown by ties\n    say \"Slowly.\"\n";
    let ours = with(&[(gown, "")]);
    for (from, to) in [("\"Slowly.\"", "\"Slow.\""), ("off gown by ties", "off gown by inside")] {
        let theirs = with(&[(from, to)]);
        let (why, text) = conflict(&ours, &theirs);
        assert_eq!(why, [Why::TakenOut], "{text}");
        let block = format!("<<<<<<< ours\n=======\n{}>>>>>>> theirs\n", gown.replace(from, to));
        assert_eq!(text, WARD.replace(gown, &block));
    }
}

#[test]
fn steps_put_in_at_one_place_are_a_conflict_and_declarations_are_not() {
    let after = "off mask by straps\n";
    let ours = with(&[(after, &format!("{after}  wearer does \"Breathe\"\n"))]);
    let theirs = with(&[(after, &format!("{after}  wearer does \"Wait\"\n"))]);
    let (why, text) = conflict(&ours, &theirs);
    assert_eq!(why, [Why::SamePlace]);
    assert!(
        text.contains("<<<<<<< ours\n  wearer does \"Breathe\"\n=======\n  wearer does \"Wait\"\n>>>>>>> theirs\n"),
        "{text}"
    );
    let ours = with(&[("item mask\n", "item cap\n  covers hair\nitem mask\n")]);
    let theirs = with(&[("item mask\n", "item boots\n  covers feet\nitem mask\n")]);
    let text = clean(&ours, &theirs);
    assert!(text.contains("item boots\n  covers feet\nitem cap\n  covers hair\nitem mask\n"), "{text}");
    // Of one name, but not the same: that is a conflict.
    let theirs = with(&[("item mask\n", "item cap\n  covers hair, neck\nitem mask\n")]);
    assert_eq!(conflict(&ours, &theirs).0, [Why::Changed]);
}

#[test]
fn moved_to_two_places_or_put_beside_what_moved_is_a_conflict() {
    let gown = "  wearer takes off gown by ties\n    say \"Slowly.\"\n";
    let ours = with(&[(gown, ""), (LAST_CLEANING, &format!("{LAST_CLEANING}{gown}"))]);
    let theirs = with(&[(gown, &format!("{gown}  wearer does \"Breathe\"\n"))]);
    let (why, text) = conflict(&ours, &theirs);
    assert_eq!(why, [Why::BesideMoved], "{text}");
    assert_eq!(text.matches(gown).count(), 1);
    let theirs = with(&[
        (gown, ""),
        ("  wearer takes off mask by straps\n", &format!("  wearer takes off mask by straps\n{gown}")),
    ]);
    let (why, text) = conflict(&ours, &theirs);
    assert_eq!(why, [Why::MovedApart, Why::MovedApart], "{text}");
}

#[test]
fn lines_that_cannot_be_read_are_merged_as_text() {
    let base = with(&[("  hold", "  wearer quaffs the gown\n  hold")]);
    let ours = base.replace("quaffs the gown", "quaffs the old gown");
    let theirs = base.replace("edition 3", "edition 4");
    let both = merged(&base, &ours, &theirs);
    assert!(both.is_clean());
    assert_eq!(both.text(&MARKS), ours.replace("edition 3", "edition 4"));
    let theirs = base.replace("  wearer quaffs the gown\n", "  wearer takes off the gown\n");
    assert_eq!(merged(&base, &ours, &theirs).conflicts().count(), 1);
}

#[test]
fn a_mark_at_the_beginning_and_an_open_last_line_are_kept() {
    let ours = format!("\u{feff}{}", with(&[("edition 3", "edition 4")]));
    let theirs = with(&[("\"Slowly.\"", "\"Slow.\"")]).trim_end().to_string();
    let text = clean(&ours, &theirs);
    let both = with(&[("edition 3", "edition 4"), ("\"Slowly.\"", "\"Slow.\"")]);
    assert_eq!(text, format!("\u{feff}{}", both.trim_end()));
}

#[test]
fn a_text_with_marks_opens_and_every_mark_is_told() {
    let ours = with(&[("off mask by straps", "off mask by back")]);
    let theirs = with(&[("off mask by straps", "off mask by ear loops")]);
    let (_, text) = conflict(&ours, &theirs);
    let declared = anteroom::syntax::declarations(&text);
    let (tree, problems) = anteroom::syntax::parse(anteroom::text::SourceId(0), &text, &declared);
    assert!(tree.lines.len() > 20 && problems.len() >= 3, "{problems:?}");
}

#[test]
fn a_sequence_with_a_new_title_is_still_the_same() {
    let title = [("sequence \"Off\"", "sequence \"Doffing\""), ("go back to \"Off\"", "go back to \"Doffing\"")];
    let text = clean(&with(&title), &with(&[("off mask by straps", "off mask by back")]));
    assert_eq!(text, with(&[title[0], title[1], ("off mask by straps", "off mask by back")]));
    // An item that is renamed wherever it is named, and a prompt put in beneath one of its steps.
    let renamed = WARD.replace("gown", "long gown");
    let prompt = ("    say \"Slowly.\"\n", "    say \"Slowly.\"\n    danger \"The front.\"\n");
    assert_eq!(clean(&renamed, &with(&[prompt])), with(&[prompt]).replace("gown", "long gown"));
}

#[test]
fn marks_that_stand_in_a_text_already_are_text() {
    let marked = "<<<<<<< a\n  wearer does \"A\"\n=======\n  wearer does \"B\"\n>>>>>>> b\n  hold";
    let base = WARD.replace("  hold", marked);
    let ours = base.replace("by straps", "by back");
    let theirs = base.replace("edition 3", "edition 4");
    let both = merged(&base, &ours, &theirs);
    assert!(both.is_clean());
    assert_eq!(both.text(&MARKS), ours.replace("edition 3", "edition 4"));
}

/// The bounds hold for texts that nobody would write.
#[test]
fn lines_that_are_all_alike_or_all_unlike_are_merged_soon() {
    let started = std::time::Instant::now();
    let alike = |count: usize| format!("sequence \"S\" for L\n{}", "  wearer stands up\n".repeat(count));
    let both = merged(&alike(6000), &alike(6001), &alike(6003));
    assert!(both.text(&MARKS).lines().count() >= 6003);
    let unlike = |word: &str| (0..6000).map(|at| format!("{word}{at} {at}{word}\n")).collect::<String>();
    assert!(!merged(&unlike("a"), &unlike("b"), &unlike("c")).is_clean());
    assert!(started.elapsed().as_secs() < 120, "two minutes, where seconds would do: {:?}", started.elapsed());
}

#[test]
fn two_thousand_steps_merge_in_bounded_time() {
    let steps = |other: fn(usize) -> bool| -> String {
        let step = |at: usize| {
            format!(
                "  wearer does \"Act {}{at}\"\n  wearer cleans hands with hand rub for 30 seconds\n",
                if other(at) { "anew " } else { "" }
            )
        };
        format!("sequence \"Long\" for Splash\n{}", (0..2000).map(step).collect::<String>())
    };
    let (base, ours, theirs) = (steps(|_| false), steps(|at| at % 2 == 0), steps(|at| at % 2 == 1));
    let started = std::time::Instant::now();
    let both = merged(&base, &ours, &theirs);
    assert!(both.is_clean());
    assert_eq!(both.text(&MARKS), steps(|_| true));
    // Nothing alike, on both sides.
    let _ = merged(&base, &ours.replace("Act", "Deed"), &theirs.replace("Act", "Work"));
    assert!(started.elapsed().as_secs() < 60, "a minute, where a second would do: {:?}", started.elapsed());
}
