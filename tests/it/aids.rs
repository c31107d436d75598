//! What is printed, before any typesetting: the words of each aid of the samples, as a person would read them.
//! The samples' sentences are this project's own; the rules that they follow stand beside each check.

use anteroom::aids::plan;
use anteroom::aids::plan::{
    Aid, Area, Body, Chart, ChartCell, Choice, ChoiceAnswer, Form, FormColumn, FormField, FormRow, Kit, KitRow, Lane,
    PrintPlan, Row, Sign, StepRow, Steps,
};
use anteroom::policy::{Act, Day, Step};
use anteroom::session::Checked;

use crate::policies::{checked, checked_text};

/// A day on which every sample is in force or about to be, and none is past its review.
fn day() -> Day {
    Day::new(2026, 12, 2).unwrap()
}

/// The plan as text: a line for each thing printed, in order.
fn told(plan: &PrintPlan) -> String {
    let mut out = String::new();
    for aid in &plan.aids {
        out.push_str(&told_aid(aid));
        out.push('\n');
    }
    for why in &plan.not_made {
        out.push_str(&format!("NOT MADE: {why}\n"));
    }
    out
}

fn told_aid(aid: &Aid) -> String {
    let control = &aid.control;
    let mut out = format!("=== {} · {} ({}.pdf)\n", aid.kind, aid.title, aid.file);
    let how = [
        format!("{:?}", aid.paper),
        if aid.both_sides { "both sides".into() } else { String::new() },
        if aid.laminated { "laminated".into() } else { String::new() },
        aid.read_from_mm.map(|mm| format!("read from {mm} mm")).unwrap_or_default(),
        aid.copies.join(", "),
        format!("asked at {}", aid.asked_at),
    ];
    let how: Vec<String> = how.into_iter().filter(|part| !part.is_empty()).collect();
    out.push_str(&format!("{}\n", how.join(" · ")));
    out.push_str(&format!(
        "{} · {} · {} · {}\n{} · {} · {} · {} · {}\n{}\n",
        control.policy,
        control.site,
        control.level,
        control.place,
        control.edition,
        control.in_force,
        control.review,
        control.owner,
        control.approval,
        control.caution
    ));
    // How many findings stand open is for the tests of the rules to say.
    if let Some(marking) = &aid.marking {
        for reason in marking.reasons.iter().filter(|reason| !reason.contains("DANGER")) {
            out.push_str(&format!("{}: {reason}\n", marking.word));
        }
    }
    match &aid.body {
        Body::Steps(steps) => out.push_str(&told_steps(steps)),
        Body::Kit(kit) => out.push_str(&told_kit(kit)),
        Body::Chart(chart) => out.push_str(&told_chart(chart)),
        Body::Form(form) => out.push_str(&told_form(form)),
        Body::Sign(sign) => out.push_str(&told_sign(sign)),
        Body::Area(area) => out.push_str(&told_area(area)),
        Body::Choice(choice) => out.push_str(&told_choice(choice)),
        Body::Review(_) => unreachable!("it is of two editions"),
    }
    out
}

fn told_form(form: &Form) -> String {
    let mut out = format!("“{}”\n", form.intro);
    for section in &form.sections {
        out.push_str(&format!("-- {}\n", section.title));
        lines(
            &mut out,
            "NOTE",
            &[section.note.clone()].into_iter().filter(|note| !note.is_empty()).collect::<Vec<_>>(),
        );
        let column = |column: &FormColumn| format!("{} ({:?})", column.label, column.holds).to_lowercase();
        let columns: Vec<String> = section.columns.iter().map(column).collect();
        if !columns.is_empty() {
            out.push_str(&format!("    | {} |\n", columns.join(" | ")));
        }
        for row in &section.rows {
            let field = |field: &FormField| format!("{}: {}__", field.label, field.value);
            let told = match row {
                FormRow::Fields(fields) => fields.iter().map(field).collect::<Vec<_>>().join("  "),
                FormRow::Ticks(words) => {
                    words.iter().map(|words| format!("[ ] {words}")).collect::<Vec<_>>().join("  ")
                }
                FormRow::Entry(entry) => {
                    let hold = if entry.is_hold { "HOLD " } else { "" };
                    format!("{:>3} {hold}{} | {}", entry.number, entry.words, entry.detail)
                }
            };
            out.push_str(&format!("  {}\n", told.trim_end()));
        }
    }
    out
}

