//! What the targets have in common: a shelf without files, and changes by whole lines and words besides libFuzzer's own.

use anteroom::session::Shelf;

#[path = "../text_changes.rs"]
mod text_changes;

use text_changes::{Dice, changed_often};

pub struct NoShelf;

impl Shelf for NoShelf {
    fn fetch(&self, _: &str, _: &str) -> Result<(String, String), String> {
        Err("there is no such file".into())
    }
}

/// Half of the changes are libFuzzer's own, the others ours.
pub fn mutate(data: &mut [u8], size: usize, most: usize, seed: u32) -> usize {
    let mut dice = Dice(u64::from(seed));
    if dice.below(2) == 0 {
        return libfuzzer_sys::fuzzer_mutate(data, size, most);
    }
    let text = String::from_utf8_lossy(&data[..size]).into_owned();
    let times = 1 + dice.below(4);
    let changed = changed_often(&text, &text, times, &mut dice);
    let kept = changed.len().min(most);
    data[..kept].copy_from_slice(&changed.as_bytes()[..kept]);
    kept
}
