//! What cleaning is worth, in touches: every figure of it, in one place.
//!
//! One touch passes on about a tenth, so a published reduction of n log10 reads as n touches: a modelling convention that
//! ranks procedures and estimates no risk. A policy's own figure (`worth N touches`) comes first.

use crate::policy::{Cleaner, Seconds};

/// Hand rub for its full time on hands without visible soil. The time: WHO 2009, 20 to 30 seconds, from memory.
const RUB: (Seconds, u16) = (Seconds(20), 3);
/// Hand rub for half of that time.
const RUB_SHORT: (Seconds, u16) = (Seconds(10), 1);
/// Soap and water, also on visible soil: 1.94 to 3.69 log10 over six methods (Wolfe 2017, PLoS ONE 12(2):e0172734).
/// The time: WHO, 40 to 60 seconds for the whole procedure, from memory; CDC: 20 seconds or longer.
const SOAP: (Seconds, u16) = (Seconds(40), 2);
const SOAP_SHORT: (Seconds, u16) = (Seconds(20), 1);
/// A surface disinfectant at its strength and wet time.
const SURFACE: u16 = 3;
/// General surfaces: 0.1 % chlorine (WHO, 15 May 2020).
pub const LEAST_CHLORINE_PPM: u64 = 1000;

/// What is cleaned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    Hands { visibly_soiled: bool },
    Surface,
}

/// Why a cleaning is worth less than its full figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Shortfall {
    /// A cleaner for hands used on surfaces, or the other way round.
    WrongUse,
    /// A rub on visible soil.
    Soil,
    /// Less time than the cleaner needs: this many seconds.
    TooShort { needs: Seconds },
    /// Less than this many parts per million.
    TooWeak { needs_ppm: u64 },
}

/// Touches by which the hazard is set back, and why they are fewer than they might be.
pub fn worth(cleaner: &Cleaner, on: On, time: Option<Seconds>) -> (u16, Option<Shortfall>) {
    let own = cleaner.worth.map(|touches| touches.min(100) as u16);
    match on {
        On::Hands { .. } if !cleaner.for_hands => (0, Some(Shortfall::WrongUse)),
        On::Surface if !cleaner.for_surfaces => (0, Some(Shortfall::WrongUse)),
        On::Hands { visibly_soiled: true } if cleaner.not_on_visible_soil || !cleaner.is_soap() => {
            (0, Some(Shortfall::Soil))
        }
        On::Hands { .. } => {
            let (full, short) = if cleaner.is_soap() { (SOAP, SOAP_SHORT) } else { (RUB, RUB_SHORT) };
            let needs = cleaner.wet_for.unwrap_or(full.0);
            let touches = own.unwrap_or(full.1);
            match time {
                Some(time) if time < short.0.min(needs) => (0, Some(Shortfall::TooShort { needs })),
                Some(time) if time < needs => (short.1.min(touches), Some(Shortfall::TooShort { needs })),
                _ => (touches, None),
            }
        }
        On::Surface => {
            let touches = own.unwrap_or(SURFACE);
            let chlorine = cleaner.substance.as_deref().is_some_and(|words| words.contains("chlorine"));
            match (cleaner.strength_ppm, cleaner.wet_for, time) {
                (Some(ppm), ..) if chlorine && own.is_none() && ppm < LEAST_CHLORINE_PPM => {
                    (0, Some(Shortfall::TooWeak { needs_ppm: LEAST_CHLORINE_PPM }))
                }
                (_, Some(needs), Some(time)) if time < needs => (0, Some(Shortfall::TooShort { needs })),
                _ => (touches, None),
            }
        }
    }
}
