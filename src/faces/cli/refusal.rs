//! Arguments that cannot be understood, told in plain words.
//!
//! In: clap's account of it. Out: one sentence, and where to read more. Must never use clap's own words for a mistake.

use clap::error::{ContextKind, ContextValue, ErrorKind};

use super::Ending;

pub fn answer(error: &clap::Error) -> Ending {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            let _ = error.print();
            Ending::Clear
        }
        ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            let _ = error.print();
            Ending::CouldNotRun
        }
        _ => {
            anstream::eprintln!("{}\nFor help: anteroom --help", sentence(error));
            Ending::CouldNotRun
        }
    }
}

fn sentence(error: &clap::Error) -> String {
    let word = |kind| match error.get(kind) {
        Some(ContextValue::String(word)) => Some(word.clone()),
        Some(ContextValue::Strings(words)) => words.first().cloned(),
        _ => None,
    };
    let argument = word(ContextKind::InvalidArg).unwrap_or_default();
    let value = word(ContextKind::InvalidValue).unwrap_or_default();
    let near = [ContextKind::SuggestedSubcommand, ContextKind::SuggestedArg, ContextKind::SuggestedValue];
    let near = near.into_iter().find_map(word).map(|near| format!(" Did you mean “{near}”?")).unwrap_or_default();
    match error.kind() {
        ErrorKind::InvalidSubcommand => {
            let wanted = word(ContextKind::InvalidSubcommand).unwrap_or_default();
            format!("There is no command “{wanted}”.{near}")
        }
        ErrorKind::UnknownArgument => format!("“{argument}” means nothing here.{near}"),
        ErrorKind::MissingRequiredArgument => format!("Something is missing: {argument}."),
        ErrorKind::InvalidValue if value.is_empty() => format!("Something is missing after {argument}."),
        ErrorKind::InvalidValue => format!("“{value}” does not go with {argument}.{near}{}", known(error)),
        ErrorKind::ValueValidation => {
            let why = std::error::Error::source(error).map(|why| format!(": {why}")).unwrap_or_default();
            format!("“{value}” does not go with {argument}{why}.")
        }
        ErrorKind::ArgumentConflict => format!("{argument} cannot be given here, or is given twice."),
        ErrorKind::InvalidUtf8 => "A name given on the command line is not saved as UTF-8.".into(),
        _ => "The command is not understood.".into(),
    }
}

fn known(error: &clap::Error) -> String {
    match error.get(ContextKind::ValidValue) {
        Some(ContextValue::Strings(words)) if !words.is_empty() => format!(" Known: {}.", words.join(", ")),
        _ => String::new(),
    }
}
