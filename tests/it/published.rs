//! Published orders of putting on and taking off, written as policies: what bodies publish breaks no law of the model,
//! and what every body rules out is flagged at the step that is wrong.
//!
//! The rows are those of the evidence that the project starts from (D, N and F numbers). Tags: [S] seen in the body's own
//! page, [S3] seen in a third party's copy, [M] from memory. Levels: the general posters assume contaminated fronts and
//! keep skin 2 and the face 3 touches away; the haemorrhagic-fever kits assume every outside and keep both 3 away.

use anteroom::findings::{Finding, Kind, Signal};
use anteroom::policy::Day;
use anteroom::session::Checked;

use crate::policies::checked;

struct Published {
    file: &'static str,
    source: &'static str,
    /// What is told at WARNING: where the body asks for less than the others do. Hands cleaned right after the gloves (U16:
    /// D1, D3 and D15 do not ask for it) and between the last garment and the face (U3: D1 only if contaminated, D9 and D10 not).
    warnings: &'static [&'static str],
}

/// Each also puts on in the order N1 (hands, gown, mask or respirator with seal check, eye protection, gloves over the
/// cuff; CDC general [S3]), but for D4, D5, D7, D21 and D22, whose kits N1 does not have.
const PUBLISHED: [Published; 15] = [
    Published {
        file: "d1",
        source: "CDC poster CS250672, example 1 [S3]",
        warnings: &["hygiene face", "hygiene gloves"],
    },
    Published {
        file: "d2",
        source: "CDC poster CS250672, example 2 [M]",
        warnings: &["hygiene face", "hygiene gloves"],
    },
    Published { file: "d3", source: "CDC COVID-19, in J Nucl Med Technol [S3]", warnings: &["hygiene gloves"] },
    Published { file: "d4", source: "CDC Ebola, August 2015, powered respirator [M, steps S]", warnings: &[] },
    Published { file: "d5", source: "CDC Ebola, August 2015, N95 [M, steps S]", warnings: &[] },
    Published { file: "d7", source: "CDC for West Africa, 2014, in press graphics [S3]; P46", warnings: &[] },
    Published { file: "d9", source: "Public Health England, non-AGP, 2020 [S3]", warnings: &["hygiene face"] },
    Published { file: "d10", source: "Public Health England, AGP, 2020 [S3]", warnings: &["hygiene face"] },
    Published { file: "d11", source: "UHB NHS Foundation Trust, 28 October 2021 [S]", warnings: &[] },
    Published { file: "d12", source: "Australian Department of Health, COM-014029, July 2021 [S3]", warnings: &[] },
    Published { file: "d13", source: "RACGP, section 3, 18 August 2023 [S]", warnings: &[] },
    Published { file: "d14", source: "Winnipeg Regional Health Authority, video page [S]", warnings: &[] },
    Published { file: "d15", source: "Public Health Ontario, restated [S3]", warnings: &["hygiene gloves"] },
    Published { file: "d21", source: "WHO, including gown, 2014/2015 [M]", warnings: &[] },
    Published { file: "d22", source: "WHO, including coverall, 2014/2015 [M]", warnings: &[] },
];

struct RuledOut {
    file: &'static str,
    source: &'static str,
    finding: &'static str,
    /// Words of the step that is wrong.
    step: &'static str,
}

const RULED_OUT: [RuledOut; 7] = [
    RuledOut {
        file: "f53-respirator-before-gown",
        source: "F53, U4b: all sources with a mask or tight respirator",
        finding: "order respirator",
        step: "wearer takes off respirator by straps",
    },
    RuledOut {
        file: "f54-mask-before-eyes",
        source: "F54, U4: D1, D3, D7 to D17, D19, D20",
        finding: "order eyes",
        step: "wearer takes off respirator by straps",
    },
    RuledOut {
        file: "f55-bare-hand-on-the-coverall",
        source: "F55, U2: D7, D16 to D20; Victoria: no bare skin on used kit",
        finding: "touch barehand",
        step: "wearer takes off coverall by zip",
    },
    RuledOut {
        file: "f56-mask-by-its-front",
        source: "F56, U5: CDC, PHE",
        finding: "touch front",
        step: "wearer takes off mask by front",
    },
    RuledOut {
        file: "f57-gown-by-its-front",
        source: "F57: CDC, PHE",
        finding: "touch barehand",
        step: "wearer takes off gown by front",
    },
    RuledOut {
        file: "f58-no-hands-at-the-end",
        source: "F58, U1: D1, D3 to D19",
        finding: "hygiene last",
        step: "wearer takes off mask by ties",
    },
    RuledOut {
        file: "f60-respirator-off-inside",
        source: "F60, U17: PHE, RACGP, WRHA, UHB, D3",
        finding: "place respirator",
        step: "wearer takes off respirator by straps",
    },
];

fn policy(file: &str) -> Checked {
    let checked = checked(&format!("tests/published/{file}.ppe"), Day::new(2026, 12, 2).unwrap());
    assert!(checked.reading.problems.is_empty(), "{file}: {:?}", checked.reading.problems);
    checked
}

fn told(finding: &Finding) -> String {
    format!(
        "{} {}: {}\n    {} {:?}",
        finding.signal.word(),
        finding.name,
        finding.sentence,
        finding.message,
        finding.chain
    )
}

#[test]
fn what_bodies_publish_is_no_danger() {
    for row in &PUBLISHED {
        let checked = policy(row.file);
        let dangers: Vec<String> =
            checked.findings.iter().filter(|finding| finding.signal == Signal::Danger).map(told).collect();
        assert!(dangers.is_empty(), "{} ({}):\n{}", row.file, row.source, dangers.join("\n"));
        let mut warnings: Vec<String> = checked
            .findings
            .iter()
            .filter(|finding| finding.signal == Signal::Warning)
            .map(|finding| finding.name.to_string())
            .collect();
        warnings.sort();
        warnings.dedup();
        assert_eq!(warnings, row.warnings, "{} ({})", row.file, row.source);
    }
}

#[test]
fn what_every_body_rules_out_is_flagged_at_its_step() {
    for row in &RULED_OUT {
        let checked = policy(row.file);
        let flagged = checked.findings.iter().any(|finding| {
            finding.name.to_string() == row.finding
                && finding.signal <= Signal::Warning
                && finding.sentence.contains(row.step)
        });
        let all: Vec<String> = checked.findings.iter().map(told).collect();
        assert!(flagged, "{} ({}) is not flagged; told is\n{}", row.file, row.source, all.join("\n"));
    }
}

/// A rule that follows from no law of the model names the bodies that give it.
#[test]
fn guidance_names_its_source() {
    for row in &RULED_OUT {
        for finding in policy(row.file).findings.iter().filter(|finding| finding.kind == Kind::Guidance) {
            assert!(finding.source.as_ref().is_some_and(|source| source.len() > 10), "{}", told(finding));
        }
    }
}
