//! Aids as pictures, drawn by poppler: letters measured, colours seen in grey and by colour-blind eyes, and every aid of the
//! demonstration compared with the picture that a person approved.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use anteroom::aids::plan;
use anteroom::aids::plan::{Body, Layout, PrintPlan, Row};
use anteroom::policy::Day;
use anteroom::session::{self, Shelf};
use anteroom::typeset::{colours, legibility, typeset, typeset_all};

use crate::oracle::{program, python};
use crate::policies::checked;
use crate::review_sheet;

const DEMO: [&str; 3] = ["side-rooms", "negative-pressure-room", "assessment-suite"];

fn day() -> Day {
    Day::new(2026, 12, 10).expect("a day")
}

/// A picture in grey, row by row.
struct Grey {
    width: usize,
    height: usize,
    pixels: Vec<u8>,
}

impl Grey {
    /// A binary PGM, as poppler writes it.
    fn from_pgm(bytes: &[u8]) -> Grey {
        let mut fields = Vec::new();
        let mut at = 0;
        while fields.len() < 4 {
            let from = at + bytes[at..].iter().position(|byte| !byte.is_ascii_whitespace()).expect("a field");
            at = from + bytes[from..].iter().position(u8::is_ascii_whitespace).expect("its end");
            fields.push(String::from_utf8_lossy(&bytes[from..at]).into_owned());
        }
        assert_eq!((fields[0].as_str(), fields[3].as_str()), ("P5", "255"));
        let size = |field: &str| field.parse::<usize>().expect("a size");
        Grey { width: size(&fields[1]), height: size(&fields[2]), pixels: bytes[at + 1..].to_vec() }
    }

    fn from_png(path: &Path) -> Option<Grey> {
        let file = std::io::BufReader::new(std::fs::File::open(path).ok()?);
        let mut reader = png::Decoder::new(file).read_info().ok()?;
        let mut pixels = vec![0; reader.output_buffer_size()?];
        let info = reader.next_frame(&mut pixels).ok()?;
        pixels.truncate(info.buffer_size());
        Some(Grey { width: info.width as usize, height: info.height as usize, pixels })
    }

    fn write_png(&self, path: &Path) {
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("made");
        let file = std::fs::File::create(path).expect("made");
        let mut encoder = png::Encoder::new(file, self.width as u32, self.height as u32);
        encoder.set_color(png::ColorType::Grayscale);
        encoder.set_depth(png::BitDepth::Eight);
        encoder.set_compression(png::Compression::High);
        encoder.write_header().and_then(|mut writer| writer.write_image_data(&self.pixels)).expect("written");
    }

    /// Pictures side by side, grey between them.
    fn beside(all: &[Grey]) -> Grey {
        let (gap, height) = (4, all.iter().map(|one| one.height).max().unwrap_or(0));
        let width = all.iter().map(|one| one.width + gap).sum::<usize>().saturating_sub(gap);
        let mut sheet = Grey { width, height, pixels: vec![128; width * height] };
        let mut left = 0;
        for one in all {
            for row in 0..one.height {
                let from = &one.pixels[row * one.width..(row + 1) * one.width];
                sheet.pixels[row * width + left..row * width + left + one.width].copy_from_slice(from);
            }
            left += one.width + gap;
        }
        sheet
    }

    /// The share of pixels that differ by more than a quarter of the scale.
    fn differs(&self, other: &Grey) -> f64 {
        if (self.width, self.height) != (other.width, other.height) {
            return 1.0;
        }
        let unlike = self.pixels.iter().zip(&other.pixels).filter(|(one, two)| one.abs_diff(**two) > 64).count();
        unlike as f64 / self.pixels.len().max(1) as f64
    }
}

/// The pages of a PDF, drawn by poppler.
fn drawn(pdf: &[u8], options: &[&str]) -> Vec<Grey> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("aid.pdf");
    std::fs::write(&path, pdf).expect("written");
    let (path, root) = (path.to_string_lossy().into_owned(), folder.path().join("page").to_string_lossy().into_owned());
    let mut arguments = vec!["-gray"];
    arguments.extend(options);
    arguments.extend([path.as_str(), root.as_str()]);
    program("pdftoppm", &arguments);
    let mut pages: Vec<PathBuf> = std::fs::read_dir(folder.path())
        .expect("the folder")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "pgm"))
        .collect();
    pages.sort();
    pages.iter().map(|page| Grey::from_pgm(&std::fs::read(page).expect("a page"))).collect()
}

