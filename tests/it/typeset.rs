//! What the typesetter makes, seen by programs that this project did not write: poppler and qpdf.

use std::collections::BTreeSet;

use anteroom::aids::plan;
use anteroom::aids::plan::{
    Aid, Area, AreaPlace, Body, Chart, ChartCell, Choice, ChoiceAnswer, ChoiceRow, Form, FormRow, Layout, Marking,
    PrintPlan, Row, Sign, SignItem, Steps,
};
use anteroom::policy::{Day, PaperSize};
use anteroom::typeset::{Printed, colours, legibility, pictograms, typeset, typeset_all};

use crate::handing_over::hand_over;
use crate::oracle::{program, python};
use crate::policies::checked;
use crate::review_sheet;
use crate::typeset_fixtures as fixtures;

/// A PDF on disk, for the tools to read.
pub struct Page {
    _folder: tempfile::TempDir,
    pub path: String,
    pub pages: usize,
}

pub fn printed(aid: &Aid) -> Page {
    written(typeset(aid).unwrap_or_else(|fault| panic!("{fault}")))
}

pub fn written(Printed { pdf, pages, .. }: Printed) -> Page {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("aid.pdf").to_string_lossy().into_owned();
    std::fs::write(&path, pdf).expect("written");
    Page { _folder: folder, path, pages }
}

impl Page {
    /// The text of one page in the order of its content, or of all pages.
    pub fn text(&self, page: Option<usize>) -> String {
        let all = (1, self.pages);
        let (first, last) = page.map_or(all, |page| (page, page));
        program("pdftotext", &["-raw", "-f", &first.to_string(), "-l", &last.to_string(), &self.path, "-"])
    }
}

/// One space between words and none after a hyphen, so that line ends do not matter.
pub fn spaced(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").replace("- ", "-")
}

fn poster(steps: Steps) -> Aid {
    fixtures::aid(Layout::Poster, PaperSize::A3, "Taking off", Body::Steps(steps))
}

fn card(steps: Steps) -> Aid {
    fixtures::aid(Layout::Card, PaperSize::A6, "Taking off", Body::Steps(steps))
}

fn kit_list() -> Aid {
    fixtures::aid(Layout::KitList, PaperSize::A5, "Enhanced", Body::Kit(fixtures::kit()))
}

/// That of the demonstration's taking-off.
fn chart() -> Aid {
    let plan = plan(&checked("policies/assessment-suite.ppe", Day::new(2026, 12, 10).expect("a day")));
    let of = plan.aids.into_iter().find(|aid| aid.layout == Layout::WalkChart).expect("the demonstration asks for one");
    fixtures::aid(Layout::WalkChart, PaperSize::A3, &of.title, of.body)
}

/// The first aid of a layout that the demonstration asks for.
fn demo(layout: Layout) -> Aid {
    let plan = plan(&checked("policies/side-rooms.ppe", Day::new(2026, 12, 10).expect("a day")));
    plan.aids.into_iter().find(|aid| aid.layout == layout).expect("the demonstration asks for one")
}

fn of_each_layout() -> Vec<Aid> {
    let hung = [Layout::Form, Layout::DoorSign, Layout::AreaPlan, Layout::ChoicePoster].map(demo);
    let steps = [poster(fixtures::taking_off(false)), card(fixtures::taking_off(true)), kit_list(), chart()];
    steps.into_iter().chain(review_sheet::demo("heron-unit").0).chain(hung).collect()
}

/// What is advised was tried: on that paper, with so many sheets, and from that distance it is set.
#[test]
fn what_cannot_be_read_says_what_would_fit() {
    let mut sign = demo(Layout::DoorSign);
    (sign.paper, sign.read_from_mm) = (PaperSize::A4, Some(3000));
    let fault = typeset(&sign).expect_err("too far");
    assert_eq!(fault.title, "Door sign cannot be read from 3 metres on A4");
    let advised =
        PaperSize::ALL.into_iter().find(|paper| fault.way_out.contains(&format!("one sheet of {}", paper.word())));
    let larger = Aid { paper: advised.expect("a paper"), ..sign.clone() };
    assert_eq!(typeset(&larger).expect("it fits").pages, 1, "{}", fault.way_out);
    let near = fault.way_out.split("read from ").nth(1).expect("a distance");
    let metres: f64 = near.split(' ').next().and_then(|number| number.parse().ok()).expect("a number");
    let nearer = Aid { read_from_mm: Some((metres * 1000.0) as u32), ..sign.clone() };
    assert_eq!(typeset(&nearer).expect("it fits").pages, 1, "{}", fault.way_out);
    let farther = Aid { read_from_mm: Some((metres * 1000.0) as u32 + 250), ..sign };
    typeset(&farther).expect_err("the farthest quarter of a metre was named");
}

#[test]
fn a_poster_of_several_sheets_names_the_paper_that_would_hold_it() {
    for count in [7, 16, 24] {
        let mut aid = poster(fixtures::steps(count));
        (aid.paper, aid.read_from_mm) = (PaperSize::A4, Some(1000));
        let printed = typeset(&aid).expect("sheets");
        assert!(printed.pages > 1);
        let paper = printed.one_sheet_on.expect("one of the larger papers");
        let on = |paper| typeset(&Aid { paper, ..aid.clone() }).expect("it is set").pages;
        assert_eq!(on(paper), 1);
        let smaller = PaperSize::ALL.into_iter().rev().filter(|size| size.millimetres() < paper.millimetres());
        for size in smaller.filter(|size| size.millimetres() > aid.paper.millimetres()) {
            assert!(on(size) > 1, "{count} steps on {size:?}");
        }
        assert_eq!(typeset(&Aid { paper, ..aid.clone() }).expect("it is set").one_sheet_on, None);
    }
}

