//! What came of each mistake, counted by policy and kind.

use std::collections::BTreeMap;
use std::fmt;

use serde_json::Value;

use super::changes::{Kind, Mistake};

/// What came of one mistake.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    Found,
    /// Same distances, layers, bare areas, places, looks and hygiene debts.
    Same,
    /// The same but for farther distances.
    Farther,
    /// The same, but something is no longer looked at, confirmed or called out, or by somebody else.
    Looks,
    /// The same, but something happens in another place that is not contaminated.
    Elsewhere,
    /// Nearer, yet no nearer than the level asks for, and no hands are left uncleaned.
    WithinMargins,
    /// The same or within the margins, and hands are not cleaned between two things that come off the head: D1, D3, D9 and
    /// D10 do not clean them there.
    BetweenHeadItems,
    /// In a drill: nothing that the player notes after its event, and does not note of the good one, comes of it.
    InDrill,
    /// Not found, though it does harm or its harmlessness does not follow from anything above.
    Missed,
}

impl Outcome {
    const HARMLESS: [(Outcome, &str); 7] = [
        (Outcome::Same, "same"),
        (Outcome::Farther, "farther"),
        (Outcome::Looks, "looks"),
        (Outcome::Elsewhere, "elsewhere"),
        (Outcome::WithinMargins, "in margins"),
        (Outcome::BetweenHeadItems, "head items"),
        (Outcome::InDrill, "drill"),
    ];

    pub fn of(is_found: bool, in_drill: bool, verdict: &Value) -> Outcome {
        let count = |key: &str| verdict[key].as_array().map_or(0, Vec::len);
        let differs = |what: &str| verdict["differs"].as_array().is_some_and(|all| all.iter().any(|each| each == what));
        let debts = verdict["debts"].as_array().map(Vec::as_slice).unwrap_or_default();
        let between_head_items = |debt: &Value| debt[1] == "head" && debt[2] == "face";
        // How near hands come to what is put on is a margin's matter.
        let before_kit = |debt: &Value| debt[1] != "nothing" && debt[2] == "kit";
        if is_found {
            Outcome::Found
        } else if count("harm") + count("noted") > 0
            || differs("ends")
            || !debts.iter().all(|debt| between_head_items(debt) || before_kit(debt))
        {
            Outcome::Missed
        } else if in_drill {
            Outcome::InDrill
        } else if debts.iter().any(between_head_items) {
            Outcome::BetweenHeadItems
        } else if verdict["nearer"] != 0 || !debts.is_empty() {
            Outcome::WithinMargins
        } else if differs("places") {
            Outcome::Elsewhere
        } else if differs("looks") {
            Outcome::Looks
        } else if verdict["farther"] != 0 || differs("layers") {
            Outcome::Farther
        } else {
            Outcome::Same
        }
    }
}

#[derive(Default)]
pub struct Table {
    /// By policy, kind and outcome.
    counts: BTreeMap<(String, Kind, Outcome), usize>,
    /// Of those that the player calls harmful: all, and the found ones.
    harmful: (usize, usize),
    pub missed: Vec<String>,
}

impl Table {
    pub fn enter(&mut self, file: &str, mistake: &Mistake, outcome: Outcome, verdict: &Value) {
        let name = file.rsplit('/').next().unwrap_or(file).trim_end_matches(".ppe").to_string();
        *self.counts.entry((name, mistake.kind, outcome)).or_default() += 1;
        if verdict["harm"].as_array().is_some_and(|harm| !harm.is_empty()) {
            self.harmful.0 += 1;
            self.harmful.1 += usize::from(outcome == Outcome::Found);
        }
        if outcome == Outcome::Missed {
            self.missed.push(format!("{file}: {}: {verdict}", mistake.told));
        } else if outcome != Outcome::Found && std::env::var("ANTEROOM_MISTAKES_TOLD").is_ok() {
            println!("{outcome:?}\t{file}\t{}", mistake.told);
        }
    }

    pub fn found_by_kind(&self) -> BTreeMap<Kind, usize> {
        let mut found = BTreeMap::new();
        for ((_, kind, outcome), count) in &self.counts {
            *found.entry(*kind).or_default() += if *outcome == Outcome::Found { *count } else { 0 };
        }
        found
    }

    fn row(&self, f: &mut fmt::Formatter, name: &str, is_of: impl Fn(&str, Kind) -> bool) -> fmt::Result {
        let count = |wanted: &dyn Fn(Outcome) -> bool| -> usize {
            let of = |key: &(String, Kind, Outcome)| is_of(&key.0, key.1) && wanted(key.2);
            self.counts.iter().filter(|(key, _)| of(key)).map(|(_, count)| count).sum()
        };
        let made = count(&|_| true);
        if made == 0 {
            return Ok(());
        }
        write!(f, "{name:38}{made:7}{:7}", count(&|outcome| outcome == Outcome::Found))?;
        for (harmless, words) in Outcome::HARMLESS {
            write!(f, "{:width$}", count(&|outcome| outcome == harmless), width = words.len() + 2)?;
        }
        writeln!(f, "{:8}", count(&|outcome| outcome == Outcome::Missed))
    }
}

impl fmt::Display for Table {
    fn fmt(&self, f: &mut fmt::Formatter) -> fmt::Result {
        write!(f, "{:38}{:>7}{:>7}", "mistakes", "made", "found")?;
        for (_, words) in Outcome::HARMLESS {
            write!(f, "  {words}")?;
        }
        writeln!(f, "{:>8}", "missed")?;
        let mut policies: Vec<&String> = self.counts.keys().map(|(policy, ..)| policy).collect();
        policies.dedup();
        for policy in policies {
            for kind in Kind::ALL {
                self.row(f, &format!("{policy}, {}", kind.words()), |of, each| of == policy && each == kind)?;
            }
        }
        for kind in Kind::ALL {
            self.row(f, &format!("all, {}", kind.words()), |_, each| each == kind)?;
        }
        self.row(f, "all", |_, _| true)?;
        write!(f, "harmful by the player's judgement: {}, of which found: {}", self.harmful.0, self.harmful.1)
    }
}
