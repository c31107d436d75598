//! Random edits of policies, as a hurried person makes them: lines taken out, doubled, moved, swapped, words and figures
//! changed. The same each time.

use crate::properties::{Written, random, written};

/// Small and even, after Marsaglia, “Xorshift RNGs”, Journal of Statistical Software 8(14), 2003.
struct Chance(u64);

impl Chance {
    fn below(&mut self, count: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 % count.max(1) as u64) as usize
    }
}

/// Policies, each with its text after one to four edits; names are left as they are.
pub fn random_edits(count: usize) -> Vec<(Written, String)> {
    let mut chance = Chance(0x9e37_79b9_7f4a_7c15);
    let named = |wanted: &str| written().into_iter().find(|each| each.name.ends_with(wanted)).expect("it is there");
    let mut all = Vec::new();
    let random = random(count as u64 / 2);
    for each in random {
        let text = edited(&each.text, &mut chance);
        all.push((each, text));
    }
    while all.len() < count {
        for name in
            ["isolation-suite.ppe", "transfer-team.ppe", "policies/side-rooms.ppe", "policies/assessment-suite.ppe"]
        {
            let each = named(name);
            let text = edited(&each.text, &mut chance);
            all.push((each, text));
        }
    }
    all
}

fn edited(text: &str, chance: &mut Chance) -> String {
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    for _ in 0..=chance.below(4) {
        let first = lines.iter().position(|line| line.starts_with("sequence")).unwrap_or(0);
        // One in three among what is declared.
        let from = if chance.below(3) == 0 { 1 } else { first };
        let at = from + chance.below(lines.len() - from);
        edit(&mut lines, at, chance);
    }
    lines.join("\n") + "\n"
}

fn edit(lines: &mut Vec<String>, at: usize, chance: &mut Chance) {
    let is_step = |line: &str| line.starts_with("  ") && !line.starts_with("   ");
    match chance.below(6) {
        0 if is_step(&lines[at]) || lines[at].starts_with("    ") => drop(lines.remove(at)),
        1 if is_step(&lines[at]) => {
            let line = lines[at].clone();
            let to = (at + chance.below(5)).min(lines.len());
            lines.insert(to, line);
        }
        2 if is_step(&lines[at]) => {
            let line = lines.remove(at);
            let steps: Vec<usize> = (0..lines.len()).filter(|&other| is_step(&lines[other])).collect();
            let to = steps.get(chance.below(steps.len())).copied().unwrap_or(at);
            lines.insert(to, line);
        }
        3 if at + 1 < lines.len() && is_step(&lines[at]) && is_step(&lines[at + 1]) => lines.swap(at, at + 1),
        4 => lines[at] = lines[at].replace("30 seconds", "20 seconds").replace("by ties", "by cuff"),
        _ => lines[at] = lines[at].replace("the ", "any ").replace("No ", "Some "),
    }
}
