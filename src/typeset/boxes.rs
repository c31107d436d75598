//! The trim and bleed boxes of a finished PDF (ISO 32000-1, 14.11.2), which the typesetter writes only in part.
//!
//! In: a PDF as the typesetter writes it, its table of places in plain text. Out: the same with the boxes on every page,
//! or nothing where it is built otherwise. Must never touch what is not a page.

/// `trim`, `bleed`: left, bottom, right, top in points.
pub(super) fn with(pdf: &[u8], trim: [f64; 4], bleed: [f64; 4]) -> Option<Vec<u8>> {
    let start: usize = number_after(pdf, rfind(pdf, b"startxref")? + 9)?;
    let table = pdf.get(start..)?;
    let entries = entries(table)?;
    let written = |name: &str, at: [f64; 4]| {
        let at = at.map(|number| format!("{:.3}", number)).join(" ");
        format!("/{name}[{at}]")
    };
    let added = format!("{}{}", written("TrimBox", trim), written("BleedBox", bleed));
    // Where the boxes go in: after the media box of each page.
    let mut places: Vec<usize> = entries.iter().filter_map(|entry| after_media_box(pdf, entry.offset)).collect();
    places.sort_unstable();
    if places.is_empty() {
        return None;
    }
    let moved = |offset: usize| offset + added.len() * places.iter().filter(|&&place| place <= offset).count();
    let mut out = Vec::with_capacity(pdf.len() + added.len() * places.len());
    let mut from = 0;
    for &place in &places {
        out.extend_from_slice(pdf.get(from..place)?);
        out.extend_from_slice(added.as_bytes());
        from = place;
    }
    out.extend_from_slice(pdf.get(from..start)?);
    let mut table = table.to_vec();
    for entry in &entries {
        let digits = format!("{:010}", moved(entry.offset));
        table.get_mut(entry.at..entry.at + 10)?.copy_from_slice(digits.as_bytes());
    }
    let end = rfind(&table, b"startxref")?;
    out.extend_from_slice(table.get(..end)?);
    out.extend_from_slice(format!("startxref\n{}\n%%EOF", moved(start)).as_bytes());
    Some(out)
}

/// An object's place in the file, and where the table tells it.
struct Entry {
    offset: usize,
    at: usize,
}

/// The lines of twenty bytes of the table that begins with `xref`.
fn entries(table: &[u8]) -> Option<Vec<Entry>> {
    let head = table.strip_prefix(b"xref")?;
    let first = head.iter().position(u8::is_ascii_digit)? + 4;
    let line_end = first + table.get(first..)?.iter().position(|&byte| byte == b'\n')?;
    let count = number_after(table, first + table.get(first..line_end)?.iter().position(|&byte| byte == b' ')?)?;
    let line = |index: usize| {
        let at = line_end + 1 + 20 * index;
        let bytes = table.get(at..at + 20)?;
        let offset = std::str::from_utf8(bytes.get(..10)?).ok()?.parse().ok()?;
        Some((bytes.get(17) == Some(&b'n')).then_some(Entry { offset, at }))
    };
    let lines: Option<Vec<Option<Entry>>> = (0..count).map(line).collect();
    Some(lines?.into_iter().flatten().collect())
}

/// Where the media box of a page ends; none for all other objects.
fn after_media_box(pdf: &[u8], offset: usize) -> Option<usize> {
    let object = pdf.get(offset..)?;
    let object = object.get(..find(object, b"endobj")?)?;
    let object = object.get(..find(object, b"stream").unwrap_or(object.len()))?;
    let is_page = object.windows(11).any(|part| part.starts_with(b"/Type/Page") && part[10] != b's');
    let media = find(object, b"/MediaBox").filter(|_| is_page)?;
    Some(offset + media + object.get(media..)?.iter().position(|&byte| byte == b']')? + 1)
}

fn number_after(bytes: &[u8], at: usize) -> Option<usize> {
    let rest = bytes.get(at..)?;
    let digits: Vec<u8> =
        rest.iter().copied().skip_while(|byte| !byte.is_ascii_digit()).take_while(u8::is_ascii_digit).collect();
    String::from_utf8(digits).ok()?.parse().ok()
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|window| window == wanted)
}

fn rfind(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).rposition(|window| window == wanted)
}
