//! An aid as a folder of files that another copy of the typesetter can set, so that ours can be held against it.
//!
//! In: an aid. Out: files, or the PDF that is made of them here. Must never differ from what is set here: the same templates, data, drawings and fonts.

use std::collections::BTreeMap;

use super::climbing::Fitted;
use super::fault::Fault;
use super::world::Desk;
use super::{advice, fonts, setting, sheet};
use crate::aids::plan::Aid;

/// The files by their names, with `/` between folders.
pub struct Project {
    /// The template to begin with.
    pub main: String,
    pub files: BTreeMap<String, Vec<u8>>,
}

/// The folder, within the project, that holds its fonts.
pub const FONTS: &str = "fonts";

/// An aid whose faces are divided and not yet set.
pub struct Ready<'a> {
    aid: &'a Aid,
    fitted: Fitted,
}

pub fn ready(aid: &Aid) -> Result<Ready<'_>, Fault> {
    let fitted = advice::fit(aid).map_err(|cause| cause.of(aid))?;
    Ok(Ready { aid, fitted })
}

impl Ready<'_> {
    pub fn project(&self) -> Project {
        let desk = Desk::new(self.aid, sheet::data(self.aid, &self.fitted.frame, &[], &self.fitted.faces));
        let mut files = desk.files();
        let numbered = fonts::FILES.iter().enumerate();
        files.extend(numbered.map(|(at, font)| (format!("{FONTS}/{at}.ttf"), font.to_vec())));
        Project { main: desk.begins_with(), files }
    }

    /// The same faces, set here: a PDF.
    pub fn set(&self) -> Result<Vec<u8>, Fault> {
        let set = setting::set(self.aid, &self.fitted.frame, &self.fitted.faces);
        set.map(|(pdf, _)| pdf).map_err(|cause| cause.of(self.aid))
    }
}