/// Where letters are large for their paper, pictograms leave their width to the words. The look is the project's own.
#[test]
fn pictograms_stand_beneath_the_numbers_where_the_column_is_narrow() {
    // From a number to the words beside it, in heights of a word.
    let away = |paper, read_from| {
        let mut aid = poster(fixtures::putting_on());
        (aid.paper, aid.read_from_mm) = (paper, Some(read_from));
        let boxes = boxes(&printed(&aid));
        let (page, [_, top, _, bottom], _) = boxes.iter().find(|(.., word)| word == "Put").expect("an act");
        let line = boxes.iter().filter(|(at, here, _)| at == page && here[1] < *bottom && here[3] > *top);
        let mut lefts: Vec<f64> = line.map(|(_, here, _)| here[0]).collect();
        lefts.sort_by(f64::total_cmp);
        (lefts[1] - lefts[0]) / (bottom - top)
    };
    let (roomy, narrow) = (away(PaperSize::A2, 1000), away(PaperSize::A4, 1400));
    assert!(roomy > 1.6 * narrow, "{roomy} {narrow}");
}

/// Every word that must be read, in order.
fn words_in_order(steps: &Steps) -> Vec<String> {
    let mut words = Vec::new();
    for band in &steps.bands {
        words.push(band.title.clone());
        for row in &band.rows {
            match row {
                Row::Step(step) => {
                    words.extend([step.when.clone(), step.act.clone()]);
                    words.extend(step.signals.iter().map(|signal| format!("{} {}", signal.word, signal.text)));
                }
                Row::Hold(hold) => {
                    words.push(format!("HOLD {}", hold.title));
                    words.extend(hold.confirms.iter().map(|confirm| confirm.what.clone()));
                    words.push(hold.if_not.clone());
                }
            }
        }
    }
    words.retain(|words| !words.is_empty());
    words
}

/// Each row of a chart with its figures, the sums beneath, and what is said of them.
fn chart_in_order(chart: &Chart) -> Vec<String> {
    let figures = |cells: &[ChartCell]| cells.iter().map(|cell| cell.words.clone()).collect::<Vec<_>>().join(" ");
    let mut words = vec![chart.intro.clone()];
    for row in chart.bands.iter().flat_map(|band| &band.rows) {
        let who = if row.who.is_empty() { String::new() } else { format!("{} · ", row.who) };
        let number = if row.is_hold { "HOLD" } else { &row.number };
        words.push(format!("{number} {who}{} {}", row.act, figures(&row.cells)));
    }
    words.extend(chart.sums.iter().map(|sum| format!("{} {}", sum.label, figures(&sum.cells))));
    words.extend(chart.signals.iter().map(|signal| format!("{} {}", signal.word, signal.text)));
    words.extend(chart.notes.iter().cloned());
    words
}

fn form_in_order(form: &Form) -> Vec<String> {
    let mut words = vec![form.intro.clone()];
    for section in &form.sections {
        words.extend([section.title.clone(), section.note.clone()]);
        words.extend(section.rows.iter().flat_map(|row| match row {
            FormRow::Fields(fields) => fields.iter().map(|field| format!("{} {}", field.label, field.value)).collect(),
            FormRow::Ticks(words) => words.clone(),
            FormRow::Entry(entry) => vec![format!("{} {}", entry.number, entry.words), entry.detail.clone()],
        }));
    }
    words
}

fn sign_in_order(sign: &Sign) -> Vec<String> {
    let numbered = |(at, item): (usize, &SignItem)| format!("{}. {}", at + 1, item.name);
    let wear = sign.wear.iter().flat_map(|kit| kit.items.iter().enumerate().map(numbered));
    let first = [sign.stop.clone(), sign.rule.clone()].into_iter().chain(sign.hazards.clone());
    first.chain(wear).chain(sign.before.clone()).chain([sign.ask.clone()]).collect()
}

fn area_in_order(area: &Area) -> Vec<String> {
    let place = |place: &AreaPlace| {
        let things = place.things.iter().map(|thing| thing.name.clone());
        let named = format!("{} {}", place.name, place.kind_words);
        std::iter::once(named).chain(place.sequences.clone()).chain(things).collect::<Vec<_>>()
    };
    let places = area.places.iter().flat_map(place);
    std::iter::once(area.intro.clone()).chain(places).chain(area.notes.clone()).collect()
}

fn choice_in_order(choice: &Choice) -> Vec<String> {
    let row = |row: &ChoiceRow| {
        let answer =
            |one: &ChoiceAnswer| format!("{} {}", one.words, if one.is_yes { &choice.yes } else { &choice.no });
        let asked: Vec<String> = row.asked.iter().map(answer).collect();
        let asked = if asked.is_empty() { vec![choice.otherwise.clone()] } else { asked };
        asked.into_iter().chain([row.level.clone()]).collect::<Vec<_>>()
    };
    let rows = choice.rows.iter().flat_map(row);
    std::iter::once(choice.intro.clone()).chain(rows).chain(choice.notes.clone()).collect()
}

pub fn assert_in_order(text: &str, words: &[String]) {
    let text = spaced(text);
    let mut from = 0;
    for wanted in words.iter().map(|words| spaced(words)) {
        let at = text[from..].find(&wanted).unwrap_or_else(|| panic!("“{wanted}” is not after:\n{}", &text[..from]));
        from += at + wanted.len();
    }
}

#[test]
fn the_same_aid_has_the_same_bytes_alone_and_beside_others() {
    let aids = of_each_layout();
    let alone: Vec<Vec<u8>> = aids.iter().map(|aid| typeset(aid).expect("it can be set").pdf).collect();
    let plan = PrintPlan { aids: aids.to_vec(), not_made: Vec::new() };
    let told = std::sync::Mutex::new(BTreeSet::new());
    let together = typeset_all(&plan, 2, &|at, set| {
        told.lock().expect("no panic").insert(at);
        set
    });
    assert_eq!(alone, together.into_iter().map(|made| made.expect("it can be set").pdf).collect::<Vec<_>>());
    assert_eq!(told.into_inner().expect("no panic"), (0..aids.len()).collect());
}

