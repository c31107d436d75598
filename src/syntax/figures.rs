//! Numbers, amounts and dates, as they are written.
//!
//! In: leaves. Out: counts, thousandths with a unit, days. Must never judge whether a unit fits, or whether a day exists.

use super::leaves::Leaves;
use super::parse::Rule;
use super::tree::{Amount, Date};

const WORDS: [&str; 12] =
    ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];

pub const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// Each unit in full and in the plural, and the other ways of writing it.
const UNITS: &[(&str, &[&str])] = &[
    ("seconds", &["second", "sec", "secs", "s", "sec.", "secs."]),
    ("minutes", &["minute", "min", "mins", "m", "min.", "mins."]),
    ("hours", &["hour", "hr", "hrs", "h"]),
    ("litres", &["litre", "liter", "liters", "l"]),
    ("millilitres", &["millilitre", "milliliter", "milliliters", "ml"]),
    ("metres", &["metre", "meter", "meters", "m"]),
    ("centimetres", &["centimetre", "centimeter", "centimeters", "cm"]),
    ("millimetres", &["millimetre", "millimeter", "millimeters", "mm"]),
    ("ppm", &[]),
    ("%", &["percent"]),
];

/// `m` is minutes in a time and metres in a length.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Measure {
    Time,
    Other,
}

/// A unit in full, in the plural; as written where it is none that the language knows.
pub(super) fn unit_in_full(written: &str, measure: Measure) -> String {
    let known = UNITS.iter().filter(|(full, _)| measure == Measure::Time || *full != "minutes" || written != "m");
    for (full, others) in known {
        if *full == written || others.contains(&written) {
            return (*full).to_owned();
        }
    }
    written.to_owned()
}

/// `1 minute`: the unit as it is printed after so many thousandths.
pub(super) fn unit_after(full: &str, thousandths: Option<u64>) -> String {
    match full.strip_suffix('s') {
        Some(one) if thousandths == Some(1000) && UNITS.iter().any(|(known, _)| *known == full) => one.to_owned(),
        _ => full.to_owned(),
    }
}

/// A number in thousandths: `1.5`, `1,000`, `1,5`, `two`. None where it is too large or has more than three decimals.
pub(super) fn thousandths(written: &str) -> Option<u64> {
    if let Some(at) = WORDS.iter().position(|word| *word == written) {
        return Some((at as u64 + 1) * 1000);
    }
    let groups: Vec<&str> = written.split(',').collect();
    let thousands = groups.len() > 1
        && (1..=3).contains(&groups[0].len())
        && groups[0] != "0"
        && groups[1..].iter().all(|group| group.split('.').next().is_some_and(|whole| whole.len() == 3));
    let number = match (groups.len(), thousands) {
        (1, _) => written.to_owned(),
        (_, true) => groups.concat(),
        (2, false) if !written.contains('.') => groups.join("."),
        _ => return None,
    };
    let (whole, decimals) = number.split_once('.').unwrap_or((&number, ""));
    let decimals = decimals.trim_end_matches('0');
    if decimals.len() > 3 {
        return None;
    }
    let whole: u64 = whole.parse().ok()?;
    let decimals: u64 = format!("{decimals:0<3}").parse().ok()?;
    whole.checked_mul(1000)?.checked_add(decimals)
}

pub(super) fn whole(written: &str) -> Option<u32> {
    let thousandths = thousandths(written)?;
    if thousandths % 1000 == 0 { u32::try_from(thousandths / 1000).ok() } else { None }
}

/// `1500` thousandths as people write them: `1.5`.
pub(super) fn shown(thousandths: u64) -> String {
    let (whole, decimals) = (thousandths / 1000, thousandths % 1000);
    if decimals == 0 {
        return whole.to_string();
    }
    format!("{whole}.{}", format!("{decimals:03}").trim_end_matches('0'))
}

/// A small number in words.
pub(super) fn in_words(count: u32) -> Option<&'static str> {
    WORDS.get((count as usize).checked_sub(1)?).copied()
}

/// An amount with one unit and what follows it: `1000 ppm chlorine`, `60 litres`.
pub(super) fn amount(leaves: &mut Leaves) -> Option<Amount> {
    let number = leaves.number()?;
    let unit = leaves.next()?;
    let mut amount = Amount {
        thousandths: thousandths(leaves.plain(number))?,
        unit: unit_in_full(leaves.plain(unit), Measure::Other),
        span: leaves.stretch(number.start, unit.end),
    };
    if leaves.first().is_some_and(|leaf| leaf.rule == Rule::substance) {
        let substance = leaves.name()?;
        amount.unit = format!("{} {}", amount.unit, substance.text);
        amount.span = amount.span.to(substance.span);
    }
    Some(amount)
}

