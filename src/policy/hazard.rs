//! What people are protected from, and the routes by which it comes.

use serde::Serialize;

use crate::text::Span;

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Route {
    Contact,
    Splash,
    Droplet,
    Airborne,
    Sharps,
}

impl Route {
    pub const ALL: [Route; 5] = [Route::Contact, Route::Splash, Route::Droplet, Route::Airborne, Route::Sharps];

    pub fn word(self) -> &'static str {
        match self {
            Route::Contact => "contact",
            Route::Splash => "splash",
            Route::Droplet => "droplet",
            Route::Airborne => "airborne",
            Route::Sharps => "sharps",
        }
    }

    pub fn from_word(word: &str) -> Option<Route> {
        Route::ALL.into_iter().find(|route| route.word() == word)
    }
}

/// Routes in the order of [`Route::ALL`], none twice.
pub type Routes = Vec<Route>;

#[derive(Clone, Debug, Serialize)]
pub struct Hazard {
    pub name: String,
    pub spreads_by: Routes,
    #[serde(skip)]
    pub span: Span,
}
