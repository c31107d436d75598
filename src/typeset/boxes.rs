//! The trim and bleed boxes of a finished PDF (ISO 32000-1, 14.11.2), which the typesetter writes only in part.
//!
//! In: a PDF for a knife. Out: the same with the boxes on every page, or nothing where it cannot be read. Must never be
//! given what is read aloud or archived: the file is written anew, and nobody has asked whether its conformance lives on.

use lopdf::{Document, Object};

/// `trim`, `bleed`: left, bottom, right, top in points.
pub(super) fn with(pdf: &[u8], trim: [f64; 4], bleed: [f64; 4]) -> Option<Vec<u8>> {
    let mut document = Document::load_mem(pdf).ok()?;
    let pages = document.get_pages();
    for &page in pages.values() {
        let page = document.get_dictionary_mut(page).ok()?;
        page.set("TrimBox", array(trim));
        page.set("BleedBox", array(bleed));
    }
    let mut out = Vec::with_capacity(pdf.len());
    document.save_to(&mut out).ok()?;
    (!pages.is_empty()).then_some(out)
}

fn array(at: [f64; 4]) -> Object {
    // A thousandth of a point is far finer than any knife.
    let rounded = |number: f64| Object::Real(((number * 1000.0).round() / 1000.0) as f32);
    Object::Array(at.map(rounded).to_vec())
}
