//! Sentence patterns: text with `{slots}`, and `[parts]` that fall away where a slot in them has nothing to say.
//!
//! In: a pattern and what goes into its slots. Out: a sentence. Must never read what was put into a slot as a pattern.

/// Fills each `{slot}`; a `[part]` is left out whole where one of its slots is empty. A slot that begins with a capital
/// takes its words with a capital: `{Printed}` is `{printed}` at the beginning of a sentence. `{item:acc}` asks for a form
/// of its word (see [`form`]); where nothing stands for that form, it is `{item}`. `{’item}` follows the word before it: after
/// a space, or, as in Welsh, with an article that a vowel before it shortens: `gwirio’r ffedog` for `y ffedog`.
pub fn fill(pattern: &str, slots: &[(&str, &str)]) -> String {
    let mut out = String::new();
    let mut rest = pattern;
    while let Some(at) = rest.find(['{', '[']) {
        out.push_str(&rest[..at]);
        let (open, close) = if rest[at..].starts_with('{') { ('{', '}') } else { ('[', ']') };
        let after = &rest[at + open.len_utf8()..];
        let Some(end) = after.find(close) else {
            out.push_str(&rest[at..]);
            return out;
        };
        let inside = &after[..end];
        if let Some(name) = inside.strip_prefix('’').filter(|_| open == '{') {
            let words = value(name, slots);
            let follows = if words.is_empty() { words } else { following(&out, &words) };
            out.push_str(&follows);
        } else if open == '{' {
            out.push_str(&value(inside, slots));
        } else if names(inside).all(|name| !value(name, slots).is_empty()) {
            out.push_str(&fill(inside, slots));
        }
        rest = &after[end + close.len_utf8()..];
    }
    out.push_str(rest);
    out
}

/// What follows a word: `’r ffedog` after a vowel for `y ffedog`, else the same after a space.
fn following(before: &str, words: &str) -> String {
    let article = ["yr ", "y "].into_iter().find_map(|article| words.strip_prefix(article));
    let ends_in_vowel = before.to_lowercase().ends_with(|letter| "aeiouwyâêîôûŵŷ".contains(letter));
    match article {
        Some(noun) if ends_in_vowel => format!("’r {noun}"),
        _ => format!(" {words}"),
    }
}

/// The names of the slots in a pattern, with the forms that they ask for.
pub fn names(pattern: &str) -> impl Iterator<Item = &str> {
    let inside = pattern.split('{').skip(1).filter_map(|rest| rest.split('}').next());
    inside.map(|name| name.strip_prefix('’').unwrap_or(name))
}

/// The form that a pattern asks for in a slot: `acc` for `{item:acc}`; empty where it asks for none.
pub fn form<'p>(pattern: &'p str, slot: &str) -> &'p str {
    let asked = names(pattern).filter_map(|name| name.split_once(':'));
    asked.filter(|(name, _)| name.to_lowercase() == slot).map(|(_, form)| form).next().unwrap_or_default()
}

/// With its first letter a capital.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// With its first letter small, unless the first word is of capitals throughout: `FFP3 respirator` stays.
pub fn small(text: &str) -> String {
    let first_word = text.split_whitespace().next().unwrap_or_default();
    let shouts = first_word.chars().filter(|c| c.is_uppercase()).count() > 1;
    let mut letters = text.chars();
    match letters.next() {
        Some(first) if !shouts => first.to_lowercase().chain(letters).collect(),
        _ => text.to_string(),
    }
}

fn value(name: &str, slots: &[(&str, &str)]) -> String {
    let lower = name.to_lowercase();
    let find = |wanted: &str| slots.iter().find(|(slot, _)| *slot == wanted).map(|&(_, words)| words);
    let plain = lower.split(':').next().unwrap_or_default();
    let found = find(&lower).or_else(|| find(plain)).unwrap_or_default();
    if name.starts_with(char::is_uppercase) { capital(found) } else { found.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_falls_away_with_its_slot() {
        let pattern = "take off {item}[ by {its} {grip}][, together with {others}]";
        assert_eq!(
            fill(pattern, &[("item", "the gown"), ("its", "its"), ("grip", "ties")]),
            "take off the gown by its ties"
        );
        assert_eq!(fill(pattern, &[("item", "the gown"), ("its", "its")]), "take off the gown");
        assert_eq!(
            fill(pattern, &[("item", "the gown"), ("others", "the gloves")]),
            "take off the gown, together with the gloves"
        );
    }

    #[test]
    fn what_goes_into_a_slot_is_never_a_pattern() {
        assert_eq!(fill("{a} and {b}", &[("a", "{b}[x]"), ("b", "[{a}]")]), "{b}[x] and [{a}]");
    }

    #[test]
    fn capitals_come_where_they_are_asked_for() {
        assert_eq!(fill("{Printed}.", &[("printed", "élan gloves")]), "Élan gloves.");
        assert_eq!(small("Take off"), "take off");
        assert_eq!(small("FFP3 respirator"), "FFP3 respirator");
    }

    #[test]
    fn a_slot_may_ask_for_a_form_of_its_word() {
        assert_eq!(form("zdjąć {item:acc}[ z {Place:gen}]", "item"), "acc");
        assert_eq!(form("zdjąć {item:acc}[ z {Place:gen}]", "place"), "gen");
        assert_eq!(form("take off {item}", "item"), "");
        assert_eq!(fill("{Item:acc}, {item}", &[("item", "a"), ("item:acc", "b")]), "B, a");
        assert_eq!(fill("{item:acc}", &[("item", "a")]), "a");
    }

    /// Welsh grammar: the article `y`, `yr` is `’r` after a vowel. From memory.
    #[test]
    fn an_article_joins_the_vowel_before_it() {
        let check = |item: &str| fill("gwirio{’item:def}", &[("item", item)]);
        assert_eq!(check("y ffedog"), "gwirio’r ffedog");
        assert_eq!(check("yr anadlydd"), "gwirio’r anadlydd");
        assert_eq!(check("eich ffedog"), "gwirio eich ffedog");
        assert_eq!(fill("agor{’item}", &[("item", "y ffedog")]), "agor y ffedog");
        assert_eq!(fill("I{’dest}.", &[("dest", "y bag")]), "I’r bag.");
        assert_eq!((form("gwirio{’item:def}", "item"), fill("a{’b}", &[])), ("def", "a".into()));
    }

    #[test]
    fn an_unclosed_part_is_printed_as_it_stands() {
        assert_eq!(fill("a [b", &[]), "a [b");
    }
}