/// The Python package `typst`, which has the same typesetter but reaches templates, data, drawings and fonts in its own way,
/// makes the same pages of them: nothing that is seen comes from elsewhere.
#[test]
fn another_copy_of_the_typesetter_makes_the_same_pages() {
    let plan = PrintPlan { aids: of_each_layout(), not_made: Vec::new() };
    let folder = tempfile::tempdir().expect("a folder");
    hand_over(&plan, folder.path());
    python("set_again.py", &["each", &folder.path().to_string_lossy()], "");
    let seen = |path: &str| {
        let pictures = tempfile::tempdir().expect("a folder");
        let begin = pictures.path().join("page").to_string_lossy().into_owned();
        program("pdftoppm", &["-r", "50", path, &begin]);
        let mut names: Vec<_> =
            std::fs::read_dir(pictures.path()).expect("there").flatten().map(|one| one.path()).collect();
        names.sort();
        let pages: Vec<Vec<u8>> = names.iter().map(|name| std::fs::read(name).expect("a picture")).collect();
        let words = program("pdftotext", &["-bbox", path, "-"]);
        (words.split("<doc>").nth(1).expect("pages").to_string(), pages)
    };
    for (at, aid) in plan.aids.iter().enumerate() {
        let (words, pages) = seen(&printed(aid).path);
        let (others, again) = seen(&folder.path().join(format!("{at:04}/set.pdf")).to_string_lossy());
        assert!(words.contains("<word") && !pages.is_empty());
        assert_eq!(words, others, "{}", aid.file);
        assert!(pages == again, "{} looks otherwise", aid.file);
    }
}

/// ISO 216, trimmed sizes of the A series in millimetres.
#[test]
fn pages_have_the_sizes_of_iso_216() {
    let sizes = [
        (PaperSize::A0, 841.0, 1189.0),
        (PaperSize::A1, 594.0, 841.0),
        (PaperSize::A2, 420.0, 594.0),
        (PaperSize::A3, 297.0, 420.0),
        (PaperSize::A4, 210.0, 297.0),
        (PaperSize::A5, 148.0, 210.0),
        (PaperSize::A6, 105.0, 148.0),
        (PaperSize::A7, 74.0, 105.0),
    ];
    for (paper, width, height) in sizes {
        let layout = if width > 200.0 { Layout::Poster } else { Layout::Card };
        let mut aid = fixtures::aid(layout, paper, "Taking off", Body::Steps(fixtures::putting_on()));
        if layout == Layout::Card {
            let Body::Steps(steps) = &mut aid.body else { unreachable!() };
            steps.bands[0].rows.truncate(if paper == PaperSize::A7 { 1 } else { 2 });
        }
        let page = printed(&aid);
        let told = program("pdfinfo", &["-f", "1", "-l", &page.pages.to_string(), &page.path]);
        let sizes = told.lines().filter(|line| line.contains("size:") && line.contains("pts"));
        let mut count = 0;
        for line in sizes {
            let numbers: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
            let (w, h) = (numbers[numbers.len() - 2] * 25.4 / 72.0, numbers[numbers.len() - 1] * 25.4 / 72.0);
            assert!((w - width).abs() < 0.01 && (h - height).abs() < 0.01, "{paper:?}: {line}");
            count += 1;
        }
        assert_eq!(count, page.pages, "{told}");
    }
}

#[test]
fn every_step_hold_and_signal_stands_in_order() {
    let aids = [poster(fixtures::taking_off(false)), card(fixtures::taking_off(true)), poster(fixtures::steps(37))];
    for aid in aids {
        let Body::Steps(steps) = &aid.body else { unreachable!() };
        assert_in_order(&printed(&aid).text(None), &words_in_order(steps));
    }
    let kit = fixtures::kit();
    let rows = kit.roles.iter().flat_map(|role| &role.rows).chain(&kit.supplies);
    assert_in_order(&printed(&kit_list()).text(None), &rows.map(|row| row.name.clone()).collect::<Vec<_>>());
}

#[test]
fn say_look_for_and_stop_if_stand_in_this_order() {
    let text = spaced(&printed(&card(fixtures::taking_off(true))).text(None));
    let step = &text[text.find("Take off the coverall").expect("the step")..];
    let order = ["SAY", "LOOK FOR", "STOP IF", "DANGER"].map(|word| step.find(word).expect(word));
    assert!(order.is_sorted(), "{step}");
}

#[test]
fn every_face_bears_the_document_control() {
    for aid in of_each_layout() {
        let page = printed(&aid);
        let control = &aid.control;
        for number in 1..=page.pages {
            let text = spaced(&page.text(Some(number)));
            let total = page.pages;
            let kind = if aid.layout == Layout::Card { "Side" } else { "Page" };
            let counted = format!("{kind} {number} of {total}");
            for field in [
                &aid.title,
                &control.policy,
                &control.level,
                &control.site,
                &control.edition,
                &control.in_force,
                &control.review,
                &control.owner,
                &control.approval,
                &control.fingerprint,
                &control.caution,
                &counted,
            ] {
                assert!(text.contains(field.as_str()), "{} {counted} lacks “{field}”:\n{text}", aid.kind);
            }
        }
    }
}

#[test]
fn a_draft_says_so_on_every_face_and_why_on_the_first() {
    for mut aid in of_each_layout() {
        let reasons = vec!["Not yet approved.".into(), "The review date has passed.".into()];
        aid.marking = Some(Marking { word: "DRAFT".into(), reasons, original: Vec::new() });
        let page = printed(&aid);
        for number in 1..=page.pages {
            let text = page.text(Some(number));
            // The watermark, whose slanted letters are read with gaps, and the band.
            let letters: String = text.split_whitespace().collect();
            assert_eq!(letters.matches("DRAFT").count(), 2, "{} page {number}:\n{text}", aid.kind);
        }
        assert!(spaced(&page.text(Some(1))).contains("Not yet approved. The review date has passed."));
    }
    assert!(!printed(&kit_list()).text(None).contains("DRAFT"));
}

#[test]
fn fonts_are_embedded_and_give_their_text_back() {
    for aid in of_each_layout() {
        let page = printed(&aid);
        let told = program("pdffonts", &[&page.path]);
        let fonts: Vec<&str> = told.lines().skip(2).collect();
        assert!(!fonts.is_empty(), "{told}");
        for font in fonts {
            assert!(font.contains("AtkinsonHyperlegibleNext"), "{font}");
            let columns: Vec<&str> = font.split_whitespace().collect();
            let (embedded, unicode) = (columns[columns.len() - 5], columns[columns.len() - 3]);
            assert_eq!((embedded, unicode), ("yes", "yes"), "{font}");
        }
    }
}

