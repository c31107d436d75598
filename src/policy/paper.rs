//! Document control: what the policy is called, whose it is and when it holds.

use serde::Serialize;

use super::Day;
use crate::text::Span;

#[derive(Clone, Debug, Default, Serialize)]
pub struct Paper {
    pub title: Option<String>,
    pub site: Option<String>,
    pub edition: Option<u32>,
    pub owner: Option<String>,
    pub approval: Option<Approval>,
    /// How many people are to approve an edition; one where no line says it.
    pub approval_needs: Option<u32>,
    pub in_force: Option<Day>,
    pub review_by: Option<Day>,
    pub withdrawn: Option<Day>,
    pub replaces: Option<u32>,
    /// Where the hospital keeps the edition that is in force.
    pub link: Option<String>,
    /// A BCP 47 tag as written; `en-GB` where none stands.
    pub language: Option<String>,
    /// Each line that was written, by its property, to point at: `("review by", span)`.
    #[serde(skip)]
    pub spans: Vec<(&'static str, Span)>,
    /// False for a file of shared items, which has no `policy` line of its own.
    pub is_policy: bool,
}

#[derive(Clone, Debug, Serialize)]
pub struct Approval {
    pub by: String,
    pub on: Day,
}

/// What the editions of one policy share, whatever the case of their letters.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Identity {
    pub title: String,
    pub site: Option<String>,
}

impl Paper {
    /// None without a title: nothing then tells that two files are editions of one policy.
    pub fn identity(&self) -> Option<Identity> {
        let folded = |words: &String| words.trim().to_lowercase();
        Some(Identity { title: folded(self.title.as_ref()?), site: self.site.as_ref().map(folded) })
    }

    /// Whether a line of the property stands there, even one with a date that cannot be.
    pub fn wrote(&self, property: &str) -> bool {
        self.spans.iter().any(|(name, _)| *name == property)
    }

    /// The line of the property, or the `policy` line, or the beginning of the file.
    pub fn place(&self, property: &str) -> Span {
        self.span(property).unwrap_or(Span::new(crate::text::SourceId(0), 0, 0))
    }

    /// The line `property …`, or the `policy` line where there is none.
    pub fn span(&self, property: &str) -> Option<Span> {
        let find = |wanted: &str| self.spans.iter().find(|(name, _)| *name == wanted).map(|&(_, span)| span);
        find(property).or_else(|| find("policy"))
    }
}
