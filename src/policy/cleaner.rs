//! What cleans what.

use serde::Serialize;

use super::Seconds;
use crate::text::Span;

#[derive(Clone, Debug, Serialize)]
pub struct Cleaner {
    pub name: String,
    pub printed: String,
    pub for_hands: bool,
    pub for_surfaces: bool,
    /// Parts per million of the substance: `strength 1000 ppm chlorine`, `strength 0.1 % chlorine`.
    pub strength_ppm: Option<u64>,
    pub substance: Option<String>,
    pub wet_for: Option<Seconds>,
    pub not_on_visible_soil: bool,
    /// `worth N touches`: the policy's own figure in place of the table's.
    pub worth: Option<u32>,
    #[serde(skip)]
    pub span: Span,
}

impl Cleaner {
    /// Washing with soap, which works on visible soil too; told by the cleaner's own words.
    pub fn is_soap(&self) -> bool {
        [&self.name, &self.printed].iter().any(|words| {
            words.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| word == "soap" || word == "wash")
        })
    }
}
