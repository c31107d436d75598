//! One thing to tell the writer.

use serde::Serialize;

use crate::text::Span;

/// A rule's stable name of two words: its family and its own word, `order covered`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name {
    pub family: &'static str,
    pub word: &'static str,
}

impl std::fmt::Display for Name {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.family, self.word)
    }
}

/// By consequence, gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "UPPERCASE")]
pub enum Signal {
    /// Somebody can be exposed.
    Danger,
    /// A safeguard is missing.
    Warning,
    /// Likely confusion.
    Caution,
    /// Tidiness.
    Notice,
}

impl Signal {
    pub fn word(self) -> &'static str {
        match self {
            Signal::Danger => "DANGER",
            Signal::Warning => "WARNING",
            Signal::Caution => "CAUTION",
            Signal::Notice => "NOTICE",
        }
    }
}

/// Where the truth of a finding comes from; never mixed in one message.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Follows from the barrier model or from the language itself.
    Law,
    /// A rule that a named published source gives.
    Guidance,
    /// The hospital's own rule, written in the policy.
    House,
}

impl Kind {
    pub fn word(self) -> &'static str {
        match self {
            Kind::Law => "law",
            Kind::Guidance => "guidance",
            Kind::House => "house",
        }
    }
}

/// Message, place, trace and way out are separate data, so that every face can lay them out.
#[derive(Clone, Debug)]
pub struct Finding {
    pub name: Name,
    pub signal: Signal,
    pub kind: Kind,
    pub span: Span,
    /// The line's own words at `span`; the session fills them in, since rules see no text.
    pub sentence: String,
    /// At most 60 characters; stands alone in a list.
    pub title: String,
    /// One to three sentences, each under 20 words, the consequence first.
    pub message: String,
    /// One way out.
    pub way_out: String,
    /// The answers under which it happens: `suit is soiled`, `boots are not supplied`. Empty: in every case.
    pub case: Vec<String>,
    /// The touches by which the hazard comes, one sentence each, in order.
    pub chain: Vec<String>,
    /// Other places and what they have to do with it.
    pub related: Vec<(Span, String)>,
    /// The published source of the rule, or none.
    pub source: Option<String>,
    /// Set where an exception of the policy accepts it: the reason, and until when.
    pub accepted: Option<String>,
}
