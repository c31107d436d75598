//! Tables of comma-separated values (RFC 4180), as spreadsheets open them.
//!
//! In: fields, or the text of a table. Out: the field as it stands in a table, or its records. Must never write a word that a
//! spreadsheet would reckon with.

/// What makes a spreadsheet take a field for something to reckon (OWASP, “CSV Injection”), and the sign that stops it.
const RECKONED: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
const STOPPED: char = '\'';

fn is_reckoned(field: &str) -> bool {
    field.starts_with(['\t', '\r', '\n']) || field.trim_start().starts_with(RECKONED)
}

/// A field as it stands in the table (RFC 4180).
pub fn written(field: &str) -> String {
    let stop = if is_reckoned(field) || field.starts_with(STOPPED) { "'" } else { "" };
    let field = format!("{stop}{field}");
    let is_plain = !field.contains([',', ';', '"', '\r', '\n', '\t']) && field.trim() == field;
    if is_plain { field } else { format!("\"{}\"", field.replace('"', "\"\"")) }
}

/// The field as it was before it was written.
pub fn plain(field: &str) -> String {
    match field.strip_prefix(STOPPED) {
        Some(rest) if is_reckoned(rest) || rest.starts_with(STOPPED) => rest.to_string(),
        _ => field.to_string(),
    }
}

/// Every record with the number of the line on which it begins; lines with nothing on them are none.
pub fn records(text: &str) -> Result<Vec<(usize, Vec<String>)>, String> {
    let mut records = Vec::new();
    let (mut record, mut line, mut first) = (Vec::new(), 1, 1);
    let mut rest = text;
    while !rest.is_empty() {
        let (field, quoted, after) = field(rest, line)?;
        line += field.matches('\n').count();
        record.push(field);
        if let Some(next) = after.strip_prefix(',') {
            rest = next;
            // A comma at the very end stands before one more, empty field.
            if rest.is_empty() {
                record.push(String::new());
                records.push((first, std::mem::take(&mut record)));
            }
            continue;
        }
        let ended =
            after.strip_prefix("\r\n").or_else(|| after.strip_prefix('\n')).or_else(|| after.strip_prefix('\r'));
        rest = ended.unwrap_or(after);
        let is_blank = record.len() == 1 && !quoted && record[0].trim().is_empty();
        let done = std::mem::take(&mut record);
        if !is_blank {
            records.push((first, done));
        }
        line += 1;
        first = line;
    }
    Ok(records)
}

/// One field, whether it was in quotes, and what stands after it: a comma, the end of the line or nothing.
fn field(text: &str, line: usize) -> Result<(String, bool, &str), String> {
    let Some(inside) = text.strip_prefix('"') else {
        let end = text.find([',', '\r', '\n']).unwrap_or(text.len());
        let field = &text[..end];
        if field.contains('"') {
            return Err(format!("its line {line} has a quotation mark in the middle of a field"));
        }
        return Ok((field.to_string(), false, &text[end..]));
    };
    let mut field = String::new();
    let mut rest = inside;
    loop {
        let end = rest.find('"').ok_or_else(|| format!("the quotation mark on its line {line} is never closed"))?;
        field.push_str(&rest[..end]);
        rest = &rest[end + 1..];
        match rest.strip_prefix('"') {
            Some(more) => {
                field.push('"');
                rest = more;
            }
            None if rest.is_empty() || rest.starts_with([',', '\r', '\n']) => return Ok((field, true, rest)),
            None => return Err(format!("its line {line} goes on after a closing quotation mark")),
        }
    }
}
