//! The known name that a mistyped one most resembles.
//!
//! In: what was written and the names there are. Out: the nearest, and whether the likeness is close enough to go on with
//! it, so that one slip of the keyboard gives one message. Must never choose between two names that are equally near.

/// The longest name worth comparing; longer ones are no slips of the keyboard.
const LONGEST: usize = 80;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Near<'a> {
    pub name: &'a str,
    /// A slip of one or two letters, and no other name as near.
    pub sure: bool,
}

/// The nearest of the names; at equal distance the first in the alphabet, and then it is not sure.
pub fn near<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<Near<'a>> {
    let length = written.chars().count();
    if length > LONGEST {
        return None;
    }
    let allowed = (length / 3).clamp(1, 4);
    let mut best: Option<(usize, &str)> = None;
    let mut tied = false;
    let mut longer: Option<&str> = None;
    for name in known {
        let size = name.chars().count();
        if size <= LONGEST && length.abs_diff(size) <= allowed {
            let distance = strsim::damerau_levenshtein(written, name);
            match best {
                Some((nearest, _)) if distance > nearest => {}
                Some((nearest, first)) if distance == nearest => {
                    tied = tied || first != name;
                    best = Some((nearest, first.min(name)));
                }
                _ => (best, tied) = (Some((distance, name)), false),
            }
        }
        if shares_last_word(written, name) {
            longer = Some(longer.map_or(name, |other| other.min(name)));
        }
    }
    match best {
        Some((distance, name)) if distance <= allowed => {
            let slip = distance <= 2 && length >= 4 && distance * 3 <= length;
            Some(Near { name, sure: slip && !tied })
        }
        _ => longer.map(|name| Near { name, sure: false }),
    }
}

/// `gloves` where `outer gloves` is declared, or the other way about.
fn shares_last_word(written: &str, name: &str) -> bool {
    let ends = |long: &str, short: &str| long.strip_suffix(short).is_some_and(|rest| rest.ends_with(' '));
    ends(name, written) || ends(written, name)
}

#[cfg(test)]
mod tests {
    use super::{Near, near};

    const KIT: [&str; 4] = ["apron", "inner gloves", "outer gloves", "respirator"];

    #[test]
    fn a_slip_of_the_keyboard_is_sure() {
        assert_eq!(near("aporn", KIT), Some(Near { name: "apron", sure: true }));
        assert_eq!(near("resperator", KIT), Some(Near { name: "respirator", sure: true }));
    }

    #[test]
    fn half_a_name_is_a_guess_only() {
        assert_eq!(near("gloves", KIT), Some(Near { name: "inner gloves", sure: false }));
    }

    #[test]
    fn two_names_equally_near_are_no_certainty() {
        assert_eq!(near("gown c", ["gown a", "gown b"]), Some(Near { name: "gown a", sure: false }));
    }

    #[test]
    fn another_word_altogether_has_no_neighbour() {
        assert_eq!(near("cloak", KIT), None);
    }
}
