//! Aids of an invented hospital for the typesetting tests: every kind of row, short and long.

use anteroom::aids::plan::{
    Aid, Band, Body, Confirm, Control, HoldRow, Kit, KitOfRole, KitRow, Labels, Layer, Layout, Pictogram, Row,
    SignalPanel, SignalWord, StepRow, Steps, StillOn,
};
use anteroom::policy::PaperSize;

pub fn labels() -> Labels {
    let own = str::to_string;
    Labels {
        hold: own("HOLD"),
        say: own("SAY"),
        look_for: own("LOOK FOR"),
        stop_if: own("STOP IF"),
        page_of: own("Page {n} of {total}"),
        side_of: own("Side {n} of {total}"),
        fingerprint: own("Fingerprint"),
        item: own("Item"),
        count: own("Count"),
        check: own("Check"),
        continued: own("continued"),
    }
}

pub fn control() -> Control {
    let own = str::to_string;
    Control {
        policy: own("Isolation suite: suspected avian influenza, enhanced precautions"),
        site: own("Saltmarsh District Hospital"),
        level: own("Enhanced"),
        place: own("Exit lobby"),
        edition: own("Edition 4"),
        in_force: own("In force from 1 December 2026"),
        review: own("Review by 1 June 2027"),
        owner: own("Owner: Infection Prevention and Control Team"),
        approval: own("Approved by Infection Control Committee on 2 November 2026"),
        fingerprint: own("3fa9c2d1"),
        code: own("anteroom 3fa9c2d1 edition 4\nIsolation suite: suspected łó...\nhttps://example.org/s4"),
        code_alt: own("Square code: Isolation suite. Edition 4. Fingerprint 3fa9c2d1"),
        date: Some(own("2026-12-01")),
        caution: own(
            "Local codes, the manufacturer’s instructions and licensed practice come first. This aid does not replace training.",
        ),
    }
}

pub fn aid(layout: Layout, paper: PaperSize, title: &str, body: Body) -> Aid {
    let kind = match layout {
        Layout::Card => "Observer card",
        Layout::Poster => "Poster",
        Layout::KitList => "Kit list",
        Layout::WalkChart => "Walk chart",
        Layout::Form => "Competence record",
        Layout::DoorSign => "Door sign",
        Layout::AreaPlan => "Area plan",
        Layout::ChoicePoster => "Choice of level",
        Layout::Review => "Review sheet",
    };
    Aid {
        file: format!("{}-{}", kind.to_lowercase().replace(' ', "-"), paper.word().to_lowercase()),
        layout,
        language: "en-GB".into(),
        right_to_left: false,
        paper,
        sideways: false,
        both_sides: layout == Layout::Card,
        laminated: layout == Layout::Card,
        pictured: layout == Layout::WalkChart,
        read_from_mm: (layout == Layout::Poster).then_some(1500),
        title: title.into(),
        kind: kind.into(),
        copies: vec!["2 copies for exit lobby".into()],
        quantities: Vec::new(),
        control: control(),
        marking: None,
        drawings: Default::default(),
        sources: Vec::new(),
        body,
        labels: labels(),
        asked_at: "isolation-suite.ppe line 214".into(),
    }
}

pub fn step(number: u32, act: &str, detail: &str, key: &str) -> StepRow {
    StepRow {
        number,
        quiet: false,
        brief: false,
        act: act.into(),
        detail: detail.into(),
        who: String::new(),
        when: String::new(),
        pictogram: (!key.is_empty()).then(|| Pictogram { key: key.into(), alt: format!("Drawing: {act}") }),
        say: Vec::new(),
        look_for: Vec::new(),
        stop_if: Vec::new(),
        signals: Vec::new(),
        because: Vec::new(),
        still_on: None,
        quiet_detail: String::new(),
    }
}

pub fn clean(number: u32, who: &str) -> StepRow {
    StepRow {
        quiet: true,
        who: who.into(),
        quiet_detail: "hand rub, 30 seconds".into(),
        ..step(number, if who.is_empty() { "Clean gloved hands" } else { "Clean hands" }, "", "hand_rub")
    }
}

pub fn signal(signal: SignalWord, text: &str) -> SignalPanel {
    let word = match signal {
        SignalWord::Danger => "DANGER",
        SignalWord::Warning => "WARNING",
        SignalWord::Caution => "CAUTION",
    };
    SignalPanel { signal, word: word.into(), text: text.into() }
}

pub fn hold(title: &str, what: &str, if_not: &str) -> Row {
    Row::Hold(HoldRow {
        title: title.into(),
        confirms: vec![Confirm { who: "Observer confirms:".into(), what: what.into() }],
        if_not: if_not.into(),
        when: String::new(),
        say: Vec::new(),
        look_for: Vec::new(),
        stop_if: Vec::new(),
        signals: Vec::new(),
    })
}

