//! Findings for a terminal: the step's own words underlined in their place, and the story beneath.
//!
//! In: a finding, the sources, the width and whether there is colour. Out: text. This is the only file that knows
//! miette. Must never let a policy's text steer the terminal, nor carry a meaning by colour alone.

use miette::{
    GraphicalReportHandler, GraphicalTheme, LabeledSpan, MietteDiagnostic, MietteError, MietteSpanContents, Report,
    SourceCode, SourceSpan, SpanContents, ThemeCharacters, ThemeStyles,
};

use super::shown::{shortened, shown, spoken};
use super::{Finding, Signal, plain};
use crate::text::{Sources, Span};

/// What the terminal can do.
#[derive(Clone, Copy, Debug)]
pub struct Looks {
    pub colour: bool,
    /// In characters.
    pub width: usize,
}

/// Longer lines are not drawn: they would fill the screen.
const LONGEST_LINE: usize = 1000;
const INDENT: &str = "  ";

pub fn finding(finding: &Finding, sources: &Sources, looks: Looks) -> String {
    let mut text = picture(finding, sources, looks);
    text.push('\n');
    let mut tell = |words: &str| text.push_str(&wrapped(&spoken(words), INDENT, INDENT, looks.width));
    tell(&finding.message);
    if let Some(case) = plain::case(finding) {
        tell(&case);
    }
    if !finding.chain.is_empty() {
        tell("How the hazard gets there:");
        for touch in plain::numbered(&finding.chain) {
            text.push_str(&wrapped(&spoken(&touch), "    ", "       ", looks.width));
        }
    }
    let elsewhere = finding.related.iter().filter(|(span, _)| span.source != finding.span.source);
    for (span, words) in elsewhere {
        text.push_str(&wrapped(&spoken(&plain::also(*span, words, sources)), INDENT, INDENT, looks.width));
    }
    let strong = |words: &str| if looks.colour { format!("\u{1b}[1m{words}\u{1b}[0m") } else { words.to_string() };
    let way_out = format!("{} {}", strong("Way out:"), spoken(&finding.way_out));
    text.push_str(&wrapped(&way_out, INDENT, "           ", looks.width));
    if let Some(why) = &finding.accepted {
        text.push_str(&wrapped(&spoken(&format!("Accepted by the policy: {why}")), INDENT, INDENT, looks.width));
    }
    if let Some(authority) = plain::authority(finding) {
        text.push_str(&wrapped(&spoken(&authority), INDENT, INDENT, looks.width));
    }
    text.push_str(&format!("{INDENT}To read more: anteroom explain {}\n", finding.name));
    text
}

/// The signal word, the title, and the place with its words underlined.
fn picture(finding: &Finding, sources: &Sources, looks: Looks) -> String {
    let same_file = finding.related.iter().filter(|(span, _)| span.source == finding.span.source);
    let places: Vec<Span> = std::iter::once(finding.span).chain(same_file.clone().map(|(span, _)| *span)).collect();
    let window = Window::around(&places, sources);
    let label = |span: Span, words: String| LabeledSpan::new_with_span(Some(words), window.within(span));
    let mut labels = vec![LabeledSpan::new_primary_with_span(None, window.within(finding.span))];
    labels.extend(same_file.map(|(span, words)| label(*span, spoken(words))));
    let title = match finding.accepted {
        Some(_) => format!("{} (accepted)", finding.title),
        None => finding.title.clone(),
    };
    let mut diagnostic = MietteDiagnostic::new(spoken(&title));
    if window.longest_line() <= LONGEST_LINE {
        diagnostic.labels = Some(labels);
    }
    let handler = GraphicalReportHandler::new_themed(theme(finding.signal, looks.colour))
        .with_width(looks.width)
        .with_context_lines(1)
        .with_links(false)
        .without_syntax_highlighting();
    let undrawn = diagnostic.labels.is_none();
    let report = Report::from(diagnostic).with_source_code(window);
    let mut text = String::new();
    if handler.render_report(&mut text, report.as_ref()).is_err() || undrawn {
        let place = plain::place(finding.span, sources);
        text = format!("{INDENT}{} {}\n{INDENT}{place}\n", badge(finding.signal, looks.colour), spoken(&title));
        text.push_str(&format!("{INDENT}“{}”\n", shortened(&finding.sentence, 200)));
    }
    text
}