fn told_sign(sign: &Sign) -> String {
    let mut out = format!("{} {}\n{}\n", sign.stop, sign.rule, sign.hazards.join(" · "));
    for kit in &sign.wear {
        let items: Vec<&str> = kit.items.iter().map(|item| item.name.as_str()).collect();
        out.push_str(&format!("{}, {}: {}\n", kit.role, sign.wear_title, items.join(", ")));
    }
    out.push_str(&format!("{}\n{}\n", sign.before.join("\n"), sign.ask));
    out
}

fn told_area(area: &Area) -> String {
    let mut out = format!("“{}”\n", area.intro);
    for place in &area.places {
        let things: Vec<&str> = place.things.iter().map(|thing| thing.name.as_str()).collect();
        out.push_str(&format!("  {} ({}): {}", place.name, place.kind_words, place.sequences.join(", ")));
        out.push_str(&format!(" | {}\n", things.join(", ")));
    }
    for step in &area.moves {
        let arrow = if step.both { "<->" } else { "->" };
        out.push_str(&format!("  {} {arrow} {}\n", area.places[step.from].name, area.places[step.to].name));
    }
    out.push_str(&format!("{}\n", area.notes.join(" ")));
    out
}

fn told_choice(choice: &Choice) -> String {
    let mut out = format!("“{}”\n", choice.intro);
    for row in &choice.rows {
        let answer =
            |one: &ChoiceAnswer| format!("{} {}", one.words, if one.is_yes { &choice.yes } else { &choice.no });
        let asked: Vec<String> = row.asked.iter().map(answer).collect();
        let asked = if asked.is_empty() { choice.otherwise.clone() } else { asked.join(" + ") };
        out.push_str(&format!("  {asked} -> {}\n", row.level));
    }
    out.push_str(&format!("{}\n", choice.notes.join(" ")));
    out
}

fn told_chart(chart: &Chart) -> String {
    let mut out = format!("“{}”\n", chart.intro);
    for person in &chart.people {
        let lane = |lane: &Lane| match lane.margin {
            Some(margin) => format!("{} ({margin})", lane.name),
            None => lane.name.clone(),
        };
        let lanes: Vec<String> = person.lanes.iter().map(lane).collect();
        out.push_str(&format!("{}: {}\n", person.name, lanes.join(" | ")));
    }
    let cell = |cell: &ChartCell| {
        let (near, ring) = (if cell.near { "!" } else { "" }, if cell.ringed { "O" } else { "" });
        let slipped = cell.slipped.filter(|_| cell.slipped != cell.touches);
        format!("{}{near}{ring}{}", cell.words, slipped.map(|touches| format!("/{touches}")).unwrap_or_default())
    };
    let cells = |cells: &[ChartCell]| cells.iter().map(cell).collect::<Vec<_>>().join(" ");
    for band in &chart.bands {
        out.push_str(&format!("-- {}\n", band.title));
        for row in &band.rows {
            let (hold, who) = (if row.is_hold { "HOLD " } else { "" }, if row.who.is_empty() { "" } else { ": " });
            let some = if row.sometimes { "<> " } else { "" };
            let marks: Vec<&str> =
                row.marks.iter().map(|mark| mark.alt.as_str()).filter(|alt| !alt.is_empty()).collect();
            let marks = if marks.is_empty() { String::new() } else { format!(" [{}]", marks.join(", ")) };
            let act = format!("{hold}{some}{}{who}{}{marks}", row.who, row.act);
            out.push_str(&format!("{:>4}  {act}: {}\n", row.number, cells(&row.cells)));
        }
    }
    for sum in &chart.sums {
        out.push_str(&format!("{}: {}\n", sum.label, cells(&sum.cells)));
    }
    chart.signals.iter().for_each(|signal| out.push_str(&format!("{}  {}\n", signal.word, signal.text)));
    chart.notes.iter().for_each(|note| out.push_str(&format!("{note}\n")));
    out
}

fn told_steps(steps: &Steps) -> String {
    let mut out = format!("“{}”\n", steps.intro);
    for band in &steps.bands {
        if !band.title.is_empty() {
            out.push_str(&format!("-- {}\n", band.title));
        }
        for row in &band.rows {
            match row {
                Row::Step(step) => out.push_str(&told_step(step)),
                Row::Hold(hold) => {
                    out.push_str(&format!("  HOLD  {}. ", hold.title));
                    for confirm in &hold.confirms {
                        out.push_str(&format!("{} {} ", confirm.who, confirm.what));
                    }
                    out.push_str(&format!("{} {}\n", hold.if_not, hold.when).replace(" \n", "\n"));
                    let signals = hold.signals.iter().map(|panel| format!("{}  {}", panel.word, panel.text));
                    lines(&mut out, "SAY", &hold.say);
                    lines(&mut out, "LOOK FOR", &hold.look_for);
                    lines(&mut out, "STOP IF", &hold.stop_if);
                    lines(&mut out, "", &signals.collect::<Vec<_>>());
                }
            }
        }
    }
    for ending in &steps.endings {
        out.push_str(&format!("  {ending}\n"));
    }
    for layer in &steps.layers {
        let at = |number: Option<u32>| number.map(|number| number.to_string()).unwrap_or("·".into());
        out.push_str(&format!("  | {} {} to {}\n", layer.name, at(layer.from), at(layer.to)));
    }
    out
}

