//! The known name that a written one most resembles.
//!
//! In: what was written and the names there are. Out: the nearest, and whether the likeness is close enough to go on with
//! it, so that one slip of the keyboard gives one message. Must never choose between two names that are equally near.

use crate::text::near::nearest;

/// Names longer than this are not compared.
const LONGEST: usize = 80;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Near<'a> {
    pub name: &'a str,
    /// A slip of the keyboard in a word of four letters or more, and no other name as near.
    pub sure: bool,
}

/// The name of which the written one is a slip; or else one that shares its beginning or its last word, as a guess.
pub fn near<'a>(written: &str, known: impl IntoIterator<Item = &'a str> + Clone) -> Option<Near<'a>> {
    if let Some(name) = nearest(written, known.clone()) {
        return Some(Near { name, sure: written.chars().count() >= 4 });
    }
    let length = written.chars().count();
    if !(3..=LONGEST).contains(&length) {
        return None;
    }
    known.into_iter().filter(|name| shares_an_end(written, name)).min().map(|name| Near { name, sure: false })
}

/// `gloves` where `outer gloves` is declared, `outer` where `outer gloves` is, or the other way about.
fn shares_an_end(written: &str, name: &str) -> bool {
    let ends = |long: &str, short: &str| {
        long.strip_suffix(short).is_some_and(|rest| rest.ends_with(' '))
            || (short.len() >= 4 && long.len() > short.len() && long.starts_with(short))
    };
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
        assert_eq!(near("outer", KIT), Some(Near { name: "outer gloves", sure: false }));
    }

    #[test]
    fn two_names_equally_near_are_none() {
        assert_eq!(near("gown c", ["gown a", "gown b"]), None);
    }

    #[test]
    fn another_word_altogether_has_no_neighbour() {
        assert_eq!(near("cloak", KIT), None);
    }
}