fn theme(signal: Signal, colour: bool) -> GraphicalTheme {
    let badge = badge(signal, colour);
    let characters = ThemeCharacters { error: badge, vbar: '│', ..ThemeCharacters::unicode() };
    let styles = ThemeStyles { error: ThemeStyles::none().error, ..ThemeStyles::ansi() };
    GraphicalTheme { characters, styles: if colour { styles } else { ThemeStyles::none() } }
}

/// The signal word, in the colours of ISO 3864-2 where there is colour: red, orange, yellow, blue.
fn badge(signal: Signal, colour: bool) -> String {
    let word = signal.word();
    if !colour {
        return word.to_string();
    }
    let style = match signal {
        Signal::Danger => "1;97;41",
        Signal::Warning => "1;30;48;5;208",
        Signal::Caution => "1;30;103",
        Signal::Notice => "1;97;44",
    };
    format!("\u{1b}[{style}m {word} \u{1b}[0m")
}

/// The lines that hold all places, so that a long file is not read again for each finding.
#[derive(Debug)]
struct Window {
    name: String,
    text: String,
    start: usize,
    first_line: usize,
}

impl Window {
    fn around(places: &[Span], sources: &Sources) -> Window {
        let source = sources.get(places[0].source);
        let lowest = places.iter().map(|span| span.start as usize).min().unwrap_or(0).min(source.text.len());
        let highest = places.iter().map(|span| span.end as usize).max().unwrap_or(0).clamp(lowest, source.text.len());
        let start = source.text[..source.text.floor_char_boundary(lowest)].rfind('\n').map_or(0, |at| at + 1);
        let end = source.text[source.text.ceil_char_boundary(highest)..]
            .find('\n')
            .map_or(source.text.len(), |at| highest + at);
        let first_line = source.position(start as u32).line as usize - 1;
        // A byte-order mark takes no room on the screen.
        let start = if source.text[start..].starts_with('\u{feff}') { start + 3 } else { start };
        let mut text = shown(&source.text[start..end.max(start)]).into_owned();
        if places[0].start as usize >= end {
            // Something is missing at the end of the line: there has to be room to draw beneath it.
            text.push(' ');
        }
        Window { name: shown(&source.name).into_owned(), text, start, first_line }
    }

    fn within(&self, span: Span) -> SourceSpan {
        let inside = |offset: u32| self.text.floor_char_boundary((offset as usize).saturating_sub(self.start));
        let (start, end) = (inside(span.start), inside(span.end));
        if start < end {
            return (start, end - start).into();
        }
        let here = self.text[start..].chars().next().filter(|c| *c != '\n').map_or(0, char::len_utf8);
        (start, here).into()
    }

    fn longest_line(&self) -> usize {
        self.text.lines().map(str::len).max().unwrap_or(0)
    }
}

impl SourceCode for Window {
    /// With context asked for: the whole lines of the span and no neighbours. Without: the span itself, for its place.
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        before: usize,
        _after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let at = span.offset().min(self.text.len());
        let end = (at + span.len()).min(self.text.len());
        let line_start = self.text[..at].rfind('\n').map_or(0, |newline| newline + 1);
        let line_end = self.text[end..].find('\n').map_or(self.text.len(), |newline| end + newline);
        let (start, end) = if before > 0 { (line_start, line_end) } else { (at, end) };
        let data = &self.text[start..end];
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            data.as_bytes(),
            (start, data.len()).into(),
            self.first_line + self.text[..start].matches('\n').count(),
            self.text[line_start..start].chars().count(),
            1 + data.matches('\n').count(),
        )))
    }
}

/// Lines of at most `width` characters, the first after `first`, the others after `rest`, each ended.
pub fn wrapped(text: &str, first: &str, rest: &str, width: usize) -> String {
    let mut lines = String::new();
    let mut line = first.to_string();
    let mut bare = true;
    for word in text.split_whitespace() {
        if !bare && seen_width(&line) + 1 + seen_width(word) > width {
            lines.push_str(&line);
            lines.push('\n');
            line = rest.to_string();
            bare = true;
        }
        if !bare {
            line.push(' ');
        }
        line.push_str(word);
        bare = false;
    }
    lines + &line + "\n"
}

/// Characters that take room: colours do not.
fn seen_width(text: &str) -> usize {
    let mut width = 0;
    let mut in_colour = false;
    for c in text.chars() {
        match c {
            '\u{1b}' => in_colour = true,
            'm' if in_colour => in_colour = false,
            _ if in_colour => {}
            _ => width += 1,
        }
    }
    width
}