fn told_step(step: &StepRow) -> String {
    let who = if step.who.is_empty() { String::new() } else { format!("[{}] ", step.who) };
    let brief = if step.brief { "(brief) " } else { "" };
    let picture = step.pictogram.as_ref().map(|picture| format!(" <{}>", picture.key)).unwrap_or_default();
    let mut out = format!("{:>4}  {brief}{who}{}{picture}\n", step.number, step.act);
    for text in [&step.quiet_detail, &step.detail, &step.when] {
        if !text.is_empty() {
            out.push_str(&format!("      {text}\n"));
        }
    }
    lines(&mut out, "SAY", &step.say);
    lines(&mut out, "LOOK FOR", &step.look_for);
    lines(&mut out, "STOP IF", &step.stop_if);
    lines(
        &mut out,
        "",
        &step.signals.iter().map(|panel| format!("{}  {}", panel.word, panel.text)).collect::<Vec<_>>(),
    );
    lines(&mut out, "because", &step.because);
    if let Some(still) = &step.still_on {
        out.push_str(&format!("      {} (of {})\n", still.words, still.of));
    }
    out
}

fn lines(out: &mut String, label: &str, texts: &[String]) {
    for text in texts {
        out.push_str(&format!("      {label}  {text}\n").replace("        ", "      "));
    }
}

fn told_kit(kit: &Kit) -> String {
    let row = |row: &KitRow| {
        let picture = row.pictogram.as_ref().map(|picture| format!(" <{}>", picture.key)).unwrap_or_default();
        format!("  {} — {}{picture}\n      {}\n", row.name, row.count, row.detail)
    };
    let mut out = format!("“{}”\n", kit.intro);
    for role in &kit.roles {
        out.push_str(&format!("-- {}\n", role.role));
        out.extend(role.rows.iter().map(row));
    }
    out.push_str(&format!("-- {}\n", kit.supplies_title));
    out.extend(kit.supplies.iter().map(row));
    out
}

#[test]
fn the_words_of_the_isolation_suite() {
    insta::assert_snapshot!(told(&plan(&checked("tests/samples/isolation-suite.ppe", day()))));
}

#[test]
fn the_words_of_the_side_room() {
    insta::assert_snapshot!(told(&plan(&checked("tests/samples/side-room.ppe", day()))));
}

#[test]
fn the_words_of_the_transfer_team() {
    insta::assert_snapshot!(told(&plan(&checked("tests/samples/transfer-team.ppe", day()))));
}

#[test]
fn the_words_of_the_assessment_suite() {
    insta::assert_snapshot!(told(&plan(&checked("policies/assessment-suite.ppe", day()))));
}

const EVERYTHING: [&str; 6] = [
    "tests/samples/isolation-suite.ppe",
    "tests/samples/side-room.ppe",
    "tests/samples/transfer-team.ppe",
    "policies/side-rooms.ppe",
    "policies/negative-pressure-room.ppe",
    "policies/assessment-suite.ppe",
];

/// The steps of the sequence that an aid is of.
fn steps_of<'a>(checked: &'a Checked, aid: &Aid) -> &'a [Step] {
    let policy = &checked.reading.policy;
    let sequences = policy.sequences.iter().map(|sequence| (&sequence.title, &sequence.steps));
    let drills = policy.contingencies.iter().map(|drill| (&drill.title, &drill.steps));
    sequences.chain(drills).find(|(title, _)| **title == aid.title).expect("an aid of a procedure").1
}

/// All the words of a row, for looking things up in.
fn words_of(row: &Row) -> String {
    match row {
        Row::Step(step) => told_step(step),
        Row::Hold(_) => {
            let band = anteroom::aids::plan::Band { title: String::new(), rows: vec![row.clone()] };
            let bare =
                Steps { intro: String::new(), bands: vec![band], layers: vec![], putting_on: false, endings: vec![] };
            told_steps(&bare)
        }
    }
}