/// Archival (ISO 19005-3, level A) and accessible (ISO 14289-1), as the file says of itself to pikepdf; and the policy lies in
/// it as it was written, as its source (ISO 32000-2, 7.11.3). The trim is the paper's size (ISO 216).
#[test]
fn the_files_say_what_they_are_and_hold_their_policy() {
    let mut aids = of_each_layout();
    let sources = aids.last().expect("an aid of the demonstration").sources.clone();
    assert_eq!(sources.iter().map(|file| file.name.as_str()).collect::<Vec<_>>(), ["side-rooms.ppe", "common.ppe"]);
    aids.iter_mut().for_each(|aid| aid.sources.clone_from(&sources));
    let pages: Vec<Page> = aids.iter().map(printed).collect();
    let paths: Vec<&str> = pages.iter().map(|page| page.path.as_str()).collect();
    let told: Vec<serde_json::Value> = serde_json::from_str(&python("pdf_facts.py", &paths, "")).expect("facts");
    assert_eq!(told.len(), aids.len());
    for (aid, facts) in aids.iter().zip(told) {
        assert_eq!(facts["language"], "en-GB", "{}", aid.kind);
        assert!(facts["marked"] == true && facts["tagged"] == true && facts["intents"] == 1, "{facts}");
        let metadata = &facts["metadata"];
        let profile = ["pdfaid:part", "pdfaid:conformance", "pdfuaid:part"].map(|key| metadata[key].as_str());
        assert_eq!(profile, [Some("3"), Some("A"), Some("1")], "{}", aid.kind);
        assert!(metadata["dc:title"].as_str().is_some_and(|title| title.contains(&aid.title)), "{metadata}");
        for file in &sources {
            assert_eq!(facts["attached"][&file.name][0], file.text, "{}: {}", aid.kind, file.name);
            assert_eq!(facts["attached"][&file.name][1], "/Source", "{}", aid.kind);
        }
        let (short, long) = aid.paper.millimetres();
        let size = if aid.sideways { [long, short] } else { [short, long] }.map(|mm| f64::from(mm) * 72.0 / 25.4);
        for trim in facts["trims"].as_array().expect("a box for each page") {
            let side = |at: usize| trim[at].as_f64().expect("a number");
            let off = (side(2) - side(0) - size[0]).abs().max((side(3) - side(1) - size[1]).abs());
            assert!(off < 0.01, "{}: {trim}", aid.kind);
        }
    }
}

/// A draft in which no day stands is printed too, and accessible; for an archive (ISO 19005-3) it lacks a date.
#[test]
fn a_policy_without_a_date_is_printed() {
    let mut aid = demo(Layout::Form);
    aid.control.date = None;
    let page = printed(&aid);
    let told: Vec<serde_json::Value> = serde_json::from_str(&python("pdf_facts.py", &[&page.path], "")).expect("facts");
    let metadata = &told[0]["metadata"];
    assert_eq!(
        (metadata["pdfuaid:part"].as_str(), metadata["pdfaid:part"].as_str()),
        (Some("1"), Some("")),
        "{metadata}"
    );
    assert_eq!(told[0]["attached"]["side-rooms.ppe"][0], aid.sources[0].text);
    assert!(!program("pdfinfo", &[&page.path]).contains("CreationDate"));
}

#[test]
fn the_files_are_whole_and_have_no_clock_in_them() {
    for aid in of_each_layout() {
        let page = printed(&aid);
        assert!(program("qpdf", &["--check", &page.path]).contains("No syntax or stream encoding errors"));
        let told = program("pdfinfo", &["-isodates", &page.path]);
        let date = aid.control.date.as_deref().expect("a date");
        assert!(told.contains(&format!("CreationDate:    {date}T00:00:00Z")), "{told}");
        assert!(told.contains("Creator:         anteroom\n"), "{told}");
        assert!(told.contains("Tagged:          yes"), "{told}");
    }
}

/// The structure tree: one title, a heading for each part and each step, in their order; an alternative for each picture.
#[test]
fn headings_and_pictures_are_tagged() {
    for aid in [poster(fixtures::taking_off(false)), card(fixtures::taking_off(true))] {
        let Body::Steps(steps) = &aid.body else { unreachable!() };
        let page = printed(&aid);
        let tree = program("pdfinfo", &["-struct-text", &page.path]);
        let headings = |level: &str| tree.lines().filter(|line| line.trim_start().starts_with(level)).count();
        let rows: Vec<&Row> = steps.bands.iter().flat_map(|band| &band.rows).collect();
        assert_eq!((headings("H1 "), headings("H2 "), headings("H3 ")), (1, steps.bands.len(), rows.len()), "{tree}");
        let drawn = rows.iter().filter(|row| matches!(row, Row::Step(step) if step.pictogram.is_some() && !step.quiet));
        let (drawn, figures) = (drawn.count(), tree.matches("Figure").count());
        // And the code in the foot of the first face.
        assert_eq!(figures, drawn + 1);
        let open = format!("{}.open.pdf", page.path);
        program("qpdf", &["--qdf", "--object-streams=disable", &page.path, &open]);
        let bytes = std::fs::read(&open).expect("qpdf wrote it");
        let count = |wanted: &[u8]| bytes.windows(wanted.len()).filter(|window| *window == wanted).count();
        assert_eq!(count(b"/Alt "), drawn + 1);
        assert!(count(b"/Lang (en-GB)") > 0);
    }
    let tree = program("pdfinfo", &["-struct", &printed(&kit_list()).path]);
    let tags = |tag: &str| {
        tree.lines().filter(|line| line.trim() == tag || line.trim().starts_with(&format!("{tag} "))).count()
    };
    let kit = fixtures::kit();
    assert_eq!((tags("H1"), tags("Table")), (1, kit.roles.len() + 1), "{tree}");
    assert!(tags("TH") >= 3 * tags("Table"));
}

