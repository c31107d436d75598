//! JSON in one form only, so that two people who hold the same facts hold the same bytes.
//!
//! In: a JSON value of whole numbers. Out: RFC 8785 text; laid out, the same with line breaks between its entries and nowhere
//! else. Must never give two texts of one value.

use serde_json::Value;

/// RFC 8785.
pub fn canonical(value: &Value) -> String {
    let mut text = String::new();
    put(value, &mut text, 0);
    text
}

/// RFC 8785, with each entry of the object and of the lists in it on a line of its own.
pub fn laid_out(value: &Value) -> String {
    let mut text = String::new();
    put(value, &mut text, 2);
    text + "\n"
}

/// `lines`: so many layers have each of their entries on a line of its own.
fn put(value: &Value, text: &mut String, lines: usize) {
    let inner = lines.saturating_sub(1);
    match value {
        Value::Object(members) => {
            let mut members: Vec<_> = members.iter().collect();
            members.sort_by(|(a, _), (b, _)| a.encode_utf16().cmp(b.encode_utf16()));
            between(text, ('{', '}'), lines, members, |text, (key, value)| {
                text.push_str(&Value::from(key.as_str()).to_string());
                text.push(':');
                put(value, text, inner);
            });
        }
        Value::Array(values) => between(text, ('[', ']'), lines, values, |text, value| put(value, text, inner)),
        plain => text.push_str(&plain.to_string()),
    }
}

fn between<T>(
    text: &mut String,
    (open, close): (char, char),
    lines: usize,
    entries: impl IntoIterator<Item = T>,
    each: impl Fn(&mut String, T),
) {
    let end_line = |text: &mut String| {
        if lines > 0 {
            text.push('\n');
        }
    };
    text.push(open);
    let mut is_first = true;
    for entry in entries {
        if !is_first {
            text.push(',');
        }
        is_first = false;
        end_line(text);
        each(text, entry);
    }
    if !is_first {
        end_line(text);
    }
    text.push(close);
}