/// Every step, hold, prompt and signal of a sequence stands on its poster and its observer card, in order (issue 2).
#[test]
fn posters_and_observer_cards_leave_nothing_out() {
    for file in EVERYTHING {
        let checked = checked(file, day());
        let mut seen = 0;
        for aid in plan(&checked).aids {
            let Body::Steps(body) = &aid.body else { continue };
            if aid.kind != "Poster" && aid.kind != "Observer card" {
                continue;
            }
            let rows: Vec<&Row> = body.bands.iter().flat_map(|band| &band.rows).collect();
            let steps = steps_of(&checked, &aid);
            assert_eq!(rows.len(), steps.len(), "{file}: {}", aid.file);
            for (row, step) in rows.into_iter().zip(steps) {
                let words = words_of(row);
                let prompts = &step.prompts;
                let texts = [&prompts.say, &prompts.look_for, &prompts.stop_if, &prompts.danger, &prompts.warning];
                for text in texts.into_iter().flatten().chain(&prompts.caution) {
                    assert!(words.contains(text.as_str()), "{file}: {}: {text}\nnot in\n{words}", aid.file);
                }
                if let Act::Hold(hold) = &step.act {
                    assert!(words.contains(&hold.title), "{words}");
                    assert!(hold.confirms.iter().all(|(_, what)| words.contains(what.as_str())), "{words}");
                    assert_eq!(hold.if_not.is_some(), words.contains("If not, "), "{words}");
                }
            }
            seen += 1;
        }
        assert!(seen > 0, "{file} prints neither a poster nor an observer card");
    }
}

/// A step has one number on every aid: wearer, helper and observer must be able to speak of it (issue 2).
#[test]
fn a_step_has_the_same_number_on_every_aid() {
    for file in EVERYTHING {
        let checked = checked(file, day());
        for aid in plan(&checked).aids {
            let Body::Steps(body) = &aid.body else { continue };
            let wanted: Vec<u32> = steps_of(&checked, &aid).iter().filter_map(|step| step.number).collect();
            assert_eq!(wanted, (1..=wanted.len() as u32).collect::<Vec<_>>(), "{file}: numbers run on");
            let rows = body.bands.iter().flat_map(|band| &band.rows);
            let printed: Vec<u32> =
                rows.filter_map(|row| if let Row::Step(step) = row { Some(step.number) } else { None }).collect();
            assert!(printed.is_sorted_by(|a, b| a < b), "{file}: {}: {printed:?}", aid.file);
            if aid.kind != "Wearer card" {
                assert_eq!(printed, wanted, "{file}: {}", aid.file);
            }
            for (row, step) in body.bands.iter().flat_map(|band| &band.rows).filter_map(numbered(&checked, &aid)) {
                let same = (row.quiet, matches!(step.act, Act::CleanHands(_)));
                assert_eq!(same.0, same.1, "{file}: {}: step {}", aid.file, row.number);
            }
        }
    }
}

fn numbered<'a>(checked: &'a Checked, aid: &Aid) -> impl Fn(&'a Row) -> Option<(&'a StepRow, &'a Step)> {
    let steps = steps_of(checked, aid);
    move |row| {
        let Row::Step(row) = row else { return None };
        steps.iter().find(|step| step.number == Some(row.number)).map(|step| (row, step))
    }
}

/// Short imperatives: at most 12 words a step (Checklist for Checklists 2010 and PRINT-AND-CONTROL of the evidence ask for
/// one action a line, 10 to 12 words). The policy's own words in `does` and `print as` are the policy's affair.
#[test]
fn acts_are_short() {
    for file in EVERYTHING {
        for aid in plan(&checked(file, day())).aids {
            let Body::Steps(body) = &aid.body else { continue };
            for row in body.bands.iter().flat_map(|band| &band.rows) {
                let Row::Step(step) = row else { continue };
                assert!(step.act.split_whitespace().count() <= 12, "{file}: {}", step.act);
                assert!(step.act.starts_with(char::is_uppercase) && !step.act.ends_with('.'), "{file}: {}", step.act);
            }
        }
    }
}