fn band(title: &str, rows: Vec<Row>) -> Band {
    Band { title: title.into(), rows }
}

/// Taking off in 24 steps and two holds; `prompts` adds what an observer's card holds.
pub fn taking_off(prompts: bool) -> Steps {
    let by = |who: &str, row: StepRow| Row::Step(StepRow { who: who.into(), ..row });
    let plain = |row: StepRow| Row::Step(row);
    let look = StepRow {
        look_for: if prompts { vec!["Tears, splits and visible soiling.".into()] } else { Vec::new() },
        ..step(
            2,
            "Look the wearer over",
            if prompts { "" } else { "Look for tears, splits and visible soiling." },
            "look",
        )
    };
    let soiled = StepRow {
        when: "Only if the apron is soiled".into(),
        ..step(3, "Wipe the apron", "With a chlorine wipe, wet for 1 minute.", "wipe")
    };
    let coverall = StepRow {
        signals: vec![signal(SignalWord::Danger, "Do not let the outside touch the scrubs.")],
        look_for: if prompts { vec!["Hands stay inside the suit until it is below the knees.".into()] } else { vec![] },
        stop_if: if prompts { vec!["The outside brushes the scrubs.".into()] } else { vec![] },
        ..step(12, "Take off the coverall by its zip", "Roll it inside out, into clinical waste.", "coverall_off")
    };
    let respirator = StepRow {
        say: vec!["“Lean forward. Lower strap first, then the upper strap. Do not touch the front.”".into()]
            .into_iter()
            .filter(|_| prompts)
            .collect(),
        stop_if: vec!["A hand touches the front.".into()].into_iter().filter(|_| prompts).collect(),
        ..step(17, "Take off the respirator by its straps", "Into clinical waste.", "respirator_off")
    };
    let mut bands = vec![
        band(
            "Arrive",
            vec![
                plain(step(1, "Go to the exit lobby", "", "go")),
                by("Observer", look),
                by("Helper", soiled),
                hold(
                    "Clear to start",
                    "soiling has been wiped and the helper is ready.",
                    "If not, go back to step 1, Arrive.",
                ),
            ],
        ),
        band(
            "Outside layer",
            vec![
                plain(clean(4, "")),
                plain(step(
                    5,
                    "Take off the apron by its ties",
                    "Roll it inside out, into clinical waste.",
                    "apron_off",
                )),
                plain(clean(6, "")),
                plain(step(7, "Take off the outer gloves by the cuff", "Into clinical waste.", "outer_gloves_off")),
                plain(clean(8, "")),
            ],
        ),
        band(
            "Suit",
            vec![
                by("Helper", step(9, "Take off the hood by its crown", "Into clinical waste.", "hood_off")),
                plain(clean(10, "Helper")),
                plain(clean(11, "")),
                by("Helper", coverall),
                plain(clean(13, "Helper")),
                plain(clean(14, "")),
            ],
        ),
        band(
            "Face",
            vec![
                plain(step(15, "Take off the goggles by the headband", "Into the goggles box.", "goggles_off")),
                plain(clean(16, "")),
                plain(respirator),
                plain(clean(18, "")),
            ],
        ),
        band(
            "Last layer",
            vec![
                plain(step(19, "Wipe the boots", "With a chlorine wipe, wet for 1 minute.", "boots")),
                plain(clean(20, "")),
                plain(step(21, "Take off the inner gloves by the cuff", "Into clinical waste.", "inner_gloves_off")),
                plain(StepRow {
                    quiet_detail: "soap and water, 40 seconds".into(),
                    act: "Wash hands".into(),
                    ..clean(22, "")
                }),
                hold(
                    "Clear to leave",
                    "no item is left on and no exposure is reported.",
                    "If not, start “Possible exposure”.",
                ),
                plain(step(23, "Go to the corridor", "", "go")),
            ],
        ),
    ];
    if prompts {
        let mut on = 8;
        for row in bands.iter_mut().flat_map(|band| &mut band.rows) {
            if let Row::Step(step) = row
                && !step.quiet
            {
                on -= u32::from(step.act.starts_with("Take off"));
                step.still_on = Some(StillOn { on, of: 8, words: format!("{on} still on") });
                if step.act.starts_with("Take off") && step.say.is_empty() {
                    step.say.push(format!("“{}. Slowly.”", step.act));
                }
            }
        }
    }
    let layer = |name: &str, to| Layer { name: name.into(), from: None, to };
    Steps {
        intro: String::new(),
        bands,
        layers: vec![
            layer("Apron", Some(5)),
            layer("Outer gloves", Some(7)),
            layer("Hood", Some(9)),
            layer("Coverall", Some(12)),
            layer("Goggles", Some(15)),
            layer("Respirator", Some(17)),
            layer("Inner gloves", Some(21)),
            layer("Boots", None),
        ],
        putting_on: false,
        endings: Vec::new(),
    }
}

