//! Any bytes are read and checked by every rule, told in each of the three ways, and laid out as aids.
#![no_main]

use anteroom::findings::report::Report;
use anteroom::findings::{json, plain};
use anteroom::policy::Day;
use anteroom::{aids, session};
use libfuzzer_sys::{fuzz_mutator, fuzz_target};

mod shared;

fuzz_mutator!(|data: &mut [u8], size: usize, most: usize, seed: u32| { shared::mutate(data, size, most, seed) });

fuzz_target!(|data: &[u8]| {
    let text = String::from_utf8_lossy(data);
    let reading = session::read("ward.ppe", text.as_ref(), &shared::NoShelf);
    let checked = session::check(reading, Day::new(2026, 12, 1));
    assert!(
        !checked.walk.runs.iter().any(|run| run.is_doubtful()),
        "each thing noticed comes out the same when replayed"
    );
    for finding in &checked.findings {
        assert!(!plain::finding(finding, &checked.reading.sources).is_empty());
    }
    let _ = aids::plan(&checked);
    let checked = [("ward.ppe".to_string(), checked)];
    assert!(!json::report(&Report::new(&checked, &[])).is_empty());
});
