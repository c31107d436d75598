//! Numbers with units, and dates.
//!
//! In: amounts as written. Out: seconds, parts per million, millilitres, millimetres and days, or a problem.
//! Must never guess a unit that is not written.

use super::Resolution;
use crate::policy::{Day, Seconds};
use crate::syntax::problem::ProblemKind;
use crate::syntax::tree::{Amount, Date};

pub const TIMES: &str = "seconds, minutes or hours";
const STRENGTHS: &str = "ppm, mg/L or %";
const VOLUMES: &str = "litres or millilitres";
const LENGTHS: &str = "metres, centimetres or millimetres";

impl Resolution<'_> {
    fn misfit(&mut self, amount: &Amount, fits: &'static str) {
        let written = self.written(amount.span);
        self.names.failed += 1;
        self.problem(ProblemKind::Unit { written, fits }, amount.span);
    }

    /// A part of a second counts as a whole one.
    pub(super) fn seconds(&mut self, amount: &Amount) -> Option<Seconds> {
        let factor: u64 = match amount.unit.as_str() {
            "second" | "seconds" | "sec" | "secs" | "s" => 1,
            "minute" | "minutes" | "min" | "mins" => 60,
            "hour" | "hours" | "h" => 3600,
            _ => 0,
        };
        let whole = amount.thousandths.checked_mul(factor).map(|thousandths| thousandths.div_ceil(1000));
        match whole.and_then(|seconds| u32::try_from(seconds).ok()) {
            Some(seconds) if factor > 0 => Some(Seconds(seconds)),
            _ => {
                self.misfit(amount, TIMES);
                None
            }
        }
    }

    /// Parts per million and the substance. 1 mg/L of a watery solution is 1 ppm and 1 % is 10,000 ppm: GTFCC cholera
    /// manual, appendix 14; 0.05 % is 500 mg/L: Iqbal 2016, PLoS ONE 11(5):e0156136.
    pub(super) fn strength(&mut self, amount: &Amount) -> Option<(u64, Option<String>)> {
        let words: Vec<&str> = amount.unit.split_whitespace().collect();
        let (ppm, taken) = match words.as_slice() {
            ["ppm", ..] | ["mg/l", ..] => (Some(amount.thousandths / 1000), 1),
            ["mg", "per", "litre" | "liter", ..] => (Some(amount.thousandths / 1000), 3),
            ["%" | "percent", ..] => (amount.thousandths.checked_mul(10), 1),
            ["per", "cent", ..] => (amount.thousandths.checked_mul(10), 2),
            _ => (None, 0),
        };
        let Some(ppm) = ppm else {
            self.misfit(amount, STRENGTHS);
            return None;
        };
        let substance = words[taken..].join(" ");
        Some((ppm, (!substance.is_empty()).then_some(substance)))
    }

    pub(super) fn millilitres(&mut self, amount: &Amount) -> Option<u64> {
        let millilitres = match amount.unit.as_str() {
            "litre" | "litres" | "liter" | "liters" | "l" => Some(amount.thousandths),
            "millilitre" | "millilitres" | "milliliter" | "milliliters" | "ml" => Some(amount.thousandths / 1000),
            _ => None,
        };
        if millilitres.is_none() {
            self.misfit(amount, VOLUMES);
        }
        millilitres
    }

    pub(super) fn millimetres(&mut self, amount: &Amount) -> Option<u32> {
        let millimetres = match amount.unit.as_str() {
            "metre" | "metres" | "meter" | "meters" | "m" => Some(amount.thousandths),
            "centimetre" | "centimetres" | "centimeter" | "centimeters" | "cm" => Some(amount.thousandths / 100),
            "millimetre" | "millimetres" | "millimeter" | "millimeters" | "mm" => Some(amount.thousandths / 1000),
            _ => None,
        };
        let fits = millimetres.and_then(|length| u32::try_from(length).ok());
        if fits.is_none() {
            self.misfit(amount, LENGTHS);
        }
        fits
    }

    pub(super) fn day(&mut self, date: &Date) -> Option<Day> {
        let day = Day::new(date.year, date.month, date.day);
        if day.is_none() {
            let written = self.written(date.span);
            self.problem(ProblemKind::Date { written }, date.span);
        }
        day
    }
}
