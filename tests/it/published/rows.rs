//! The rows of the evidence: which policy writes each, where it was seen, for which level it was written, and what is told.

/// What a level assumes and keeps away.
#[derive(Debug, PartialEq)]
pub struct Level {
    pub every_outside: bool,
    pub skin: u32,
    pub face: u32,
}

/// The posters for contact, splash and airborne precautions.
pub const GENERAL: Level = Level { every_outside: false, skin: 2, face: 3 };
/// The kits for haemorrhagic fevers.
pub const FULL: Level = Level { every_outside: true, skin: 3, face: 3 };

/// What a body publishes: no DANGER.
pub struct Published {
    /// D: taking off, N: putting on, P: must pass, A3: grips, actors and holds.
    pub rows: &'static [&'static str],
    pub file: &'static str,
    pub source: &'static str,
    /// S seen in the body's own page, S3 in a third party's copy, M from memory, – not seen at all.
    pub tag: &'static str,
    pub level: Level,
    /// What is told at WARNING, and why: where the body asks for less than the others do. U3, U16 and C3 are rows of the
    /// evidence that say so.
    pub told: &'static [(&'static str, &'static str)],
}

pub const PUBLISHED: [Published; 36] = [
    Published {
        rows: &["D1", "P41"],
        file: "d1",
        source: "CDC poster CS250672, example 1",
        tag: "S3",
        level: GENERAL,
        told: &[
            ("hygiene face", "CDC asks for clean hands only where they are contaminated (U3)"),
            ("hygiene gloves", "CDC asks for clean hands at the end (U16)"),
        ],
    },
    Published {
        rows: &["D2", "P42"],
        file: "d2",
        source: "CDC poster CS250672, example 2",
        tag: "M",
        level: GENERAL,
        told: &[("hygiene face", "as D1 (U3)"), ("hygiene gloves", "as D1 (U16)")],
    },
    Published {
        rows: &["D3"],
        file: "d3",
        source: "CDC for COVID-19, in J Nucl Med Technol",
        tag: "S3",
        level: GENERAL,
        told: &[("hygiene gloves", "hands are cleaned after leaving the room, not after the gloves (U16)")],
    },
    Published {
        rows: &["D4", "P52"],
        file: "d4",
        source: "CDC Ebola, August 2015, powered respirator",
        tag: "M",
        level: FULL,
        told: &[],
    },
    Published { rows: &["D5"], file: "d5", source: "CDC Ebola, August 2015, N95", tag: "M", level: FULL, told: &[] },
    Published {
        rows: &["D6"],
        file: "d6",
        source: "CDC, suspected haemorrhagic fever, stable and dry",
        tag: "M",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D7", "P46"],
        file: "d7",
        source: "CDC for West Africa, 2014, in press graphics",
        tag: "S3",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D8", "P51"],
        file: "d8",
        source: "CDC, H5N1 on farms, May 2024",
        tag: "S3",
        level: GENERAL,
        told: &[(
            "order covered",
            "the sleeves come out from beneath the gloves, which can come along; the hazard stays 2 touches from the hands",
        )],
    },
    Published {
        rows: &["D9"],
        file: "d9",
        source: "Public Health England, non-AGP, 2020",
        tag: "S3",
        level: GENERAL,
        told: &[("hygiene face", "no hands between apron and eye protection (U3)")],
    },
    Published {
        rows: &["D10"],
        file: "d10",
        source: "Public Health England, AGP, 2020",
        tag: "S3",
        level: GENERAL,
        told: &[("hygiene face", "no hands printed before the eye protection (U3)")],
    },
    Published {
        rows: &["D11"],
        file: "d11",
        source: "UHB NHS Foundation Trust, 28 October 2021",
        tag: "S",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["D12", "P43"],
        file: "d12",
        source: "Australian Department of Health, COM-014029, July 2021",
        tag: "S3",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["D13"],
        file: "d13",
        source: "RACGP, section 3, 18 August 2023",
        tag: "S",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["D14"],
        file: "d14",
        source: "Winnipeg Regional Health Authority, video page",
        tag: "S",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["D15", "P44"],
        file: "d15",
        source: "Public Health Ontario, restated",
        tag: "S3",
        level: GENERAL,
        told: &[("hygiene gloves", "hands are cleaned once, before the face (U16)")],
    },
    Published {
        rows: &["D16"],
        file: "d16",
        source: "Italy, in the European Respiratory Review",
        tag: "S3",
        level: GENERAL,
        told: &[
            ("hygiene face", "hands are cleaned at the end only (U3)"),
            ("hygiene gloves", "hands are cleaned at the end only (U16)"),
            ("order covered", "the gown comes off before the outer gloves over its cuffs (C3); the inner gloves stay"),
        ],
    },
    Published {
        rows: &["D17"],
        file: "d17",
        source: "row not in the evidence, recovered from A5 and End 1",
        tag: "–",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D18"],
        file: "d18",
        source: "row not in the evidence, recovered from A5 and End 1",
        tag: "–",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D19"],
        file: "d19",
        source: "row not in the evidence, recovered from A5 and End 1",
        tag: "–",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D20"],
        file: "d20",
        source: "row not in the evidence, recovered from A5 and End 1",
        tag: "–",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D21"],
        file: "d21",
        source: "WHO, including gown, 2014/2015",
        tag: "M",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D22"],
        file: "d22",
        source: "WHO, including coverall, 2014/2015",
        tag: "M",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["D23"],
        file: "d23",
        source: "Fondation Mérieux, Ebola e-learning",
        tag: "S",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["A3 gown"],
        file: "a3-gown",
        source: "CDC Ebola training modules, 2014, powered respirator",
        tag: "S",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["A3 coverall"],
        file: "a3-coverall",
        source: "CDC Ebola training modules, 2014, N95",
        tag: "S",
        level: FULL,
        told: &[],
    },
    Published { rows: &["N1"], file: "n1", source: "CDC, general poster", tag: "S3", level: GENERAL, told: &[] },
    Published {
        rows: &["N2"],
        file: "n2",
        source: "CDC for COVID-19, in J Nucl Med Technol",
        tag: "S3",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["N3"],
        file: "n3",
        source: "Winnipeg Regional Health Authority",
        tag: "S",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["N4"],
        file: "n4",
        source: "Australian Department of Health, COM-014029",
        tag: "S3",
        level: GENERAL,
        told: &[],
    },
    Published { rows: &["N5"], file: "n5", source: "RACGP, 2023: gloves last", tag: "S", level: GENERAL, told: &[] },
    Published {
        rows: &["N6"],
        file: "n6",
        source: "CDC, H5N1 on farms, May 2024",
        tag: "S3",
        level: GENERAL,
        told: &[],
    },
    Published {
        rows: &["N7"],
        file: "n7",
        source: "CDC Ebola, 2014, in a press graphic",
        tag: "S3",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["N8"],
        file: "n8",
        source: "CDC Ebola training modules, 2014",
        tag: "S",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["N9"],
        file: "n9",
        source: "a UK trust on haemorrhagic fever",
        tag: "S3",
        level: FULL,
        told: &[],
    },
    Published {
        rows: &["N10"],
        file: "n10",
        source: "Italy, in the European Respiratory Review",
        tag: "S3",
        level: GENERAL,
        told: &[],
    },
    Published { rows: &["N11"], file: "n11", source: "a US ambulance checklist", tag: "S3", level: FULL, told: &[] },
];