#[test]
fn words_of_the_policy_are_never_read_as_markup() {
    let hostile = "#panic(\"x\") *b* _i_ $x$ @r <l> // c \\u{41} = head - list";
    let mut aid = poster(fixtures::putting_on());
    aid.title = hostile.into();
    aid.control.site = hostile.into();
    aid.marking = Some(Marking { word: "DRAFT".into(), reasons: vec![hostile.into()], original: vec![hostile.into()] });
    let Body::Steps(steps) = &mut aid.body else { unreachable!() };
    steps.layers[0].name = "#x[*b*]".into();
    let Row::Step(step) = &mut steps.bands[0].rows[1] else { unreachable!() };
    (step.act, step.detail, step.who, step.when) = (hostile.into(), hostile.into(), hostile.into(), hostile.into());
    step.signals[0].text = hostile.into();
    for layout in [Layout::Poster, Layout::Card] {
        aid.layout = layout;
        aid.paper = PaperSize::A3;
        let text = spaced(&printed(&aid).text(None));
        // Title, reason, site, condition, who, act, detail, signal.
        assert!(text.matches(&spaced(hostile)).count() >= 8, "{text}");
    }
    let mut kit = fixtures::kit();
    kit.roles[0].rows[0].name = hostile.into();
    kit.roles[0].rows[0].detail = hostile.into();
    let list = fixtures::aid(Layout::KitList, PaperSize::A4, hostile, Body::Kit(kit));
    assert!(spaced(&printed(&list).text(None)).matches(&spaced(hostile)).count() >= 3);
}

#[test]
fn a_character_without_a_letter_is_named() {
    let mut aid = card(fixtures::putting_on());
    let Body::Steps(steps) = &mut aid.body else { unreachable!() };
    let Row::Step(step) = &mut steps.bands[0].rows[1] else { unreachable!() };
    step.act = "Put on the 手袋".into();
    let fault = typeset(&aid).expect_err("no font has it");
    assert!(fault.message.contains("手 (U+624B)") && fault.message.contains("Put on the 手袋"), "{fault}");
    assert_eq!(fault.asked_at, "isolation-suite.ppe line 214");
    assert!(fault.title.chars().count() <= 60 && fault.title.ends_with("printed"), "{fault}");
}

#[test]
fn what_does_not_fit_is_told_by_its_words() {
    let mut aid = card(fixtures::putting_on());
    aid.paper = PaperSize::A7;
    let Body::Steps(steps) = &mut aid.body else { unreachable!() };
    let Row::Step(step) = &mut steps.bands[0].rows[2] else { unreachable!() };
    step.detail = "Go on and on. ".repeat(200);
    let fault = typeset(&aid).expect_err("nothing so tall fits");
    assert!(fault.message.contains("Put on the mask"), "{fault}");
}

/// NUREG-0700: 20 minutes of arc for what must be read, 16 the least. Poppler tells the sizes in points.
#[test]
fn letters_can_be_read_from_where_the_policy_says() {
    for (paper, metres) in [(PaperSize::A3, 1.0), (PaperSize::A2, 2.0), (PaperSize::A1, 3.0)] {
        let mut aid = poster(fixtures::putting_on());
        (aid.paper, aid.read_from_mm) = (paper, Some((metres * 1000.0) as u32));
        let page = printed(&aid);
        let told = program("pdftohtml", &["-xml", "-i", "-zoom", "1", "-stdout", &page.path]);
        let capital = |minutes| legibility::capital_height_mm(metres * 1000.0, minutes) * 72.0 / 25.4;
        // sCapHeight of the font file: 668 of 1000.
        let size_of = |words: &str| {
            let line = told.lines().find(|line| line.contains(words)).unwrap_or_else(|| panic!("{words}: {told}"));
            let font = line.split("font=\"").nth(1).and_then(|rest| rest.split('"').next()).expect("a font");
            let spec = format!("<fontspec id=\"{font}\" size=\"");
            let size = told.split(&spec).nth(1).and_then(|rest| rest.split('"').next()).expect("a size");
            size.parse::<f64>().expect("a number")
        };
        // Poppler rounds to whole points.
        for words in ["Put on the goggles", "Clean hands", "HOLD", "Observer confirms", ">6<", "Ready to go in"] {
            assert!((size_of(words) + 0.5) * 0.668 >= capital(20.0), "{paper:?} {words}: {}", size_of(words));
        }
        for words in ["Tie at the neck", "hand rub", "CAUTION", "Sit down", "If not"] {
            assert!((size_of(words) + 0.5) * 0.668 >= capital(16.0), "{paper:?} {words}: {}", size_of(words));
        }
    }
}

/// Nothing that must be read is under 9 points, on any face.
#[test]
fn no_letter_is_smaller_than_nine_points() {
    for aid in of_each_layout() {
        let told = program("pdftohtml", &["-xml", "-i", "-zoom", "1", "-stdout", &printed(&aid).path]);
        let sizes: Vec<f64> = told
            .split("<fontspec ")
            .skip(1)
            .filter_map(|spec| spec.split("size=\"").nth(1)?.split('"').next()?.parse().ok())
            .collect();
        assert!(!sizes.is_empty() && sizes.iter().all(|&size| size >= 9.0), "{}: {sizes:?}", aid.kind);
    }
}

/// Words as poppler finds them: page, left, top, right, bottom.
fn boxes(page: &Page) -> Vec<(usize, [f64; 4], String)> {
    let told = program("pdftotext", &["-bbox", &page.path, "-"]);
    let mut number = 0;
    let mut found = Vec::new();
    for line in told.lines() {
        number += usize::from(line.trim_start().starts_with("<page "));
        let value = |name: &str| line.split(&format!("{name}=\"")).nth(1)?.split('"').next()?.parse::<f64>().ok();
        if let (true, Some(left), Some(top), Some(right), Some(bottom)) =
            (line.contains("<word "), value("xMin"), value("yMin"), value("xMax"), value("yMax"))
        {
            let word = line.split('>').nth(1).and_then(|rest| rest.split('<').next()).unwrap_or_default();
            // A box reaches from ascender to descender; letters of a line stand well within. The names of the layer
            // lines run upwards.
            let upwards = word.chars().count() > 3 && bottom - top > right - left;
            let lower = if upwards { 0.0 } else { 0.22 * (bottom - top) };
            found.push((number, [left, top + lower, right, bottom - lower], word.to_string()));
        }
    }
    found
}

