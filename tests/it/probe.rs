use anteroom::policy::Day;
#[test]
fn probe() {
    let filter = std::env::var("PROBE").unwrap_or_default();
    for folder in ["policies", "policies/faulty", "tests/published", "tests/samples"] {
        let mut files: Vec<_> = std::fs::read_dir(folder).unwrap().flatten().map(|f| f.path()).filter(|f| f.extension().is_some_and(|e| e == "ppe")).collect();
        files.sort();
        for file in files {
            let file = file.to_str().unwrap().to_string();
            if !file.contains(&filter) { continue; }
            let checked = crate::policies::checked(&file, Day::new(2026, 12, 2).unwrap());
            println!("## {file}");
            for p in &checked.reading.problems { println!("   PROBLEM {:?} «{}»", p.kind, checked.reading.sources.text(p.span)); }
            for f in &checked.findings {
                let src = checked.reading.sources.get(f.span.source);
                println!("   {:?} {} {}:{} «{}» {} | {} | chain {:?} case {:?}", f.signal, f.name, src.name, checked.reading.sources.start(f.span).line, f.sentence, f.title, f.message, f.chain, f.case); }
        }
    }
}
