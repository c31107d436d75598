//! An aid as a folder of files that another copy of the typesetter can set, so that ours can be held against it.
//!
//! In: an aid. Out: files. Must never differ from what is set here: the same templates, data, drawings and fonts.

use std::collections::BTreeMap;

use super::fault::Fault;
use super::world::Desk;
use super::{advice, fonts, sheet};
use crate::aids::plan::Aid;

/// The files by their names, with `/` between folders.
pub struct Project {
    /// The template to begin with.
    pub main: String,
    pub files: BTreeMap<String, Vec<u8>>,
}

/// The folder, within the project, that holds its fonts.
pub const FONTS: &str = "fonts";

/// The finished faces of an aid, divided and measured, before they are set.
pub fn project(aid: &Aid) -> Result<Project, Fault> {
    let fitted = advice::fit(aid).map_err(|cause| cause.of(aid))?;
    let desk = Desk::new(aid, sheet::data(aid, &fitted.frame, &[], &fitted.faces));
    let mut files = desk.files();
    let numbered = fonts::FILES.iter().enumerate();
    files.extend(numbered.map(|(at, font)| (format!("{FONTS}/{at}.ttf"), font.to_vec())));
    Ok(Project { main: desk.begins_with(), files })
}