pub fn assert_nothing_overlaps(aid: &Aid, page: &Page) {
    let (short, long) = aid.paper.millimetres();
    let (width, height) = if aid.sideways { (long, short) } else { (short, long) };
    let (width, height) = (f64::from(width) * 72.0 / 25.4, f64::from(height) * 72.0 / 25.4);
    let mut boxes = boxes(page);
    // The letters of the watermark lie behind all others.
    let is_watermark = |word: &str| word.len() < 5 && aid.marking.as_ref().is_some_and(|it| it.word.contains(word));
    boxes.retain(|(_, [_, top, _, bottom], word)| !(is_watermark(word) && bottom - top > height / 20.0));
    for (at, (number, [left, top, right, bottom], word)) in boxes.iter().enumerate() {
        let inside = *left >= 9.0 && *top >= 9.0 && *right <= width - 9.0 && *bottom <= height - 9.0;
        assert!(inside, "“{word}” leaves page {number} of {}", aid.file);
        for (other_number, other, other_word) in &boxes[at + 1..] {
            let apart = number != other_number
                || right <= &(other[0] + 0.5)
                || other[2] <= left + 0.5
                || bottom <= &(other[1] + 0.5)
                || other[3] <= top + 0.5;
            assert!(apart, "“{word}” and “{other_word}” overlap on page {number} of {} ({:?})", aid.file, aid.paper);
        }
    }
}

#[test]
fn any_number_of_steps_is_set_without_overlap() {
    let of = |count: u32| {
        let layout = if count.is_multiple_of(3) { Layout::Poster } else { Layout::Card };
        let paper = match layout {
            Layout::Poster => [PaperSize::A2, PaperSize::A3, PaperSize::A4][count as usize / 3 % 3],
            _ => [PaperSize::A6, PaperSize::A5][count as usize % 2],
        };
        let mut aid = fixtures::aid(layout, paper, "Taking off", Body::Steps(fixtures::steps(count)));
        aid.file = format!("{count}-steps");
        aid.read_from_mm = aid.read_from_mm.map(|_| if paper == PaperSize::A4 { 800 } else { 1500 });
        aid
    };
    let plan = PrintPlan { aids: (1..=60).map(of).collect(), not_made: Vec::new() };
    let made = typeset_all(&plan, 2, &|_, set| set);
    for ((aid, made), count) in plan.aids.iter().zip(made).zip(1usize..) {
        let page = written(made.unwrap_or_else(|fault| panic!("{fault}")));
        assert!(page.pages <= 2 + count / 2, "{count} steps on {} pages of {:?}", page.pages, aid.paper);
        assert_nothing_overlaps(aid, &page);
    }
}

#[test]
fn long_words_and_titles_stay_within_their_columns() {
    for layout in [Layout::Poster, Layout::Card, Layout::KitList] {
        let body = if layout == Layout::KitList {
            Body::Kit(fixtures::kit())
        } else {
            let mut steps = fixtures::taking_off(layout == Layout::Card);
            let Row::Step(step) = &mut steps.bands[1].rows[1] else { unreachable!() };
            step.act = "Atemschutzmaskendichtsitzprüfungsprotokoll vorlesen".into();
            Body::Steps(steps)
        };
        let paper = if layout == Layout::Poster { PaperSize::A3 } else { PaperSize::A6 };
        let title = "Ablegen der persönlichen Schutzausrüstung nach Kontakt mit hochansteckenden Patientinnen";
        let mut aid = fixtures::aid(layout, paper, title, body);
        aid.language = "de-DE".into();
        let page = printed(&aid);
        assert_nothing_overlaps(&aid, &page);
    }
}

/// A chart's sheets have their size (ISO 216), its figures stand in a table whose heads are tagged, and each mark has words.
#[test]
fn a_chart_is_a_table_on_its_paper() {
    for (paper, width, height) in [(PaperSize::A3, 297.0, 420.0), (PaperSize::A4, 210.0, 297.0)] {
        let mut aid = chart();
        aid.paper = paper;
        let page = printed(&aid);
        let Body::Chart(chart) = &aid.body else { unreachable!() };
        assert_in_order(&page.text(None), &chart_in_order(chart));
        assert_nothing_overlaps(&aid, &page);
        let told = program("pdfinfo", &[&page.path]);
        let size = told.lines().find(|line| line.starts_with("Page size")).expect("a size");
        let numbers: Vec<f64> = size.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        assert!((numbers[0] * 25.4 / 72.0 - width).abs() < 0.01 && (numbers[1] * 25.4 / 72.0 - height).abs() < 0.01);
        let tree = program("pdfinfo", &["-struct", &page.path]);
        let tags = |tag: &str| tree.lines().filter(|line| line.trim().split([' ', ':']).next() == Some(tag)).count();
        let lanes: usize = chart.people.iter().map(|person| person.lanes.len()).sum();
        // The words of the rows, and for each person their marks and lanes, under two lines of heads.
        assert_eq!((tags("H1"), tags("Table")), (1, page.pages), "{tree}");
        assert_eq!(tags("TH"), page.pages * (1 + chart.people.len() + 1 + chart.people.len() + lanes), "{tree}");
        let rows: Vec<_> = chart.bands.iter().flat_map(|band| &band.rows).collect();
        let marks = rows.iter().flat_map(|row| &row.marks).filter(|mark| mark.mark != plan::Mark::None);
        // And the code in the foot of the first sheet.
        assert_eq!(tags("Figure"), marks.count() + 1, "{tree}");
    }
}

/// A long sequence breaks between steps, and every sheet says whose lanes its figures stand in.
#[test]
fn a_long_chart_says_on_every_sheet_what_stands_in_its_lanes() {
    let mut aid = chart();
    aid.paper = PaperSize::A4;
    let Body::Chart(chart) = &mut aid.body else { unreachable!() };
    chart.bands = std::iter::repeat_n(chart.bands.clone(), 4).flatten().collect();
    for row in chart.bands.iter_mut().flat_map(|band| &mut band.rows).filter(|row| row.number.ends_with('7')) {
        row.act = "#eval(\"x\") *b* $x$ and on and on with words that need more than one line of the chart".into();
    }
    let wanted = chart_in_order(chart);
    let page = printed(&aid);
    assert!(page.pages >= 4, "{} pages", page.pages);
    assert_in_order(&page.text(None), &wanted);
    assert_nothing_overlaps(&aid, &page);
    for number in 1..=page.pages {
        let text = spaced(&page.text(Some(number)));
        for head in [
            "Wearer",
            "Helper",
            "Hands, outside",
            "Nose, mouth",
            "Scrubs",
            &aid.control.fingerprint,
            &aid.control.caution,
        ] {
            assert!(text.contains(head), "{number} lacks {head}: {text}");
        }
    }
}

