//! What a template can reach: the templates, the pictograms, the fonts and one file of data. No disk, network or clock.

use std::collections::{BTreeMap, HashMap};
use std::path::PathBuf;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::{LazyHash, hash128};
use typst::{Library, LibraryExt, World};

use super::{colours, fonts, pictograms, sparing};
use crate::aids::plan::{Aid, Layout};

/// The templates by their fixed paths.
pub(super) const TEMPLATES: [(&str, &str); 11] = [
    ("/lib.typ", include_str!("templates/lib.typ")),
    ("/card.typ", include_str!("templates/card.typ")),
    ("/poster.typ", include_str!("templates/poster.typ")),
    ("/kit_list.typ", include_str!("templates/kit_list.typ")),
    ("/walk_chart.typ", include_str!("templates/walk_chart.typ")),
    ("/form.typ", include_str!("templates/form.typ")),
    ("/door_sign.typ", include_str!("templates/door_sign.typ")),
    ("/area_plan.typ", include_str!("templates/area_plan.typ")),
    ("/choice_poster.typ", include_str!("templates/choice_poster.typ")),
    ("/review_sheet.typ", include_str!("templates/review_sheet.typ")),
    ("/sheet.typ", include_str!("templates/sheet.typ")),
];

/// Everything that is the same for all aids. The paths are fixed: the typesetter keeps each path for ever.
struct Shared {
    library: LazyHash<Library>,
    /// Each read when it is first asked for: one aid needs two of them.
    sources: Vec<(FileId, Template)>,
    drawings: HashMap<FileId, Bytes>,
    data: FileId,
}

static SHARED: LazyLock<Shared> = LazyLock::new(|| Shared {
    library: LazyHash::new(Library::default()),
    sources: TEMPLATES.iter().map(|&(path, text)| template(id(path), text)).collect(),
    drawings: pictograms::all().map(|drawing| (id(&drawing_path(drawing.key)), inked(drawing.svg))).collect(),
    data: id("/data.json"),
});

/// Reads the templates with which most aids begin, once for the program.
pub(super) fn prepare_templates() {
    for path in ["/lib.typ", "/poster.typ", "/card.typ"].map(id) {
        _ = SHARED.sources.iter().find(|(id, _)| *id == path).map(|(_, source)| LazyLock::force(source));
    }
}

/// The same of the fonts, and of the mark that the typesetter gives its library.
pub(super) fn prepare_fonts() {
    fonts::STORE.book();
    hash128(&SHARED.library);
}

type Template = LazyLock<Source, Box<dyn FnOnce() -> Source + Send>>;

fn template(id: FileId, text: &'static str) -> (FileId, Template) {
    (id, LazyLock::new(Box::new(move || Source::new(id, sparing::spare(text)))))
}

/// A drawing in the ink of the aid.
fn inked(svg: &str) -> Bytes {
    Bytes::from_string(svg.replace("currentColor", colours::INK))
}

fn id(path: &str) -> FileId {
    let path = VirtualPath::new(path).expect("the program's own path");
    RootedPath::new(VirtualRoot::Project, path).intern()
}

pub(super) fn drawing_path(key: &str) -> String {
    format!("/pictograms/{key}.svg")
}

/// A drawing of the hospital's own, by its place among those of the aid.
pub(super) fn own_path(at: usize) -> String {
    format!("/own/{at}.svg")
}

/// The path of a finished aid that stands on a sheet. As many are kept for ever as one aid has copies at most.
pub(super) fn finished_path(index: usize) -> String {
    format!("/finished/{index}.pdf")
}

/// The world of one aid, or of its sheets.
pub(super) struct Desk {
    main: FileId,
    data: Bytes,
    /// Drawings of the hospital's own, or the finished aids of a sheet.
    own: HashMap<FileId, Bytes>,
}

impl Desk {
    /// `finished`: PDFs that stand on the sheets.
    pub(super) fn of_sheets(data: Vec<u8>, finished: &[Vec<u8>]) -> Desk {
        let finished = finished.iter().enumerate().map(|(at, pdf)| (id(&finished_path(at)), Bytes::new(pdf.clone())));
        Desk { main: id("/sheet.typ"), data: Bytes::new(data), own: finished.collect() }
    }

    /// `data`: JSON, as `templates/lib.typ` reads it.
    pub(super) fn new(aid: &Aid, data: Vec<u8>) -> Desk {
        let wanted = match aid.layout {
            Layout::Card => "/card.typ",
            Layout::Poster => "/poster.typ",
            Layout::KitList => "/kit_list.typ",
            Layout::WalkChart => "/walk_chart.typ",
            Layout::Form => "/form.typ",
            Layout::DoorSign => "/door_sign.typ",
            Layout::AreaPlan => "/area_plan.typ",
            Layout::ChoicePoster => "/choice_poster.typ",
            Layout::Review => "/review_sheet.typ",
        };
        let own = aid.drawings.values().enumerate();
        let own = own.map(|(at, svg)| (id(&own_path(at)), inked(svg))).collect();
        Desk { main: id(wanted), data: Bytes::new(data), own }
    }
}

impl Desk {
    /// The name of the template that is set.
    pub(super) fn begins_with(&self) -> String {
        name(self.main)
    }

    /// Everything that the template can reach but the fonts, by name.
    pub(super) fn files(&self) -> BTreeMap<String, Vec<u8>> {
        let templates = SHARED.sources.iter().map(|(id, source)| (name(*id), source.text().into()));
        let drawings = SHARED.drawings.iter().chain(&self.own).map(|(id, drawing)| (name(*id), drawing.to_vec()));
        templates.chain(drawings).chain([(name(SHARED.data), self.data.to_vec())]).collect()
    }
}

/// A file's path without the slash that it begins with.
fn name(id: FileId) -> String {
    id.vpath().get_with_slash().trim_start_matches('/').to_string()
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &SHARED.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        fonts::STORE.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let found = SHARED.sources.iter().find(|(other, _)| *other == id);
        found.map(|(_, source)| Source::clone(source)).ok_or_else(|| not_found(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == SHARED.data {
            return Ok(self.data.clone());
        }
        SHARED.drawings.get(&id).or_else(|| self.own.get(&id)).cloned().ok_or_else(|| not_found(id))
    }

    fn font(&self, index: usize) -> Option<Font> {
        fonts::STORE.font(index)
    }

    /// No clock.
    fn today(&self, _: Option<Duration>) -> Option<Datetime> {
        None
    }
}

fn not_found(id: FileId) -> FileError {
    FileError::NotFound(PathBuf::from(id.vpath().get_with_slash()))
}

#[cfg(test)]
mod tests {
    use super::TEMPLATES;

    /// What could read the policy's words as markup, or reach outside.
    #[test]
    fn templates_interpret_nothing() {
        for (path, text) in TEMPLATES {
            let text = &text.replace("spread(", "");
            for forbidden in ["eval(", "plugin(", "read(", "include ", "@preview", "datetime.today"] {
                assert!(!text.contains(forbidden), "{path} uses {forbidden}");
            }
            let reads = ["/lib.typ", "/sheet.typ"].contains(&path);
            assert!(text.matches("json(").count() == usize::from(reads), "{path} reads data of its own");
        }
    }
}
