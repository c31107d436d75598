//! What a template can reach: the templates, the pictograms, the fonts and one file of data. No disk, network or clock.

use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::LazyLock;

use typst::diag::{FileError, FileResult};
use typst::foundations::{Bytes, Datetime, Duration};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World};

use super::{colours, fonts, pictograms};
use crate::aids::plan::{Aid, Layout};

/// The templates by their fixed paths.
pub(super) const TEMPLATES: [(&str, &str); 9] = [
    ("/lib.typ", include_str!("templates/lib.typ")),
    ("/card.typ", include_str!("templates/card.typ")),
    ("/poster.typ", include_str!("templates/poster.typ")),
    ("/kit_list.typ", include_str!("templates/kit_list.typ")),
    ("/walk_chart.typ", include_str!("templates/walk_chart.typ")),
    ("/form.typ", include_str!("templates/form.typ")),
    ("/door_sign.typ", include_str!("templates/door_sign.typ")),
    ("/area_plan.typ", include_str!("templates/area_plan.typ")),
    ("/choice_poster.typ", include_str!("templates/choice_poster.typ")),
];

/// Everything that is the same for all aids. The paths are fixed: the typesetter keeps each path for ever.
struct Shared {
    library: LazyHash<Library>,
    sources: Vec<(&'static str, Source)>,
    drawings: HashMap<FileId, Bytes>,
    data: FileId,
}

static SHARED: LazyLock<Shared> = LazyLock::new(|| Shared {
    library: LazyHash::new(Library::default()),
    sources: TEMPLATES.iter().map(|&(path, text)| (path, Source::new(id(path), text.into()))).collect(),
    drawings: pictograms::all().map(|drawing| (id(&drawing_path(drawing.key)), inked(drawing.svg))).collect(),
    data: id("/data.json"),
});

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

/// The world of one aid.
pub(super) struct Desk {
    main: Source,
    data: Bytes,
    own: Vec<(FileId, Bytes)>,
}

impl Desk {
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
        };
        let found = SHARED.sources.iter().find(|(path, _)| *path == wanted);
        let main = found.map_or_else(|| Source::detached(""), |(_, source)| source.clone());
        let own = aid.drawings.values().enumerate();
        let own = own.map(|(at, svg)| (id(&own_path(at)), inked(svg))).collect();
        Desk { main, data: Bytes::new(data), own }
    }
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &SHARED.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        fonts::STORE.book()
    }

    fn main(&self) -> FileId {
        self.main.id()
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let found = SHARED.sources.iter().find(|(_, source)| source.id() == id);
        found.map(|(_, source)| source.clone()).ok_or_else(|| not_found(id))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        if id == SHARED.data {
            return Ok(self.data.clone());
        }
        let own = self.own.iter().find(|(known, _)| *known == id).map(|(_, drawing)| drawing.clone());
        own.or_else(|| SHARED.drawings.get(&id).cloned()).ok_or_else(|| not_found(id))
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
            for forbidden in ["eval(", "plugin(", "read(", "include ", "@preview", "datetime.today"] {
                assert!(!text.contains(forbidden), "{path} uses {forbidden}");
            }
            assert!(text.matches("json(").count() == usize::from(path == "/lib.typ"), "{path} reads data of its own");
        }
    }
}