/// Putting on in six steps.
pub fn putting_on() -> Steps {
    let items = ["gown", "mask", "goggles", "gloves"];
    let mut rows = vec![Row::Step(StepRow { act: "Clean hands".into(), ..clean(1, "") })];
    for (at, item) in items.iter().enumerate() {
        let mut row = step(at as u32 + 2, &format!("Put on the {item}"), "", &format!("{item}_on"));
        if *item == "gown" {
            row.detail = "Tie at the neck, then at the waist.".into();
            row.signals = vec![signal(SignalWord::Caution, "Sit down to tie the legs.")];
        }
        if *item == "mask" {
            row.detail = "The nose piece is moulded and no gap shows at the cheeks.".into();
            row.signals = vec![signal(SignalWord::Warning, "A beard lets air past the seal.")];
        }
        rows.push(Row::Step(row));
    }
    rows.push(hold("Ready to go in", "no skin shows between glove and sleeve.", "If not, go back to step 1."));
    rows.push(Row::Step(step(6, "Go to the side room", "", "go")));
    Steps {
        intro: String::new(),
        bands: vec![band("", rows)],
        layers: items
            .iter()
            .enumerate()
            .map(|(at, item)| Layer { name: item.to_string(), from: Some(at as u32 + 2), to: None })
            .collect(),
        putting_on: true,
        endings: Vec::new(),
    }
}

/// A sequence of `count` steps of every kind and of changing length.
pub fn steps(count: u32) -> Steps {
    let long = "Turn it inside out away from the face and keep the arms well away from the body";
    let rows = (1..=count).map(|n| match n % 7 {
        0 => hold(&format!("Hold number {n}"), "everything that stands above is done.", "If not, go back to step 1."),
        1 | 4 => Row::Step(clean(n, if n % 2 == 0 { "Helper" } else { "" })),
        2 => Row::Step(StepRow {
            signals: vec![signal(SignalWord::Danger, "The front is contaminated.")],
            ..step(n, &format!("Act number {n}"), long, "gown_off")
        }),
        5 => Row::Step(StepRow { when: "Only if gloves are torn".into(), ..step(n, long, "", "gloves_off") }),
        _ => Row::Step(step(n, &format!("Act number {n}"), "Into clinical waste.", "mask_off")),
    });
    let rows: Vec<Row> = rows.collect();
    let bands = rows.chunks(6).enumerate().map(|(at, rows)| band(&format!("Part {}", at + 1), rows.to_vec())).collect();
    Steps {
        intro: "The observer reads each line aloud.".into(),
        bands,
        layers: vec![
            Layer { name: "Gown".into(), from: None, to: Some(2) },
            Layer { name: "Gloves".into(), from: Some(3), to: Some(count) },
        ],
        putting_on: false,
        endings: Vec::new(),
    }
}

pub fn kit() -> Kit {
    let row = |name: &str, count: &str, detail: &str, key: &str| KitRow {
        name: name.into(),
        count: count.into(),
        detail: detail.into(),
        pictogram: (!key.is_empty()).then(|| Pictogram { key: key.into(), alt: name.into() }),
    };
    Kit {
        intro: "For one wearer and one helper.".into(),
        roles: vec![
            KitOfRole {
                role: "Wearer".into(),
                rows: vec![
                    row("Washable boots", "1 pair", "reused after chlorine wipe", "boots"),
                    row("Inner gloves", "1 pair", "single use", "inner_gloves"),
                    row("Coverall", "1", "EN 14126 · single use", "coverall"),
                    row("FFP3 respirator", "1", "EN 149 FFP3 · needs fit test · single use", "respirator"),
                    row("Sealed goggles", "1", "reused after chlorine wipe", "goggles"),
                    row("Head and neck cover", "1", "single use", "hood"),
                    row("Long plastic apron", "1", "single use", "apron"),
                    row("Long-cuff nitrile gloves", "1 pair", "single use", "outer_gloves"),
                ],
            },
            KitOfRole {
                role: "Helper".into(),
                rows: vec![
                    row("Long-sleeved gown", "1", "single use", "gown"),
                    row("FFP3 respirator", "1", "EN 149 FFP3 · needs fit test · single use", "respirator"),
                    row("Sealed goggles", "1", "reused after chlorine wipe", "goggles"),
                    row("Nitrile gloves", "1 pair", "single use", "gloves"),
                ],
            },
        ],
        supplies: vec![
            row("Alcohol hand rub", "1", "", "hand_rub"),
            row("Chlorine wipes, 1000 ppm", "1", "wet for 1 minute", "wipe"),
            row("Orange clinical waste bag", "2", "60 litres", "waste"),
            row("Lidded box for goggles", "1", "", "reuse_box"),
        ],
        supplies_title: "Also needed".into(),
    }
}
