//! The tests that see the program from outside: one module a subject.

mod aids;
mod approach;
mod bad_input;
mod calibration;
mod choice;
mod cleaning;
mod commands;
mod compare;
mod edges;
mod family;
mod faulty;
mod fuzz;
mod git;
mod guidance;
#[cfg(feature = "typeset")]
#[path = "../benches/handing_over.rs"]
mod handing_over;
mod independent;
mod kit_and_waste;
mod kits;
mod language_reference;
mod languages;
mod layers;
mod meaning;
mod merge;
mod mistakes;
mod oracle;
mod outbox;
#[cfg(feature = "typeset")]
mod pictures;
mod policies;
mod policy;
mod press;
#[cfg(feature = "typeset")]
mod press_sheets;
#[cfg(feature = "typeset")]
mod printed_languages;
mod properties;
mod published;
mod reading;
mod readme;
mod release;
#[cfg(feature = "typeset")]
mod review_sheet;
mod rule_pages;
mod shelf;
mod status;
mod tidy_house;
mod times;
mod told;
mod traceable;
#[cfg(feature = "typeset")]
mod typeset;
#[cfg(feature = "typeset")]
mod typeset_fixtures;
mod walk;
mod walk_chart;
