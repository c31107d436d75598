//! Days and durations.

use serde::{Deserialize, Serialize};

use crate::syntax::MONTHS;

/// A civil date: `2 November 2026`. Compared as dates are.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(pub jiff::civil::Date);

impl Serialize for Day {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&self.0)
    }
}

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Day, D::Error> {
        let text = String::deserialize(deserializer)?;
        Day::from_iso(&text).ok_or_else(|| serde::de::Error::custom("a date of the calendar is wanted"))
    }
}

impl Day {
    /// None for a date that the calendar does not have.
    pub fn new(year: i16, month: i8, day: i8) -> Option<Day> {
        jiff::civil::Date::new(year, month, day).ok().map(Day)
    }

    /// `2026-11-02`, as a command line gives it.
    pub fn from_iso(text: &str) -> Option<Day> {
        text.parse().ok().map(Day)
    }

    /// So many months on, or before it where there are fewer than none: the same day of that month, or its last one where it
    /// has no such day. None beyond the calendar. A series is counted from its first day: the second month after 31 January
    /// is in March, whatever February had.
    pub fn months_on(self, months: i32) -> Option<Day> {
        self.0.checked_add(jiff::Span::new().try_months(months).ok()?).ok().map(Day)
    }

    /// Days from this one to another; fewer than none where that has passed.
    pub fn days_until(self, other: Day) -> i32 {
        self.0.until(other.0).map_or(0, |span| span.get_days())
    }
}

/// `2 November 2026`
impl std::fmt::Display for Day {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {} {}", self.0.day(), MONTHS[self.0.month() as usize - 1], self.0.year())
    }
}

/// Whole seconds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Seconds(pub u32);

/// `30 seconds`, `1 minute`, `2 minutes 30 seconds`, `4 hours`
impl std::fmt::Display for Seconds {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (hours, minutes, seconds) = (self.0 / 3600, self.0 / 60 % 60, self.0 % 60);
        let mut parts = Vec::new();
        for (count, one, many) in
            [(hours, "hour", "hours"), (minutes, "minute", "minutes"), (seconds, "second", "seconds")]
        {
            if count > 0 {
                parts.push(format!("{count} {}", if count == 1 { one } else { many }));
            }
        }
        if parts.is_empty() { f.write_str("0 seconds") } else { f.write_str(&parts.join(" ")) }
    }
}