/// For a screen the chart is an SVG, which names itself; the words of the policy are text in it, never marks.
#[test]
fn a_chart_is_a_picture_too() {
    let mut aid = chart();
    aid.title = "Taking off <b> & \"more\"".into();
    let made = typeset(&aid).expect("it can be set");
    let picture = made.picture.expect("a chart has a picture");
    assert_eq!(picture, typeset(&aid).expect("it can be set").picture.expect("again"));
    assert!(picture.contains("<title>Walk chart, Taking off &lt;b&gt; &amp; \"more\", Enhanced</title>"));
    assert!(picture.contains("no estimate of infection risk") && picture.contains(&aid.control.fingerprint));
    // XML by Python's own reader; a page of A3 in points.
    let told = python("svg.py", &[], &picture);
    assert_eq!(told.trim(), "svg 842 1191");
    assert!(typeset(&kit_list()).expect("it can be set").picture.is_none());
}

/// Any aid is one where it is asked for: its letters are outlines, so its description holds the steps by their numbers.
#[test]
fn every_aid_can_be_a_picture() {
    for aid in of_each_layout().into_iter().map(|aid| Aid { pictured: true, ..aid }) {
        let made = typeset(&aid).expect("it can be set");
        let picture = made.picture.expect("one was asked for");
        let told = python("svg.py", &[], &picture);
        let size: Vec<f64> = told.split_whitespace().skip(1).map(|side| side.parse().expect("a number")).collect();
        let (short, long) = aid.paper.millimetres();
        let (width, height) = if aid.sideways { (long, short) } else { (short, long) };
        let points = |millimetres: u32| f64::from(millimetres) * 72.0 / 25.4;
        let faces = points(height) * made.pages as f64 + 12.0 * (made.pages - 1) as f64;
        assert!((size[0] - points(width)).abs() < 1.0 && (size[1] - faces).abs() < 1.0, "{}: {told}", aid.file);
        assert!(picture.contains(&aid.control.caution), "{}", aid.file);
        if let Body::Steps(steps) = &aid.body {
            let rows = steps.bands.iter().flat_map(|band| &band.rows);
            for step in rows.filter_map(|row| if let Row::Step(step) = row { Some(step) } else { None }) {
                assert!(picture.contains(&format!("{}. {}", step.number, step.act)), "{}", aid.file);
            }
        }
    }
}

#[test]
fn a_chart_with_more_lanes_than_the_paper_is_wide_is_told() {
    let mut aid = chart();
    aid.paper = PaperSize::A6;
    let fault = typeset(&aid).expect_err("seven lanes are too many");
    assert!(fault.title == "The chart is too wide for A6" && fault.message.contains("7 lanes"), "{fault}");
}

/// WCAG 2.2 contrast by the PyPI package `wcag-contrast-ratio`, for every pair of colours that is used.
#[test]
fn contrasts_agree_with_a_reference_library() {
    let pairs: Vec<_> = colours::PAIRS
        .iter()
        .map(|&(letters, ground, least)| (colours::value(letters), colours::value(ground), least))
        .collect();
    let told = python("contrast.py", &[], &serde_json::to_string(&pairs).expect("plain data"));
    let ratios: Vec<f64> = serde_json::from_str(&told).expect("a list of numbers");
    assert_eq!(ratios.len(), pairs.len());
    for ((letters, ground, least), ratio) in pairs.into_iter().zip(ratios) {
        let ours = letters.zip(ground).and_then(|(letters, ground)| colours::contrast(letters, ground));
        assert!(
            (ours.expect("two colours") - ratio).abs() < 0.005 && ratio >= least,
            "{letters:?} on {ground:?}: {ratio}"
        );
    }
}

#[test]
fn the_templates_use_no_colour_of_their_own() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/typeset/templates");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("the templates") {
        let text = std::fs::read_to_string(entry.expect("an entry").path()).expect("text");
        let own = ["rgb(\"", "luma(", "cmyk(", "black", "white", "red", "gray"];
        for line in text.lines().filter(|line| !line.trim_start().starts_with("//")) {
            let bare = line.replace("colour.black", "");
            assert!(
                own.iter().all(|own| !bare
                    .split(|c: char| !c.is_alphanumeric() && c != '(' && c != '"')
                    .any(|word| word == *own)),
                "{line}"
            );
        }
        count += 1;
    }
    assert_eq!(count, 11);
}

/// The real thing: every aid of every sample and of the demonstration is set, its words stand in order and apart, and each
/// of its pictograms has a drawing.
#[test]
fn every_aid_of_the_policies_is_set() {
    let files = [
        "tests/samples/isolation-suite.ppe",
        "tests/samples/side-room.ppe",
        "tests/samples/transfer-team.ppe",
        "policies/assessment-suite.ppe",
        "policies/negative-pressure-room.ppe",
        "policies/side-rooms.ppe",
    ];
    let today = Day::new(2026, 12, 10).expect("a day");
    for file in files {
        let plan = plan(&checked(file, today));
        assert!(!plan.aids.is_empty(), "{file}");
        for (aid, made) in plan.aids.iter().zip(typeset_all(&plan, 2, &|_, set| set)) {
            let page = written(made.unwrap_or_else(|fault| panic!("{file}: {fault}")));
            assert_nothing_overlaps(aid, &page);
            assert_eq!(page.text(None).contains("DRAFT"), aid.marking.is_some(), "{file} {}", aid.file);
            match &aid.body {
                Body::Steps(steps) => assert_in_order(&page.text(None), &words_in_order(steps)),
                Body::Kit(kit) => {
                    let rows = kit.roles.iter().flat_map(|role| &role.rows).chain(&kit.supplies);
                    assert_in_order(&page.text(None), &rows.map(|row| row.name.clone()).collect::<Vec<_>>());
                }
                Body::Chart(chart) => assert_in_order(&page.text(None), &chart_in_order(chart)),
                Body::Form(form) => assert_in_order(&page.text(None), &form_in_order(form)),
                Body::Sign(sign) => assert_in_order(&page.text(None), &sign_in_order(sign)),
                Body::Area(area) => assert_in_order(&page.text(None), &area_in_order(area)),
                Body::Choice(choice) => assert_in_order(&page.text(None), &choice_in_order(choice)),
                Body::Review(_) => unreachable!("it is of two editions"),
            }
            for key in keys(&aid.body) {
                assert!(pictograms::known(key), "{file}: {key}");
            }
        }
    }
}

