//! What cleaning is worth, in touches: every figure of it, in one place.
//!
//! In: a cleaner, what it is used on and for how long. Out: touches, and why they are fewer than they might be.
//! One touch passes on about a tenth, so a published reduction of n log10 reads as n touches: a modelling convention that
//! ranks procedures and estimates no risk. A policy's own figure (`worth N touches`) comes first, and so does its own time
//! (`wet for …`): the manufacturer's instructions are not known here. Must never guess a time that is not written.

use crate::policy::{Cleaner, Seconds};

/// What cleaning hands is worth.
struct Row {
    /// The time for the full worth, in touches.
    full: (Seconds, u16),
    /// The shortest time that counts for anything, and for what.
    least: (Seconds, u16),
    /// Less than this is told as too short.
    asked: Seconds,
    /// Parts per million, by what the strength is of.
    least_ppm: u64,
}

/// Hand rub on hands without visible soil. The time: 20 to 30 seconds, WHO 2009, from memory; half of it counts for one
/// touch, a modelling convention. The strength: at least 60 % alcohol (CDC: 60 to 95 %; HSE Ireland: at least 60 %).
const RUB: Row =
    Row { full: (Seconds(20), 3), least: (Seconds(10), 1), asked: Seconds(20), least_ppm: LEAST_ALCOHOL_PPM };

/// Soap and water, also on visible soil: 1.94 to 3.69 log10 over six methods (Wolfe 2017, PLoS ONE 12(2):e0172734).
/// The time: 40 to 60 seconds for the whole procedure, WHO 2009, from memory. CDC asks for 20 seconds or longer, so from
/// there on it is no fault, and worth one touch.
const SOAP: Row = Row { full: (Seconds(40), 2), least: (Seconds(20), 1), asked: Seconds(20), least_ppm: 0 };

/// Chlorine water on hands: one of the six methods of Wolfe 2017, so as soap; but what soils hands uses chlorine up (MSF
/// cholera guideline, appendix 15). The strength: 0.05 % (Iqbal 2016, PLoS ONE 11(5):e0156136).
const CHLORINE: Row =
    Row { full: (Seconds(40), 2), least: (Seconds(20), 1), asked: Seconds(20), least_ppm: LEAST_HAND_CHLORINE_PPM };

/// A surface disinfectant at its strength and wet time: a modelling convention, the same for every kind.
const SURFACE: u16 = 3;

pub const LEAST_ALCOHOL_PPM: u64 = 600_000;
pub const LEAST_HAND_CHLORINE_PPM: u64 = 500;
/// General surfaces: 0.1 % chlorine (WHO, 15 May 2020, seen in a third-party copy).
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
    let nothing = |why| (0, Some(why));
    match on {
        On::Hands { .. } if !cleaner.for_hands => nothing(Shortfall::WrongUse),
        On::Surface if !cleaner.for_surfaces => nothing(Shortfall::WrongUse),
        // WHO/IER/PSP/2009/01, grade IB: visibly soiled hands are washed with soap and water.
        On::Hands { visibly_soiled: true } if cleaner.not_on_visible_soil || !is_soap(cleaner) => {
            nothing(Shortfall::Soil)
        }
        On::Hands { .. } => on_hands(cleaner, time),
        On::Surface => on_surface(cleaner, time),
    }
}

fn on_hands(cleaner: &Cleaner, time: Option<Seconds>) -> (u16, Option<Shortfall>) {
    let row = if is_chlorine(cleaner) {
        CHLORINE
    } else if is_soap(cleaner) {
        SOAP
    } else {
        RUB
    };
    if let Some(weak) = too_weak(cleaner, row.least_ppm) {
        return (0, Some(weak));
    }
    let touches = own_worth(cleaner).unwrap_or(row.full.1);
    let Some(time) = time else { return (touches, None) };
    let (full, least, asked) = match cleaner.wet_for {
        Some(own) => (own, Seconds(own.0.div_ceil(2)), own),
        None => (row.full.0, row.least.0, row.asked),
    };
    let short = (time < asked).then_some(Shortfall::TooShort { needs: full });
    if time >= full {
        (touches, None)
    } else if time >= least {
        (touches.min(row.least.1), short)
    } else {
        (0, short)
    }
}

fn on_surface(cleaner: &Cleaner, time: Option<Seconds>) -> (u16, Option<Shortfall>) {
    let least_ppm = if is_chlorine(cleaner) { LEAST_CHLORINE_PPM } else { 0 };
    if let Some(weak) = too_weak(cleaner, least_ppm) {
        return (0, Some(weak));
    }
    match (cleaner.wet_for, time) {
        (Some(needs), Some(time)) if time < needs => (0, Some(Shortfall::TooShort { needs })),
        _ => (own_worth(cleaner).unwrap_or(SURFACE), None),
    }
}

/// A policy's own figure answers for its own strength.
fn too_weak(cleaner: &Cleaner, needs_ppm: u64) -> Option<Shortfall> {
    let of_this = is_chlorine(cleaner) || is_alcohol(cleaner);
    let ppm = cleaner.strength_ppm.filter(|_| of_this && cleaner.worth.is_none())?;
    (ppm < needs_ppm).then_some(Shortfall::TooWeak { needs_ppm })
}

fn own_worth(cleaner: &Cleaner) -> Option<u16> {
    cleaner.worth.map(|touches| touches.min(100) as u16)
}

fn is_soap(cleaner: &Cleaner) -> bool {
    cleaner.is_soap() && !is_chlorine(cleaner)
}

fn is_chlorine(cleaner: &Cleaner) -> bool {
    is_of(cleaner, &["chlorine", "hypochlorite", "bleach"])
}

fn is_alcohol(cleaner: &Cleaner) -> bool {
    is_of(cleaner, &["alcohol", "ethanol", "propanol"])
}

/// What the strength is of, by the policy's own words; by the cleaner's name where the strength does not say.
fn is_of(cleaner: &Cleaner, substances: &[&str]) -> bool {
    let words = cleaner.substance.as_ref().unwrap_or(&cleaner.name).to_lowercase();
    let is_without = words.split(|c: char| !c.is_alphanumeric()).any(|word| matches!(word, "free" | "non" | "no"));
    !is_without && substances.iter().any(|name| words.contains(name))
}
