//! Changes that a hand or a broken program makes to a text: lines cut, doubled, swapped, joined with another text's; words
//! moved; bytes flipped. The same seed changes the same text in the same way.
//!
//! Shared by the fuzz targets and by the bounded run among the tests.

/// SplitMix64: Steele, Lea and Flood, OOPSLA 2014; constants from memory.
pub struct Dice(pub u64);

impl Dice {
    fn throw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    pub fn below(&mut self, end: usize) -> usize {
        (self.throw() % end.max(1) as u64) as usize
    }
}

/// What a keyboard, a word processor or a broken file leaves in a line.
const ODD: [&str; 16] = [
    "\"", "“", "”", ",", "\t", "\r", "\u{a0}", "\u{feff}", "\u{202e}", "\u{200b}", "о", "• ", "1. ", "–", "\u{1e}",
    "\u{0}",
];

/// One change to a text, with another text at hand.
pub fn changed(text: &str, other: &str, dice: &mut Dice) -> String {
    let mut lines: Vec<&str> = text.split('\n').collect();
    let others: Vec<&str> = other.split('\n').collect();
    let at = dice.below(lines.len());
    match dice.below(12) {
        0 => drop(lines.remove(at)),
        1 => lines.insert(at, lines[at]),
        2 => {
            let with = dice.below(lines.len());
            lines.swap(at, with);
        }
        3 => lines.insert(at, others[dice.below(others.len())]),
        4 => {
            let (from, count) = (dice.below(others.len()), 1 + dice.below(20));
            let some = others.iter().skip(from).take(count).copied();
            lines.splice(at..at, some);
        }
        5 => lines.truncate(at),
        6 => {
            let count = 1 + dice.below(8);
            lines.drain(at..(at + count).min(lines.len()));
        }
        7 => {
            let again: Vec<&str> = lines.iter().skip(at).take(1 + dice.below(30)).copied().collect();
            lines.splice(at..at, again);
        }
        kind => {
            let line = changed_line(lines[at], others[dice.below(others.len())], kind, dice);
            let before = lines[..at].iter().map(|line| format!("{line}\n")).collect::<String>();
            let after = lines[at + 1..].iter().map(|line| format!("\n{line}")).collect::<String>();
            return before + &line + &after;
        }
    }
    lines.join("\n")
}

fn changed_line(line: &str, other: &str, kind: usize, dice: &mut Dice) -> String {
    let mut words: Vec<&str> = line.split(' ').collect();
    let theirs: Vec<&str> = other.split(' ').collect();
    let at = dice.below(words.len());
    match kind {
        8 => words[at] = theirs[dice.below(theirs.len())],
        9 => drop(words.remove(at)),
        10 => {
            let letter = line.char_indices().map(|(at, _)| at).nth(dice.below(line.chars().count()));
            let (before, after) = line.split_at(letter.unwrap_or(0));
            return format!("{before}{}{after}", ODD[dice.below(ODD.len())]);
        }
        _ => {
            let mut bytes = line.as_bytes().to_vec();
            if !bytes.is_empty() {
                let byte = dice.below(bytes.len());
                bytes[byte] ^= 1 << dice.below(8);
            }
            return String::from_utf8_lossy(&bytes).into_owned();
        }
    }
    words.join(" ")
}

/// Several changes, one after the other.
pub fn changed_often(text: &str, other: &str, times: usize, dice: &mut Dice) -> String {
    let mut text = text.to_string();
    for _ in 0..times {
        text = changed(&text, other, dice);
    }
    text
}
