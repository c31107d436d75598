//! An aid as a picture for a screen: all faces under one another, in one SVG.
//!
//! In: an aid and its faces, set. Out: the SVG, which tells what it is to those who cannot see it.

use typst::layout::Abs;
use typst_layout::PagedDocument;
use typst_svg::SvgOptions;

use super::pieces::{self, Piece};
use crate::aids::plan::{Aid, Body};

/// Between the faces, in points.
const GAP: f64 = 12.0;

pub(super) fn of(aid: &Aid, document: &PagedDocument) -> String {
    let drawn = typst_svg::svg_merged(document, &SvgOptions::default(), Abs::pt(GAP));
    let title = format!("{}, {}, {}", aid.kind, aid.title, aid.control.level);
    let told =
        format!("<title>{}</title><desc>{}</desc>", escaped(title.trim_end_matches(", ")), escaped(&description(aid)));
    match drawn.find('>') {
        Some(at) => format!("{}{told}{}", &drawn[..=at], &drawn[at + 1..]),
        None => drawn,
    }
}

/// Its letters are outlines: what they say, for whoever has the picture read aloud.
fn description(aid: &Aid) -> String {
    let control = &aid.control;
    let marking = aid
        .marking
        .iter()
        .flat_map(|marking| std::iter::once(&marking.word).chain(&marking.reasons).chain(&marking.original));
    let marking = marking.cloned();
    let about = [&control.policy, &control.edition, &control.fingerprint, &control.caution].map(String::clone);
    let words = match &aid.body {
        Body::Chart(chart) => {
            let signals = chart.signals.iter().map(|signal| &signal.text);
            std::iter::once(&chart.intro).chain(signals).chain(&chart.notes).cloned().collect()
        }
        _ => of_pieces(aid),
    };
    let all: Vec<String> = marking.chain(words).chain(about).filter(|words| !words.is_empty()).collect();
    all.join(" ")
}

/// Each piece in its order, steps by their numbers.
fn of_pieces(aid: &Aid) -> Vec<String> {
    let parts = pieces::body(aid);
    let has_words = parts.iter().filter(|part| part.piece != Piece::Notes && part.piece != Piece::Sums);
    let told = has_words.map(|part| (part.number, pieces::words(aid, &part.piece)));
    told.map(|(number, words)| number.map_or(words.clone(), |number| format!("{number}. {words}."))).collect()
}

fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}