/// A time, of one part or several.
pub(super) fn time(leaves: &mut Leaves) -> Option<Amount> {
    let first = leaves.number()?;
    let unit = leaves.next()?;
    let mut amount = Amount {
        thousandths: thousandths(leaves.plain(first))?,
        unit: unit_in_full(leaves.plain(unit), Measure::Time),
        span: leaves.stretch(first.start, unit.end),
    };
    while leaves.take(Rule::kw_and) || leaves.first().is_some_and(|leaf| leaf.rule == Rule::number) {
        let number = leaves.number()?;
        let unit = leaves.next()?;
        let more = thousandths(leaves.plain(number))?;
        let full = unit_in_full(leaves.plain(unit), Measure::Time);
        amount.span = amount.span.to(leaves.span(unit));
        match (seconds(&amount.unit), seconds(&full)) {
            (Some(one), Some(other)) => {
                amount.thousandths = amount.thousandths.checked_mul(one)?.checked_add(more.checked_mul(other)?)?;
                amount.unit = "seconds".to_owned();
            }
            (Some(_), None) => amount.unit = full,
            _ => {}
        }
    }
    Some(amount)
}

fn seconds(unit: &str) -> Option<u64> {
    match unit {
        "seconds" => Some(1),
        "minutes" => Some(60),
        "hours" => Some(3600),
        _ => None,
    }
}

pub(super) fn date(leaves: &mut Leaves) -> Option<Date> {
    let start =
        leaves.list.iter().position(|leaf| matches!(leaf.rule, Rule::date_figures | Rule::day | Rule::month))?;
    let parts: Vec<_> = leaves.list[start..].iter().copied().take_while(|leaf| is_date_part(leaf.rule)).collect();
    leaves.list = &leaves.list[start + parts.len()..];
    let span = leaves.stretch(parts.first()?.start, parts.last()?.end);
    let of = |rule: Rule| parts.iter().find(|leaf| leaf.rule == rule).map(|leaf| leaves.plain(*leaf));
    if let Some(figures) = of(Rule::date_figures) {
        let (year, month, day) = from_figures(figures)?;
        return Some(Date { year, month, day, span });
    }
    let day = of(Rule::day)?.trim_end_matches(|c: char| c.is_ascii_alphabetic()).parse().ok()?;
    Some(Date { year: of(Rule::year)?.parse().ok()?, month: month(of(Rule::month)?)?, day, span })
}

fn is_date_part(rule: Rule) -> bool {
    matches!(rule, Rule::date_figures | Rule::day | Rule::month | Rule::year | Rule::filler_of | Rule::comma)
}

pub(super) fn month(written: &str) -> Option<i8> {
    let short = written.trim_end_matches('.').get(..3)?;
    let at = MONTHS.iter().position(|month| month[..3].eq_ignore_ascii_case(short))?;
    i8::try_from(at + 1).ok()
}

/// `2026-11-02`, or day before month where both could be either. None for a day that the calendar does not have.
fn from_figures(figures: &str) -> Option<(i16, i8, i8)> {
    let parts: Vec<i16> = figures.split(['/', '-', '.']).map(|part| part.parse().ok()).collect::<Option<_>>()?;
    let [first, second, third] = parts[..] else { return None };
    let (year, month, day) = if first > 31 { (first, second, third) } else { (third, second, first) };
    let (month, day) = if month > 12 { (day, month) } else { (month, day) };
    let year = if year < 100 { year + 2000 } else { year };
    let date = jiff::civil::Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()?;
    Some((date.year(), date.month(), date.day()))
}

#[cfg(test)]
mod tests {
    use super::{from_figures, shown, thousandths, whole};

    /// Common practice, no source: commas between thousands in English, a comma for decimals elsewhere.
    #[test]
    fn numbers_as_people_write_them() {
        let written = [
            ("30", 30_000),
            ("1.5", 1500),
            ("1,5", 1500),
            ("0,05", 50),
            ("0,100", 100),
            ("1,000", 1_000_000),
            ("1,000,000.5", 1_000_000_500),
            ("0.0010", 1),
            ("twelve", 12_000),
        ];
        for (number, expected) in written {
            assert_eq!(thousandths(number), Some(expected), "{number}");
        }
        for refused in ["0.0001", "1,2,3", "1,5.5", "99999999999999999999"] {
            assert_eq!(thousandths(refused), None, "{refused}");
        }
        assert_eq!((whole("1.5"), whole("4294967296"), whole("1,000")), (None, None, Some(1000)));
        assert_eq!((shown(1500).as_str(), shown(50).as_str(), shown(1_000_000).as_str()), ("1.5", "0.05", "1000"));
    }

    /// ISO 8601-1:2019 (from memory) for the first; the rest are common practice, no source.
    #[test]
    fn dates_in_figures() {
        assert_eq!(from_figures("2026-11-02"), Some((2026, 11, 2)));
        assert_eq!(from_figures("2/11/2026"), Some((2026, 11, 2)));
        assert_eq!(from_figures("11/23/2026"), Some((2026, 11, 23)));
        assert_eq!(from_figures("2.11.26"), Some((2026, 11, 2)));
        for refused in ["31/02/2026", "13/13/2026", "1/2/99999"] {
            assert_eq!(from_figures(refused), None, "{refused}");
        }
    }
}
