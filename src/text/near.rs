//! The word or name that was probably meant.
//!
//! In: what was written and what there is. Out: the nearest of them, if it is near enough and no other is as near.
//! Must never offer a guess that a reader would find silly.

use strsim::osa_distance;

/// Names longer than this are not compared: nobody mistypes them, and comparing costs the product of the lengths.
const LONGEST: usize = 80;

/// How many letters may differ (changed, left out, added or swapped with a neighbour) in a word of so many letters.
fn tolerated(letters: usize) -> usize {
    match letters {
        0..=2 => 0,
        3..=5 => 1,
        6..=11 => 2,
        _ => 3,
    }
}

/// The nearest of `candidates` to `written`, both in lower case. None where none is near, or where two are as near.
pub fn nearest<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let letters = written.chars().count();
    if letters > LONGEST {
        return None;
    }
    let mut best: Option<(usize, &str)> = None;
    let mut tied = false;
    for candidate in candidates {
        let other = candidate.chars().count();
        let allowed = tolerated(letters.min(other));
        if other > LONGEST || letters.abs_diff(other) > allowed {
            continue;
        }
        let distance = osa_distance(written, candidate);
        if distance > allowed {
            continue;
        }
        match best {
            Some((least, known)) if distance == least && known != candidate => tied = true,
            Some((least, _)) if distance >= least => {}
            _ => {
                best = Some((distance, candidate));
                tied = false;
            }
        }
    }
    best.filter(|_| !tied).map(|(_, candidate)| candidate)
}

/// As [`nearest`], where only few words can stand and a bolder guess is right: `buy` for `by`, `too` for `to`.
pub fn nearest_of_few<'a>(written: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let candidates: Vec<&str> = candidates.into_iter().collect();
    nearest(written, candidates.iter().copied()).or_else(|| {
        let alike = |candidate: &&str| {
            candidate.len() <= 3
                && written.len() <= 3
                && written.chars().next() == candidate.chars().next()
                && osa_distance(written, candidate) == 1
        };
        let mut near = candidates.iter().copied().filter(alike);
        near.next().filter(|_| near.next().is_none())
    })
}

#[cfg(test)]
mod tests {
    use super::{nearest, nearest_of_few};

    #[test]
    fn finds_what_was_meant() {
        let names = ["outer gloves", "inner gloves", "gown", "goggles", "apron"];
        assert_eq!(nearest("outer glvoes", names), Some("outer gloves"));
        assert_eq!(nearest("gogles", names), Some("goggles"));
        assert_eq!(nearest("appron", names), Some("apron"));
    }

    #[test]
    fn guesses_boldly_among_few_unless_two_are_as_likely() {
        assert_eq!(nearest_of_few("buy", ["by", "into", "onto"]), Some("by"));
        assert_eq!(nearest_of_few("of", ["off"]), Some("off"));
        assert_eq!(nearest_of_few("of", ["on", "off"]), None);
        assert_eq!(nearest_of_few("my", ["by"]), None);
    }

    #[test]
    fn keeps_silent_rather_than_guess() {
        let names = ["outer gloves", "inner gloves", "gown", "cap"];
        assert_eq!(nearest("hood", names), None);
        assert_eq!(nearest("mask", names), None);
        assert_eq!(nearest("it", ["in", "is"]), None);
        assert_eq!(nearest("gowm", ["gown", "gowl"]), None, "two are as near");
        assert_eq!(nearest(&"g".repeat(5000), names), None);
    }
}