/// The ink of a capital that opens a step, measured on the page at 600 dpi, against the visual angle of 20 minutes at the
/// distance that the policy gives (the formula of NUREG-0700; value 1 of its table: 5.818 mm at 1 metre).
#[test]
fn capitals_are_as_tall_on_the_page_as_the_distance_asks() {
    let mut measured = 0;
    for policy in DEMO {
        let plan = plan(&checked(&format!("policies/{policy}.ppe"), day()));
        for aid in plan.aids.iter().filter(|aid| aid.layout == Layout::Poster) {
            let Body::Steps(steps) = &aid.body else { panic!("a poster has steps") };
            let first = steps.bands.iter().flat_map(|band| &band.rows).find_map(|row| match row {
                Row::Step(step) if !step.quiet && step.act.starts_with("Put ") => Some(step),
                _ => None,
            });
            let Some(step) = first else { continue };
            let word = step.act.split(' ').next().expect("a word");
            let pdf = typeset(aid).expect("it is set").pdf;
            let Some([left, top, right, bottom]) = place_of(&pdf, word) else { panic!("{word} on {}", aid.file) };
            let dots = |points: f64| (points * 600.0 / 72.0).round().to_string();
            let (x, y) = (dots(left), dots(top));
            // The width of its first letter, and no more.
            let (wide, high) = (dots((right - left) / word.len() as f64 * 0.7), dots(bottom - top));
            let pages = drawn(&pdf, &["-r", "600", "-f", "1", "-l", "1", "-x", &x, "-y", &y, "-W", &wide, "-H", &high]);
            let crop = &pages[0];
            let inked = |row: &usize| crop.pixels[row * crop.width..(row + 1) * crop.width].iter().any(|&dot| dot < 96);
            let rows: Vec<usize> = (0..crop.height).filter(inked).collect();
            let height_mm = (rows.last().expect("ink") - rows[0] + 1) as f64 / 600.0 * 25.4;
            let asked = legibility::capital_height_mm(f64::from(aid.read_from_mm.unwrap_or(1000)), 20.0);
            assert!(height_mm >= 0.99 * asked, "{policy}: {}: {height_mm} mm for {asked} mm", aid.file);
            measured += 1;
        }
    }
    assert!(measured >= 3, "only {measured} measured");
}

/// Where a word first stands on the first page, in points.
fn place_of(pdf: &[u8], word: &str) -> Option<[f64; 4]> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("aid.pdf");
    std::fs::write(&path, pdf).expect("written");
    let told = program("pdftotext", &["-bbox", "-f", "1", "-l", "1", &path.to_string_lossy(), "-"]);
    let line = told.lines().find(|line| line.contains(&format!(">{word}<")))?;
    let number = |name: &str| line.split(&format!("{name}=\"")).nth(1)?.split('"').next()?.parse::<f64>().ok();
    Some([number("xMin")?, number("yMin")?, number("xMax")?, number("yMax")?])
}

/// What prints as what grey: the luminance of WCAG 2.2, encoded again as sRGB. Reds, blue and yellow of ISO 3864 as given
/// in RAL 3001, 5005 and 1003 come to 82, 80 and 184 of 255: a red and a blue fill would be one and the same.
#[test]
fn fills_that_mean_something_are_told_apart_in_grey() {
    for (colour, grey) in [("#9b2423", 82), ("#005387", 80), ("#f9a800", 184)] {
        assert_eq!(colours::grey(colour), Some(grey), "{colour}");
    }
    let grounds = ["danger", "warning", "caution", "ink", "tint", "paper"].map(|name| {
        let value = colours::value(name).expect("a colour");
        (name, colours::grey(value).expect("a grey"))
    });
    for (at, (one, grey)) in grounds.iter().enumerate() {
        for (other, beside) in &grounds[at + 1..] {
            let near = grey.abs_diff(*beside) < 16;
            assert!(!near, "{one} and {other} print as the greys {grey} and {beside}");
        }
    }
}

/// The grounds of the signal words as people see them who lack one kind of cone (Machado, Oliveira and Fernandes 2009, by
/// the PyPI package `colorspacious`): differences in CAM02-UCS, in which 1 is just noticed.
#[test]
fn signal_grounds_are_told_apart_by_colour_blind_eyes() {
    let names = ["danger", "warning", "caution", "paper"];
    let values: Vec<&str> = names.iter().map(|name| colours::value(name).expect("a colour")).collect();
    let told = python("colour_blind.py", &[], &serde_json::to_string(&values).expect("plain data"));
    let seen: Vec<(String, usize, usize, f64)> = serde_json::from_str(&told).expect("a list of differences");
    assert_eq!(seen.len(), 3 * 6, "three deficiencies, six pairs");
    for (eyes, one, other, difference) in seen {
        assert!(difference >= 10.0, "{eyes}: {} and {} differ by {difference}", names[one], names[other]);
    }
}