fn keys(body: &Body) -> Vec<&str> {
    match body {
        Body::Steps(steps) => {
            let rows = steps.bands.iter().flat_map(|band| &band.rows);
            let steps = rows.filter_map(|row| if let Row::Step(step) = row { step.pictogram.as_ref() } else { None });
            steps.map(|pictogram| pictogram.key.as_str()).collect()
        }
        Body::Kit(kit) => {
            let rows = kit.roles.iter().flat_map(|role| &role.rows).chain(&kit.supplies);
            rows.filter_map(|row| row.pictogram.as_ref()).map(|pictogram| pictogram.key.as_str()).collect()
        }
        Body::Sign(sign) => {
            let items = sign.wear.iter().flat_map(|kit| &kit.items);
            items.filter_map(|item| item.pictogram.as_ref()).map(|pictogram| pictogram.key.as_str()).collect()
        }
        Body::Area(area) => {
            let things = area.places.iter().flat_map(|place| &place.things);
            things.filter_map(|thing| thing.pictogram.as_ref()).map(|pictogram| pictogram.key.as_str()).collect()
        }
        Body::Chart(_) | Body::Form(_) | Body::Choice(_) | Body::Review(_) => Vec::new(),
    }
}

/// One grey byte for each point of a page at 200 dots an inch, and the points in a line.
fn greys(page: &Page, number: usize) -> (Vec<u8>, usize, String) {
    let stem = page.path.replace(".pdf", &format!("-{number}"));
    let number = number.to_string();
    program("pdftoppm", &["-r", "200", "-gray", "-f", &number, "-l", &number, "-singlefile", &page.path, &stem]);
    let picture = format!("{stem}.pgm");
    let bytes = std::fs::read(&picture).expect("a picture");
    let head: Vec<&[u8]> = bytes.splitn(4, |byte| byte.is_ascii_whitespace()).collect();
    let width = String::from_utf8_lossy(head[1]).parse().expect("a width");
    let pixels = head[3].splitn(3, |byte| *byte == b'\n').last().expect("pixels");
    (pixels.to_vec(), width, picture)
}

/// Every code is found and read by zbar (zbarimg of the distribution) on the page as it is printed, and the four modules
/// around it (ISO/IEC 18004) are white, on a draft's pale letters too.
#[test]
fn every_face_bears_a_code_that_a_scanner_reads() {
    for mut aid in of_each_layout() {
        for marking in [
            None,
            Some(Marking { word: "NOT YET IN FORCE".into(), reasons: vec!["Not yet.".into()], original: Vec::new() }),
        ] {
            aid.marking = marking;
            let page = printed(&aid);
            for number in 1..=page.pages {
                let (pixels, width, picture) = greys(&page, number);
                let options = ["--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", picture.as_str()];
                let read = program("zbarimg", &options);
                assert_eq!(read.trim_end(), aid.control.code, "{:?} page {number}", aid.layout);
                assert_quiet(&aid, &pixels, width);
            }
        }
    }
}

/// The code's own dark points, from its upper right corner, which is a bar of seven modules; and around it four modules of
/// nothing but white.
fn assert_quiet(aid: &Aid, pixels: &[u8], width: usize) {
    let height = pixels.len() / width;
    let grey = |x: usize, y: usize| pixels[y * width + x];
    let wide = |x: usize, y: usize| (0..=x).rev().take_while(|&x| grey(x, y) < 128).count();
    let corner = |x: usize| {
        let mut from = height / 2;
        let dark: Vec<bool> = (from..height).map(|y| grey(x, y) < 128).collect();
        let runs = dark.chunk_by(|a, b| a == b).map(|run| {
            from += run.len();
            (run[0], from - run.len(), run.len())
        });
        let mut bars = runs.filter(|(is_dark, _, tall)| *is_dark && (22..60).contains(tall));
        bars.find_map(|(_, top, tall)| (wide(x, top + 1).abs_diff(tall) <= 2).then_some((top, tall)))
    };
    let (right, (top, seven)) = (0..width).rev().find_map(|x| Some((x + 1, corner(x)?))).expect("a corner of the code");
    let modules = qr_modules(&aid.control.code) as f64;
    // The opposite edge is the first dark column about as many modules away; it gives the module's width exactly.
    let about = (modules * seven as f64 / 7.0).round() as usize;
    let is_dark = |x: &usize| (top..top + about).any(|y| grey(*x, y) < 128);
    let left = (right - about - 8..right).find(is_dark).expect("the left edge");
    let module = (right - left) as f64 / modules;
    assert!((module - seven as f64 / 7.0).abs() < 0.2, "{:?}: no code of {modules} modules", aid.layout);
    assert!(module * 25.4 / 200.0 >= 0.4, "{:?}: modules of {} points", aid.layout, module);
    let quiet = (4.0 * module) as usize - 1;
    let (west, east, north, south) = (left - 1, right + 1, top - 1, top + (right - left) + 2);
    for y in north - quiet..south + quiet {
        for x in west - quiet..east + quiet {
            let within = (west..east).contains(&x) && (north..south).contains(&y);
            assert!(within || grey(x, y) > 250, "{:?}: ({x}, {y}) is not white around {west}, {north}", aid.layout);
        }
    }
}

/// Modules on a side of the smallest code of level M that holds so many bytes (ISO/IEC 18004; versions 1 to 4 and 6 computed
/// with segno 1.6.6, the others from memory).
fn qr_modules(text: &str) -> usize {
    const BYTES: [usize; 10] = [14, 26, 42, 62, 84, 106, 122, 152, 180, 213];
    let version = 1 + BYTES.iter().position(|&bytes| text.len() <= bytes).expect("a short text");
    17 + 4 * version
}
