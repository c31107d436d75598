//! Any bytes are read, resolved, exported and tidied; what is tidy stays so and means the same.
#![no_main]

use anteroom::policy::meaning::fingerprint;
use anteroom::session;
use anteroom::text::misleading::misleads;
use libfuzzer_sys::{fuzz_mutator, fuzz_target};

mod shared;

fuzz_mutator!(|data: &mut [u8], size: usize, most: usize, seed: u32| { shared::mutate(data, size, most, seed) });

fuzz_target!(|data: &[u8]| {
    let text = String::from_utf8_lossy(data);
    let reading = session::read("ward.ppe", text.as_ref(), &shared::NoShelf);
    let tidied = session::tidy(&reading);
    let again = session::read("ward.ppe", tidied.as_str(), &shared::NoShelf);
    assert_eq!(session::tidy(&again), tidied, "tidying twice changes nothing");
    let _ = session::exported(&reading.policy);
    // Letters that mislead are told, and tidying leaves them out of names.
    if !text.chars().any(|c| misleads(c).is_some()) {
        assert_eq!(fingerprint(&reading.policy), fingerprint(&again.policy), "tidying changes nothing that is meant");
    }
});