/// A drawing that an item names stands where the program's own stood, and what is no drawing of shapes does not.
#[test]
fn a_drawing_of_the_hospitals_own_is_printed() {
    struct Drawings(&'static str);
    impl Shelf for Drawings {
        fn fetch(&self, _: &str, written: &str) -> Result<(String, String), String> {
            match written {
                "common.ppe" => {
                    Ok((written.into(), std::fs::read_to_string("policies/common.ppe").expect("it is there")))
                }
                "ours.svg" => Ok((written.into(), self.0.into())),
                _ => Err("there is no such file".into()),
            }
        }
    }
    let text = std::fs::read_to_string("policies/side-rooms.ppe").expect("it is there");
    let text = text.split("\nprint ").next().expect("its beginning");
    let extra = "\nitem shade \"wide shade\"\n  covers eyes, face\n  goes to clinical waste\n  picture \"ours.svg\"\n";
    let text = text.replacen("\nlevel ", &format!("{extra}\nlevel "), 1).replace("wears gown,", "wears shade, gown,");
    let text = format!("{text}\nprint kit list of Splash\n  on A4\n");
    let list = |svg: &'static str| {
        let checked = session::check(session::read("side-rooms.ppe", text.as_str(), &Drawings(svg)), Some(day()));
        let told = checked.findings.iter().any(|finding| finding.name.to_string() == "reading picture");
        let aid = plan(&checked).aids.remove(0);
        (drawn(&typeset(&aid).expect("it is set").pdf, &["-r", "100"]).remove(0), told, checked.fingerprint)
    };
    let open = "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 48 48'>";
    let dark = |page: &Grey| page.pixels.iter().filter(|&&dot| dot < 64).count();
    let square: &'static str = format!("{open}<rect width='48' height='48' fill='currentColor'/></svg>").leak();
    let line: &'static str = format!("{open}<path d='M4 44H44' stroke='currentColor'/></svg>").leak();
    let hostile: &'static str = format!("{open}<image href='/etc/hostname'/></svg>").leak();
    let ((square, told, one), (line, _, other)) = (list(square), list(line));
    assert!(!told && one != other, "another drawing is another edition's meaning");
    // The tile of a kit list at A4 is about 10 mm wide: a square of ink in it has some 900 dots at 100 to the inch.
    assert!(dark(&square) > dark(&line) + 400, "{} and {}", dark(&square), dark(&line));
    let (fallen_back, told, _) = list(hostile);
    assert!(told && dark(&fallen_back) > 0);
}

/// Every aid of the demonstration, small and in grey, against the picture that a person approved. What differs is drawn
/// beside what was approved, in `target/pictures`. `ANTEROOM_APPROVE=1` writes the pictures anew: look at them first.
#[test]
fn every_aid_of_the_demonstration_looks_as_approved() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let approve = std::env::var_os("ANTEROOM_APPROVE").is_some();
    let mut unlike = Vec::new();
    let editions = review_sheet::WARDS.map(|ward| {
        let aids = review_sheet::demo(ward).0.into();
        (format!("editions/{ward}"), PrintPlan { aids, not_made: Vec::new() })
    });
    let policies = DEMO.map(|policy| (policy.to_owned(), plan(&checked(&format!("policies/{policy}.ppe"), day()))));
    for (policy, plan) in policies.into_iter().chain(editions) {
        let folder = root.join("tests/approved").join(&policy);
        if approve {
            let _ = std::fs::remove_dir_all(&folder);
        }
        let mut wanted: BTreeSet<String> = std::fs::read_dir(&folder)
            .map(|entries| entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok()).collect())
            .unwrap_or_default();
        for (aid, set) in plan.aids.iter().zip(typeset_all(&plan, 2, &|_, set| set)) {
            let pdf = set.unwrap_or_else(|fault| panic!("{policy}: {fault}")).pdf;
            let now = Grey::beside(&drawn(&pdf, &["-scale-to", "220"]));
            let name = format!("{}.png", aid.file);
            let path = folder.join(&name);
            if approve {
                now.write_png(&path);
                continue;
            }
            wanted.remove(&name);
            let Some(approved) = Grey::from_png(&path) else {
                unlike.push(format!("{policy}/{name} was never approved"));
                continue;
            };
            let share = now.differs(&approved);
            if share > 0.002 {
                let both = root.join("target/pictures").join(format!("{}-{name}", policy.replace('/', "-")));
                Grey::beside(&[approved, now]).write_png(&both);
                unlike.push(format!("{policy}/{name}: {:.2} % differ, see {}", share * 100.0, both.display()));
            }
        }
        unlike.extend(wanted.iter().filter(|_| !approve).map(|name| format!("{policy}/{name} is printed no more")));
    }
    assert!(unlike.is_empty(), "{}", unlike.join("\n"));
}
