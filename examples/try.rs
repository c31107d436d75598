use anteroom::syntax::{declarations, parse, tidy};
use anteroom::text::{Source, SourceId};
fn main() {
    let path = std::env::args().nth(1).unwrap();
    let text = std::fs::read_to_string(&path).unwrap();
    let start = std::time::Instant::now();
    let mut declared = declarations(include_str!("../tests/samples/shared-stores.ppe"));
    declared.extend(&declarations(&text));
    let t1 = start.elapsed();
    let (tree, problems) = parse(SourceId(0), &text, &declared);
    let t2 = start.elapsed();
    let tidied = tidy(&tree, &text, &declared);
    let t3 = start.elapsed();
    eprintln!("{} lines, {} problems, declarations {t1:?} parse {t2:?} tidy {t3:?}", tree.lines.len(), problems.len());
    let source = Source::new("x", text.clone());
    if std::env::args().nth(2).is_some() {
        print!("{tidied}");
        return;
    }
    for p in problems.iter().take(100) {
        let at = source.position(p.span.start);
        let end = source.position(p.span.end);
        let line = text.split('\n').nth(at.line as usize - 1).unwrap_or("");
        println!(
            "{:>3}:{} {line}\n      {}{}  {:?}",
            at.line,
            at.column,
            " ".repeat(at.column as usize - 1),
            "^".repeat((end.column.saturating_sub(at.column)).max(1) as usize),
            p.kind
        );
    }
}