/// What every body rules out.
pub struct RuledOut {
    pub row: &'static str,
    pub file: &'static str,
    pub source: &'static str,
    /// All that is told at DANGER, each with words of its step: the fault of the row first, then what follows from it.
    pub dangers: &'static [(&'static str, &'static str)],
    /// The same at WARNING, where the row's fault lets nothing through by itself.
    pub warnings: &'static [(&'static str, &'static str)],
}

pub const RULED_OUT: [RuledOut; 8] = [
    RuledOut {
        row: "F53",
        file: "f53-respirator-before-gown",
        source: "U4b: all sources with a mask or tight respirator",
        dangers: &[("order respirator", "takes off respirator by straps")],
        warnings: &[],
    },
    RuledOut {
        row: "F54",
        file: "f54-mask-before-eyes",
        source: "U4: D1, D3, D7 to D17, D19, D20",
        dangers: &[("order eyes", "takes off respirator by straps")],
        warnings: &[],
    },
    RuledOut {
        row: "F55",
        file: "f55-bare-hand-on-the-coverall",
        source: "U2: D7, D16 to D20; Victoria: no bare skin on used kit",
        // The boots are used kit too, and the inner gloves came off from beneath the sleeves.
        dangers: &[
            ("touch barehand", "takes off coverall by zip"),
            ("order covered", "takes off inner gloves"),
            ("touch barehand", "takes off boots"),
        ],
        warnings: &[],
    },
    RuledOut {
        row: "F56",
        file: "f56-mask-by-its-front",
        source: "U5: CDC, PHE",
        dangers: &[("touch front", "takes off mask by front")],
        warnings: &[],
    },
    RuledOut {
        row: "F57",
        file: "f57-gown-by-its-front",
        source: "CDC, PHE",
        dangers: &[("touch barehand", "takes off gown by front")],
        warnings: &[],
    },
    RuledOut {
        row: "F58",
        file: "f58-no-hands-at-the-end",
        source: "U1: D1, D3 to D19",
        dangers: &[("hygiene last", "takes off mask by ties")],
        warnings: &[],
    },
    RuledOut {
        row: "F60",
        file: "f60-respirator-off-inside",
        source: "U17: PHE, RACGP, WRHA, UHB, D3",
        // The rest of the kit comes off in the patient's room as well.
        dangers: &[("place respirator", "takes off respirator by straps"), ("cover bare", "takes off gloves by cuff")],
        warnings: &[],
    },
    // At the haemorrhagic-fever kits the same step passes: D4 to D7, D17 to D22 rub gloves after each item.
    RuledOut {
        row: "F63",
        file: "f63-rub-on-gloves",
        source: "C9: NHS England, NIPCM; HSE Ireland, 8 May 2020; Hand Hygiene Australia",
        dangers: &[],
        warnings: &[("hygiene gloved", "wearer cleans hands with hand rub")],
    },
];
