//! A template without what only its readers need: the typesetter carries every space and comment of a function wherever it
//! carries the function.
//!
//! In: code of the typesetter's language, without block comments or mathematics. Out: the same code, shorter. Must never change
//! what it means.

/// The same without comments, and with the spaces that part words.
pub(super) fn spare(code: &str) -> String {
    let mut spared = String::with_capacity(code.len());
    // The brackets that are open, without those that stand in what is copied whole.
    let mut open = Vec::new();
    let mut rest = code;
    while !rest.is_empty() {
        let (plain, from) = rest.split_at(rest.bytes().position(is_special).unwrap_or(rest.len()));
        spared.push_str(plain);
        let Some(first) = from.bytes().next() else { break };
        let blank = blank(from);
        let (kept, after) = match first {
            b'"' => from.split_at(string(from)),
            b'[' => from.split_at(content(from)),
            _ if blank > 0 => {
                let (run, after) = from.split_at(blank);
                let lines = open.last() != Some(&b'(') && run.contains('\n');
                (between(spared.bytes().last(), after.bytes().next(), lines), after)
            }
            _ => {
                match first {
                    b'{' | b'(' => open.push(first),
                    b'}' | b')' => _ = open.pop(),
                    _ => {}
                }
                from.split_at(1)
            }
        };
        spared.push_str(kept);
        rest = after;
    }
    spared
}

fn is_special(byte: u8) -> bool {
    matches!(byte, b' ' | b'\n' | b'/' | b'"' | b'[' | b'{' | b'}' | b'(' | b')')
}

/// What must stand between the letters where there are spaces. `lines`: where a line's end ends a statement.
fn between(before: Option<u8>, after: Option<u8>, lines: bool) -> &'static str {
    let (Some(before), Some(after)) = (before, after) else { return "" };
    if lines {
        return if before == b'{' || after == b'}' { "" } else { "\n" };
    }
    // Not beside a hyphen, which can belong to a name; beside a slash, of which two begin a comment; or behind `<`, which can
    // begin a label. Not before a bracket, which behind a name would be a call.
    if b"([{,;:=>+*".contains(&before) || b")]},;:=>+*{".contains(&after) { "" } else { " " }
}

/// The length of the spaces and comments that it begins with.
fn blank(code: &str) -> usize {
    let bytes = code.as_bytes();
    let mut at = 0;
    loop {
        match bytes.get(at..) {
            Some([b' ' | b'\n', ..]) => at += 1,
            Some([b'/', b'/', ..]) => at += code[at..].find('\n').unwrap_or(code.len() - at),
            _ => return at,
        }
    }
}

/// The length of the string that it begins with.
fn string(code: &str) -> usize {
    let mut escaped = true;
    let end = code.bytes().position(|byte| {
        let ends = byte == b'"' && !escaped;
        escaped = byte == b'\\' && !escaped;
        ends
    });
    end.map_or(code.len(), |end| end + 1)
}

/// The length of the content, in its brackets, that it begins with.
fn content(code: &str) -> usize {
    let mut open = 0_usize;
    let end = code.bytes().position(|byte| {
        match byte {
            b'[' => open += 1,
            b']' => open -= 1,
            _ => {}
        }
        open == 0
    });
    end.map_or(code.len(), |end| end + 1)
}

#[cfg(test)]
mod tests {
    use typst::syntax::{SyntaxKind, SyntaxNode, parse};

    use super::super::world::TEMPLATES;
    use super::spare;

    /// The nodes of the tree without those that mean nothing.
    fn nodes<'a>(node: &'a SyntaxNode, into: &mut Vec<(SyntaxKind, &'a str)>) {
        use SyntaxKind::{LineComment, Parbreak, Space};
        if !matches!(node.kind(), LineComment | Parbreak | Space) {
            into.push((node.kind(), node.leaf_text()));
            node.children().for_each(|child| nodes(child, into));
        }
    }

    /// Source: the typesetter's own reader.
    #[test]
    fn templates_mean_the_same() {
        let (mut letters, mut left) = (0, 0);
        for (path, text) in TEMPLATES {
            let spared = spare(text);
            let trees = [parse(text), parse(&spared)];
            let [(mut whole, mut short)] = [(Vec::new(), Vec::new())];
            nodes(&trees[0], &mut whole);
            nodes(&trees[1], &mut short);
            let differs = whole.iter().zip(&short).position(|(one, other)| one != other);
            assert_eq!(differs.map(|at| &whole[at..(at + 9).min(whole.len())]), None, "{path}");
            assert_eq!(whole.len(), short.len(), "{path}");
            assert!(trees.iter().all(|tree| tree.errors_and_warnings().0.is_empty()), "{path}");
            (letters, left) = (letters + text.len(), left + spared.len());
        }
        assert!(10 * left < 9 * letters, "{left} of {letters}");
    }

    /// What would read otherwise if its spaces went.
    #[test]
    fn what_parts_words_stays() {
        let same = |code: &str, spared: &str| assert_eq!(spare(code), spared);
        same("#let a-b = c - d", "#let a-b=c - d");
        same("#if a < b { (c) }", "#if a < b{(c)}");
        same("#f(a, // why\n  b)", "#f(a,b)");
        same("#let f() = {\n  // why\n  let a = \"// \\\" b\"\n\n  a\n}\n", "#let f()={let a=\"// \\\" b\"\na}");
        same("#g([a  // b [c]], not (d))", "#g([a  // b [c]],not (d))");
    }
}
