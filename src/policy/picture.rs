//! A hospital's own drawing of an item: a small SVG of shapes, and nothing that moves, reads or reaches out.
//!
//! In: the text of a file. Out: whether it can be printed, or why not, as a clause for a sentence.

use serde::{Serialize, Serializer};

use crate::text::Span;

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// As written.
    pub file: String,
    /// The drawing; none where it could not be had.
    pub svg: Option<String>,
    pub span: Span,
}

impl Serialize for Picture {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.file)
    }
}

/// A drawing of a few strokes has some kilobytes.
const LARGEST: usize = 100_000;

/// More would not be seen at the size at which it is printed.
const MOST_SHAPES: u32 = 1000;

/// Shapes and what groups and names them.
const ALLOWED: [&str; 12] =
    ["svg", "g", "title", "desc", "defs", "path", "circle", "ellipse", "rect", "line", "polyline", "polygon"];

/// Why a drawing cannot be printed; none where it can.
pub fn fault(svg: &str) -> Option<String> {
    if svg.len() > LARGEST {
        return Some(format!("it has more than {} kB", LARGEST / 1000));
    }
    let options = roxmltree::ParsingOptions { nodes_limit: 4 * MOST_SHAPES, ..roxmltree::ParsingOptions::default() };
    let Ok(document) = roxmltree::Document::parse_with_options(svg, options) else {
        return Some("it is no SVG drawing, or has more than a thousand shapes".to_string());
    };
    let root = document.root_element();
    if root.tag_name().name() != "svg" || root.attribute("viewBox").is_none() {
        return Some("it is no SVG drawing with a viewBox".to_string());
    }
    let elements = document.descendants().filter(roxmltree::Node::is_element);
    for element in elements {
        let name = element.tag_name().name();
        if !ALLOWED.contains(&name) {
            return Some(format!("it has a “{name}”; only shapes can be printed"));
        }
        let reaches_out = |value: &str| value.contains("url(") || value.contains("http");
        let out = element
            .attributes()
            .find(|one| one.name() == "href" || one.name().starts_with("on") || reaches_out(one.value()));
        if let Some(attribute) = out {
            return Some(format!("its “{}” refers to something else", attribute.name()));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::fault;

    const OPEN: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 48 48\">";

    #[test]
    fn shapes_are_printed_and_nothing_else() {
        let drawing = |inside: &str| format!("{OPEN}{inside}</svg>");
        assert_eq!(fault(&drawing("<g fill=\"none\"><title>Boots</title><path d=\"M4 4h40v40z\"/></g>")), None);
        for (inside, told) in [
            ("<script>alert(1)</script>", "script"),
            ("<image href=\"/etc/passwd\"/>", "image"),
            ("<use href=\"#a\"/>", "use"),
            ("<foreignObject/>", "foreignObject"),
            ("<text>Boots</text>", "text"),
            ("<style>@import url(x.css)</style>", "style"),
            ("<rect fill=\"url(#a)\"/>", "fill"),
            ("<rect onload=\"x()\"/>", "onload"),
            ("<path d=\"M4 4\"", "no SVG"),
        ] {
            let why = fault(&drawing(inside));
            assert!(why.as_ref().is_some_and(|why| why.contains(told)), "{inside}: {why:?}");
        }
        assert!(fault("<!DOCTYPE svg [<!ENTITY a \"aaaa\">]><svg viewBox=\"0 0 1 1\">&a;</svg>").is_some());
        assert!(fault(&drawing(&"<g>".repeat(5000))).is_some());
        assert!(fault(&drawing(&"<g/>".repeat(5000))).is_some());
        assert!(fault(&" ".repeat(200_000)).is_some());
        assert!(fault("<html/>").is_some());
    }
}
