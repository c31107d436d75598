//! The language: what is read, what is tidied, and what is told of a line that cannot be read.

use anteroom::syntax::problem::Problem;
use anteroom::syntax::tree::{Tree, What};
use anteroom::syntax::{declarations, parse, tidy};
use anteroom::text::SourceId;

const SAMPLES: [(&str, &str); 4] = [
    ("side-room", include_str!("../samples/side-room.ppe")),
    ("isolation-suite", include_str!("../samples/isolation-suite.ppe")),
    ("transfer-team", include_str!("../samples/transfer-team.ppe")),
    ("shared-stores", include_str!("../samples/shared-stores.ppe")),
];

fn read(text: &str) -> (Tree, Vec<Problem>) {
    let mut declared = declarations(include_str!("../samples/shared-stores.ppe"));
    declared.extend(&declarations(text));
    parse(SourceId(0), text, &declared)
}

#[test]
fn the_samples_are_read_whole() {
    for (name, text) in SAMPLES {
        let (tree, problems) = read(text);
        assert_eq!(problems, [], "{name}");
        let written = text.lines().filter(|line| !line.trim().is_empty()).count();
        assert_eq!(tree.lines.len(), written, "{name}");
        assert!(tree.lines.iter().all(|line| line.what != What::Hole), "{name}");
    }
}

#[test]
fn the_samples_are_tidy() {
    for (name, text) in SAMPLES {
        let mut declared = declarations(include_str!("../samples/shared-stores.ppe"));
        declared.extend(&declarations(text));
        let (tree, _) = parse(SourceId(0), text, &declared);
        let tidied = tidy(&tree, text, &declared);
        assert_eq!(tidied, text, "{name}");
    }
}
