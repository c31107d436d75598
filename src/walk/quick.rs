//! A quick hash for states and surfaces: small numbers of the program's own making, never a text.
//!
//! In: numbers. Out: a hash that is the same in every run. Must never decide alone that two things are the same.

use std::hash::{BuildHasherDefault, Hasher};

pub type QuickMap<K, V> = std::collections::HashMap<K, V, BuildHasherDefault<Quick>>;

#[derive(Clone, Copy, Debug, Default)]
pub struct Quick(u64);

/// Odd, with its bits well mixed: the golden ratio in 64 bits.
const SPREAD: u64 = 0x9e37_79b9_7f4a_7c15;

impl Hasher for Quick {
    fn write(&mut self, bytes: &[u8]) {
        for chunk in bytes.chunks(8) {
            let mut word = [0; 8];
            word[..chunk.len()].copy_from_slice(chunk);
            self.write_u64(u64::from_le_bytes(word));
        }
    }

    fn write_u8(&mut self, number: u8) {
        self.write_u64(number.into());
    }

    fn write_u16(&mut self, number: u16) {
        self.write_u64(number.into());
    }

    fn write_u32(&mut self, number: u32) {
        self.write_u64(number.into());
    }

    fn write_u64(&mut self, number: u64) {
        self.0 = (self.0.rotate_left(5) ^ number).wrapping_mul(SPREAD);
    }

    fn write_usize(&mut self, number: usize) {
        self.write_u64(number as u64);
    }

    /// The low bits of a product know only the low bits of its factors.
    fn finish(&self) -> u64 {
        self.0 ^ self.0 >> 32
    }
}