/// No two aids share a file, and every face has its document control (issue 2).
#[test]
fn every_face_is_controlled() {
    for file in EVERYTHING {
        let plan = plan(&checked(file, day()));
        let mut names: Vec<&str> = plan.aids.iter().map(|aid| aid.file.as_str()).collect();
        names.sort();
        names.dedup();
        assert_eq!(names.len(), plan.aids.len());
        assert!(plan.not_made.is_empty(), "{:?}", plan.not_made);
        for aid in &plan.aids {
            let control = &aid.control;
            let fields = [&control.policy, &control.site, &control.level, &control.edition, &control.in_force];
            let more = [&control.review, &control.owner, &control.approval, &control.caution];
            assert!(fields.into_iter().chain(more).all(|field| !field.is_empty()), "{file}: {control:?}");
            assert_eq!(control.fingerprint.len(), 8, "{file}");
            assert!(aid.file.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-'), "{}", aid.file);
        }
    }
}

/// A draft says why, on every aid (issue 2): DANGER, no approval, past its review.
#[test]
fn a_draft_says_why() {
    let drafts = |file: &str, today: Day| {
        let plan = plan(&checked(file, today));
        assert!(plan.aids.windows(2).all(|pair| pair[0].marking == pair[1].marking));
        plan.aids[0].marking.clone().map(|marking| marking.reasons).unwrap_or_default()
    };
    let team = drafts("tests/samples/transfer-team.ppe", day());
    assert!(team.contains(&"Nobody has approved this edition.".to_string()), "{team:?}");
    assert_eq!(drafts("policies/side-rooms.ppe", day()), Vec::<String>::new());
    let late = drafts("policies/side-rooms.ppe", Day::new(2027, 10, 1).unwrap());
    assert_eq!(late, ["The review date, 30 September 2027, has passed."]);
    let gown = drafts("policies/faulty/touch-front-of-the-gown.ppe", day());
    assert!(gown.iter().any(|reason| reason.contains("DANGER")), "{gown:?}");
}

const WARD: &str = r#"policy "Ward"
site "Bench"
edition 1
place corridor is clean
place lobby is for putting on
place room is contaminated
place exit is for taking off
way corridor to lobby to room to exit to corridor
role wearer
role helper
  helps wearer
role observer
  watches
cleaner hand rub "alcohol hand rub"
  for hands
cleaner soap and water
  for hands
cleaner wipe "chlorine wipe"
  for surfaces
  wet for 1 minute
container bag "orange bag"
  for waste
  stands in exit
container box "lidded box"
  for reuse
  stands in exit
surface bench
  stands in exit
surface sheet
  laid in exit
item apron "long plastic apron"
  covers trunk
  grip ties
item suit
  covers trunk, arms, legs
  grip zip
item boots "rubber boots"
  covers feet
item inner gloves
  covers hands
item outer gloves "long-cuff nitrile gloves"
  covers hands
  goes over suit
item hood
  covers hair, neck
  connects to blower
item blower
  runs for 4 hours
item goggles
  covers eyes
  grip headband
item helper gown "long-sleeved gown"
  covers trunk, arms
  grip ties
item shears
  sharp
hazard fluid
  spreads by contact
level Full against fluid
  wearer wears suit, boots, inner gloves, outer gloves, apron, hood, blower, goggles
  helper wears helper gown, outer gloves
ask_line
sequence "Taking off" for Full, in exit
  part "Arrive"
  observer checks wearer
  {step}
  helper wipes bench with wipe
  wearer takes off goggles by headband into bag
  wearer takes off boots into box
print poster of "Taking off"
  on A3
print observer card of "Taking off"
  on A6
print wearer card of "Taking off"
  on A6
print helper card of "Taking off"
  on A6
"#;

/// The second step of the ward's taking off, as an aid of a kind prints it.
fn row(kind: &str, step: &str) -> Option<StepRow> {
    let text = WARD.replace("ask_line\n", "").replace("{step}", step);
    let text = text.replace(
        "\nsequence",
        "\nchoice of level\n  ask splash is likely \"Splash?\"\n  otherwise gives Full\nsequence",
    );
    let checked = checked_text(&text, day());
    assert!(checked.reading.problems.is_empty(), "{step}: {:?}", checked.reading.problems);
    let plan = plan(&checked);
    let aid = plan.aids.iter().find(|aid| aid.kind == kind)?;
    let Body::Steps(body) = &aid.body else { return None };
    let mut rows = body.bands.iter().flat_map(|band| band.rows.clone());
    rows.find_map(|row| match row {
        Row::Step(step) if step.number == 2 => Some(step),
        _ => None,
    })
}

fn poster(step: &str) -> (String, String) {
    let row = row("Poster", step).expect("a row");
    let who = if row.who.is_empty() { String::new() } else { format!("{}: ", row.who) };
    (format!("{who}{}", row.act), row.detail)
}

/// Sentences of this project's own; what each must get right is said before it.
#[test]
fn sentences_on_a_wall() {
    let cases = [
        // One thing has its ties, two have the cuff.
        (
            "wearer takes off apron by ties, rolling it inside out, into bag",
            "Take off the apron by its ties",
            "Roll it inside out. Into the orange bag.",
        ),
        (
            "wearer takes off outer gloves by cuff into bag",
            "Take off the outer gloves by the cuff",
            "Into the orange bag.",
        ),
        ("wearer takes off goggles by headband onto sheet", "Take off the goggles by the headband", "Onto the sheet."),
        ("wearer takes off outer gloves, rolling it inside out", "Take off the outer gloves", "Roll them inside out."),
        // What comes off together rolls together.
        (
            "wearer takes off suit by zip, rolling it inside out, together with outer gloves into bag",
            "Take off the suit by its zip, together with the outer gloves",
            "Roll them inside out. Into the orange bag.",
        ),
        // Whom the helper helps; whose gloves the helper changes.
        (
            "helper helps wearer take off hood by crown into bag",
            "Helper: Help the wearer take off the hood by its crown",
            "Into the orange bag.",
        ),
        (
            "helper changes outer gloves",
            "Helper: Change your own outer gloves",
            "Take them off, then put on fresh ones.",
        ),
        ("wearer changes inner gloves", "Change the inner gloves", "Take them off, then put on fresh ones."),
        // The printed name of what goes on; the writer's name for the helper's gown is not for print.
        ("wearer puts on apron", "Put on the apron", "Long plastic apron."),
        ("helper puts on helper gown", "Helper: Put on the long-sleeved gown", ""),
        ("wearer puts on suit as far as the hips", "Put on the suit as far as the hips", ""),
        ("wearer pulls up suit", "Pull the suit up all the way", ""),
        ("wearer puts on fresh inner gloves", "Put on fresh inner gloves", ""),
        ("wearer puts on fresh apron", "Put on a fresh apron", "Long plastic apron."),
        ("wearer cleans hands with hand rub for 30 seconds", "Clean hands", ""),
        ("helper cleans hands with soap and water for 40 seconds", "Helper: Wash hands", ""),
        ("wearer wipes boots with wipe", "Wipe the boots", "Chlorine wipe: keep wet for 1 minute."),
        (
            "helper wipes bench with wipe for 2 minutes",
            "Helper: Wipe the bench",
            "Chlorine wipe: keep wet for 2 minutes.",
        ),
        ("helper connects hood to blower", "Helper: Connect the hood to the blower", ""),
        ("helper disconnects hood from blower", "Helper: Disconnect the hood from the blower", ""),
        ("helper cuts ties of apron with shears", "Helper: Cut the ties of the apron with the shears", ""),
        ("wearer breaks ties of apron", "Break the ties of the apron", ""),
        ("wearer puts boots into box", "Put the boots into the lidded box", ""),
        ("wearer sits on bench", "Sit down on the bench", ""),
        ("wearer steps onto sheet", "Step onto the sheet", ""),
        ("helper folds sheet", "Helper: Fold the sheet", ""),
        ("wearer goes to corridor", "Go to the corridor", ""),
        ("observer does \"call the lead now\"", "Observer: Call the lead now", ""),
        ("observer checks outer gloves", "Observer: Check the outer gloves", ""),
    ];
    for (step, act, detail) in cases {
        assert_eq!(poster(step), (act.to_string(), detail.to_string()), "{step}");
    }
}

#[test]
fn the_policys_own_sentence_comes_first() {
    let step = "wearer takes off outer gloves by cuff into bag\n    print as \"Peel off the outer gloves\"";
    assert_eq!(poster(step), ("Peel off the outer gloves".into(), "Into the orange bag.".into()));
}

#[test]
fn cards_speak_to_their_reader() {
    let act = |kind: &str, step: &str| row(kind, step).map(|row| (row.who.clone(), row.act.clone()));
    let is = |who: &str, act: &str| Some((who.to_string(), act.to_string()));
    let hood = "helper helps wearer take off hood by crown into bag";
    assert_eq!(act("Wearer card", hood), is("Helper", "Let the helper help you take off your hood"));
    assert_eq!(act("Helper card", hood), is("You", "Help the wearer take off the hood by its crown"));
    let apron = "helper wipes apron with wipe, if apron is soiled";
    assert_eq!(act("Wearer card", apron), is("Helper", "Let the helper wipe your apron"));
    assert_eq!(act("Helper card", apron), is("You", "Wipe the wearer’s apron"));
    let hands = "wearer cleans hands with hand rub for 30 seconds";
    assert_eq!(act("Wearer card", hands), is("", "Clean your hands"));
    assert_eq!(act("Helper card", hands), is("Wearer", "Clean hands"));
    assert_eq!(act("Wearer card", "helper changes outer gloves"), None);
    assert_eq!(act("Helper card", "helper changes outer gloves"), is("You", "Change your outer gloves"));
    assert_eq!(act("Observer card", "observer checks outer gloves"), is("You", "Check the wearer’s outer gloves"));
}

/// The observer reads each step aloud (CDC training modules 2014, paprrespirator_gown/doffing_02 [S]).
#[test]
fn the_observer_always_has_something_to_say() {
    let say = |step: &str| row("Observer card", step).expect("a row").say.join(" ");
    assert_eq!(
        say("wearer takes off apron by ties, rolling it inside out, into bag"),
        "Take off your apron by its ties. Roll it inside out."
    );
    assert_eq!(
        say("helper helps wearer take off hood by crown into bag"),
        "Helper: help the wearer take off the hood by its crown."
    );
    assert_eq!(say("wearer takes off apron by ties\n    say \"Slowly now.\""), "Slowly now.");
    assert_eq!(say("observer checks wearer"), "Stand still. I check you now.");
    assert_eq!(say("wearer cleans hands with hand rub for 30 seconds"), "");
}

#[test]
fn conditions_are_told_in_words() {
    let when = |step: &str| row("Poster", step).expect("a row").when;
    assert_eq!(when("wearer takes off apron, if apron is soiled"), "Only if the apron is soiled");
    assert_eq!(when("wearer takes off apron, unless apron is soiled"), "Only if the apron is not soiled");
    assert_eq!(when("wearer takes off boots, if boots are supplied"), "Only if the boots are supplied");
    assert_eq!(
        when("wearer takes off apron, if apron is soiled or boots are not supplied"),
        "Only if the apron is soiled or the boots are not supplied"
    );
    assert_eq!(
        when("wearer cleans hands with hand rub, if hands are clean to see and splash is likely"),
        "Only if hands are clean to see and splash is likely"
    );
    assert_eq!(when("wearer takes off apron"), "");
}

/// What is not made is told, with its place.
#[test]
fn what_is_not_made_is_told() {
    let text = WARD.replace("ask_line\n", "").replace("{step}", "wearer goes to corridor");
    let text = text.replace("print poster", "print review sheet\n  on A4\nprint poster");
    let plan = plan(&checked_text(&text, day()));
    assert!(
        plan.not_made.iter().any(|why| why.contains("review sheet") && why.contains("anteroom compare")),
        "{:?}",
        plan.not_made
    );
}

/// Each key has its drawing, and each its words for those who cannot see it.
#[test]
fn every_pictogram_is_drawn() {
    for file in EVERYTHING {
        for aid in plan(&checked(file, day())).aids {
            let pictures: Vec<_> = match aid.body {
                Body::Steps(steps) => {
                    let rows = steps.bands.into_iter().flat_map(|band| band.rows);
                    rows.filter_map(|row| if let Row::Step(step) = row { step.pictogram } else { None }).collect()
                }
                Body::Kit(kit) => {
                    let rows = kit.roles.into_iter().flat_map(|role| role.rows).chain(kit.supplies);
                    rows.filter_map(|row| row.pictogram).collect()
                }
                Body::Sign(sign) => {
                    let items = sign.wear.into_iter().flat_map(|kit| kit.items);
                    items.filter_map(|item| item.pictogram).collect()
                }
                Body::Area(area) => {
                    let things = area.places.into_iter().flat_map(|place| place.things);
                    things.filter_map(|thing| thing.pictogram).collect()
                }
                Body::Chart(_) | Body::Form(_) | Body::Choice(_) | Body::Review(_) => continue,
            };
            assert!(!pictures.is_empty(), "{file}: {}", aid.file);
            for picture in pictures {
                let key = picture.key.trim_end_matches("_on").trim_end_matches("_off");
                let drawing = format!("src/typeset/pictograms/{key}.svg");
                assert!(std::fs::exists(&drawing).unwrap(), "{file}: {key}");
                assert!(!picture.alt.is_empty(), "{file}: {key}");
            }
        }
    }
}

/// A drill is printed like a sequence, with what starts it and how it ends.
#[test]
fn a_drill_says_when_and_what_next() {
    let steps_in = |language: &str, happens: &str| {
        let drill = format!(
            "contingency \"Something is wrong\" when {happens}\n  wearer changes inner gloves\n  then carry on\n\
             print poster of \"Something is wrong\"\n  on A4\nprint poster"
        );
        let text = WARD.replace("ask_line\n", "").replace("{step}", "wearer goes to corridor");
        let text = text.replace("edition 1\n", &format!("edition 1\nlanguage {language}\n"));
        let checked = checked_text(&text.replacen("print poster", &drill, 1), day());
        assert!(checked.reading.problems.is_empty(), "{:?}", checked.reading.problems);
        let aid = plan(&checked).aids.remove(0);
        let Body::Steps(steps) = aid.body else { panic!("a poster has steps") };
        assert_eq!(aid.title, "Something is wrong");
        steps
    };
    let steps = |happens: &str| steps_in("en", happens);
    for (happens, said) in [
        ("inner gloves are torn", "When the inner gloves are torn. "),
        ("the inner gloves are torn", "When the inner gloves are torn. "),
        ("face is splashed", "When the face is splashed. "),
        ("wearer is unwell", "When the wearer is unwell. "),
        ("somebody faints", "When somebody faints. "),
    ] {
        let intro = steps(happens).intro;
        assert!(intro.starts_with(said), "{happens}: {intro}");
    }
    // Another language's words are left as they are written.
    let intro = steps_in("fr", "inner gloves are torn").intro;
    assert!(intro.contains(": inner gloves are torn. "), "{intro}");
    assert_eq!(steps("inner gloves are torn").endings, ["Then carry on where you stopped."]);
}

/// A card for all levels says what is worn over what in some of them only; one for a level says what is so there.
#[test]
fn a_card_for_all_levels_says_over_what_where_it_is_worn() {
    let details = |policy: &str, file: &str| -> String {
        let aids = plan(&checked(policy, day())).aids;
        let aid = aids.iter().find(|aid| aid.file == file).expect("the card");
        let Body::Steps(steps) = &aid.body else { panic!("a card has steps") };
        steps.bands.iter().flat_map(|band| &band.rows).map(words_of).collect()
    };
    // Gloves go over a gown that only one of two levels wears.
    let of_all = details("policies/side-rooms.ppe", "event-card-a-glove-tears");
    assert!(of_all.contains("Over the gown, if worn."), "{of_all}");
    let of_one = details("policies/negative-pressure-room.ppe", "event-card-a-glove-tears");
    assert!(of_one.contains("Over the gown.") && !of_one.contains("if worn"), "{of_one}");
}

/// In a language without words of its own the aids still come, and say so.
#[test]
fn another_language_is_told() {
    let text = WARD.replace("ask_line\n", "").replace("{step}", "wearer goes to corridor");
    let plan = plan(&checked_text(&text.replace("edition 1", "edition 1\nlanguage sw"), day()));
    assert!(plan.not_made[0].contains("sw"), "{:?}", plan.not_made);
    assert_eq!(plan.aids[0].language, "sw");
}

/// However faulty a policy is, its aids are planned, and twice the same.
#[test]
fn faulty_policies_are_planned_too() {
    for folder in ["policies/faulty", "tests/published"] {
        for entry in std::fs::read_dir(folder).unwrap().flatten() {
            let path = entry.path();
            let path = path.to_str().unwrap();
            if path.ends_with(".ppe") {
                let checked = checked(path, day());
                assert_eq!(told(&plan(&checked)), told(&plan(&checked)), "{path}");
            }
        }
    }
}

/// The words of a language and the code that says them know the same keys.
#[test]
fn every_word_is_said_and_every_key_has_its_words() {
    let words = std::fs::read_to_string("src/aids/words/en-GB.json").unwrap();
    let words: serde_json::Value = serde_json::from_str(&words).unwrap();
    let files = std::fs::read_dir("src/aids").unwrap().flatten().filter(|file| file.path().is_file());
    let code: String = files.map(|file| std::fs::read_to_string(file.path()).unwrap()).collect::<Vec<_>>().join("\n");
    let tables = [
        "kinds", "signals", "control", "intro", "acts", "voices", "details", "when", "hold", "kit", "chart",
        "not_made", "alt",
    ];
    for table in tables {
        for key in words[table].as_object().unwrap().keys() {
            assert!(code.contains(&format!("\"{key}\"")), "nothing says {table}.{key}");
        }
        for said in code.split(&format!("words.{table}, \"")).skip(1) {
            let key = said.split('"').next().unwrap();
            assert!(words[table].get(key).is_some_and(|text| text.is_string()), "{table} has no {key}");
        }
    }
    for area in anteroom::policy::Area::ALL {
        assert!(words["areas"].get(area.word()).is_some(), "{area:?}");
    }
}
