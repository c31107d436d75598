//! Every word of an aid, before it is set: can each character be printed?
//!
//! In: an aid. Out: the first character without a letter, and the words it stands in. Must never change a word.

use serde_json::Value;

use super::fault::Cause;
use super::fonts::covers;

/// Where each character of `value`'s texts has a letter, nothing.
pub(super) fn missing(value: &Value) -> Option<Cause> {
    match value {
        Value::String(words) => words
            .chars()
            .find(|&character| !can_be_set(character))
            .map(|character| Cause::NoLetter { character, words: words.clone() }),
        Value::Array(values) => values.iter().find_map(missing),
        Value::Object(fields) => fields.values().find_map(missing),
        _ => None,
    }
}

fn can_be_set(character: char) -> bool {
    character == '\n' || (!is_invisible(character) && !character.is_control() && covers(character))
}

/// Characters that show nothing or change the order of others; what stands in Unicode's category Cf, private use.
pub(super) fn is_invisible(character: char) -> bool {
    matches!(u32::from(character),
        0xAD | 0x61C | 0x180E | 0x200B..=0x200F | 0x2028..=0x202E | 0x2060..=0x206F | 0xFE00..=0xFE0F | 0xFEFF
        | 0xFFF9..=0xFFFB | 0xE000..=0xF8FF | 0xE0000..=0xE0FFF | 0xF0000..=0x10FFFF)
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::super::fault::Cause;
    use super::missing;

    #[test]
    fn the_first_character_without_a_letter_is_named_with_its_words() {
        let found = missing(&json!({"a": "plain", "b": ["Gown 長 sleeves", "x"]}));
        assert_eq!(found, Some(Cause::NoLetter { character: '長', words: "Gown 長 sleeves".into() }));
        for hidden in ['\u{202E}', '\u{200B}', '\u{0}', '\u{E000}', '\u{2066}'] {
            let found = missing(&json!([format!("a{hidden}b")]));
            assert!(matches!(found, Some(Cause::NoLetter { character, .. }) if character == hidden));
        }
        assert_eq!(missing(&json!(["two\nlines", 3, null, true, "Ĵorg Ŵyn łódź – “ok”"])), None);
    }
}
