//! Tables of comma-separated values (RFC 4180), as spreadsheets open them.
//!
//! In: fields, or the text of a table. Out: a line of a table, or its records. Must never write a word that a spreadsheet
//! would reckon with, nor read a field otherwise than a spreadsheet would show it.

use csv::{QuoteStyle, ReaderBuilder, StringRecord, Terminator, WriterBuilder};

/// What makes a spreadsheet take a field for something to reckon (OWASP, “CSV Injection”), and the sign that stops it.
const RECKONED: [char; 8] = ['=', '+', '-', '@', '＝', '＋', '－', '＠'];
const STOPPED: char = '\'';

fn is_reckoned(field: &str) -> bool {
    field.starts_with(['\t', '\r', '\n']) || field.trim_start().starts_with(RECKONED)
}

/// The field as words that nothing reckons with.
pub fn guarded(field: &str) -> String {
    let stop = if is_reckoned(field) || field.starts_with(STOPPED) { "'" } else { "" };
    format!("{stop}{field}")
}

/// The field as it was before it was guarded.
pub fn plain(field: &str) -> String {
    match field.strip_prefix(STOPPED) {
        Some(rest) if is_reckoned(rest) || rest.starts_with(STOPPED) => rest.to_string(),
        _ => field.to_string(),
    }
}

/// One line of a table, with its end.
pub fn row<F: AsRef<str>>(fields: &[F]) -> String {
    // Some programs part fields at other signs too, and some strip blanks, unless the fields stand in quotation marks.
    let is_delicate = |field: &str| field.contains([';', '\t']) || field.trim() != field;
    let is_any_delicate = fields.iter().any(|field| is_delicate(field.as_ref()));
    let style = if is_any_delicate { QuoteStyle::Always } else { QuoteStyle::Necessary };
    let mut writer = WriterBuilder::new().quote_style(style).terminator(Terminator::CRLF).from_writer(Vec::new());
    // Nothing fails that is written to memory, and what was words before is words in quotation marks.
    let _ = writer.write_record(fields.iter().map(AsRef::as_ref).map(str::as_bytes));
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

/// A record, and where it begins in the text.
pub struct Record<'t> {
    pub fields: StringRecord,
    text: &'t str,
    from: usize,
}

impl Record<'_> {
    /// The number of the line on which it begins.
    pub fn line(&self) -> usize {
        line_at(self.text, self.from)
    }
}

/// Every record; lines with nothing on them are none. `Err`: what is wrong with which line, a clause.
pub fn records(text: &str) -> Result<Vec<Record<'_>>, String> {
    let mut reader = ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    let (mut records, mut from) = (Vec::new(), 0);
    let mut fields = StringRecord::new();
    while reader.read_record(&mut fields).map_err(|error| error.to_string())? {
        let end = usize::try_from(reader.position().byte()).unwrap_or(text.len());
        let raw = text.get(from..end).unwrap_or_default();
        let blank = raw.len() - raw.trim_start_matches(['\r', '\n']).len();
        let record = Record { fields: fields.clone(), text, from: from + blank };
        from = end;
        // First, since a mark that is never closed may hide whatever comes after it.
        told_as_read(&record, &raw[blank..])?;
        if record.fields.len() > 1 || record.fields.iter().any(|field| !field.trim().is_empty()) {
            records.push(record);
        }
    }
    Ok(records)
}

/// The reader makes the best of a quotation mark out of place; another program may make something else of it.
fn told_as_read(record: &Record, raw: &str) -> Result<(), String> {
    let mut rest = raw;
    for (at, field) in record.fields.iter().enumerate() {
        let line = line_at(record.text, record.from + raw.len() - rest.len());
        let open = format!("\"{}", field.replace('"', "\"\""));
        let after = match rest.strip_prefix(&open) {
            Some("") => return Err(format!("the quotation mark on its line {line} is never closed")),
            Some(more) => more.strip_prefix('"'),
            None => rest.strip_prefix(field).filter(|_| !field.contains('"')),
        };
        let is_last = at + 1 == record.fields.len();
        let ends = |more: &&str| {
            if is_last { more.is_empty() || more.starts_with(['\r', '\n']) } else { more.starts_with(',') }
        };
        rest = after.filter(ends).ok_or_else(|| {
            if rest.starts_with('"') {
                let closing = line + field.matches('\n').count();
                format!("its line {closing} goes on after a closing quotation mark")
            } else {
                format!("its line {line} has a quotation mark in the middle of a field")
            }
        })?;
        rest = rest.strip_prefix(',').unwrap_or(rest);
    }
    Ok(())
}

/// The number of the line on which an offset stands, however the lines end.
fn line_at(text: &str, offset: usize) -> usize {
    let before = text.get(..offset).unwrap_or(text);
    before.replace("\r\n", "\n").matches(['\r', '\n']).count() + 1
}
