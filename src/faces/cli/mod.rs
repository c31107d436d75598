//! The command line: one file for each command.
//!
//! In: arguments. Out: words on the terminal, and an exit status: 0 nothing at DANGER or WARNING, 1 something at DANGER
//! or WARNING, 2 could not run, 130 stopped by the person. Only this folder knows clap.

mod check;
mod compare;
mod completions;
mod explain;
mod git_diff;
mod git_merge;
mod git_setup;
mod git_textconv;
mod in_turn;
mod issue;
mod manual;
mod policies;
mod print;
#[cfg(feature = "typeset")]
mod progress;
mod refusal;
mod release;
mod schema;
mod screen;
mod start;
mod status;
mod tidy;
mod translate;
mod verify;
mod when;
mod word_files;

use std::ffi::OsString;
use std::process::ExitCode;

use clap::{CommandFactory, FromArgMatches, Parser, Subcommand};

use crate::aids;
use crate::findings::closing::CAUTION;
use crate::policy::Day;
use crate::translation::is_tag;
use screen::Screen;

/// The exit status of a run that could not do its work.
pub const COULD_NOT_RUN: u8 = 2;
const STOPPED: i32 = 130;

/// Turns a hospital's own written procedures for protective equipment into checked, printable aids
#[derive(Parser)]
#[command(name = "anteroom", version, disable_help_subcommand = true, arg_required_else_help = true)]
#[command(after_help = format!("{EXIT_STATUS}\n\n{CAUTION}"))]
struct Arguments {
    /// Plain sentences without drawings or colour, for screen readers (always so in a pipe)
    #[arg(long, global = true)]
    plain: bool,
    #[command(subcommand)]
    command: Command,
}

const EXIT_STATUS: &str = "Exit status: 0 nothing at DANGER or WARNING, 1 something at DANGER or WARNING (what the \
                           policy itself accepts does not count), 2 could not run.";

#[derive(Subcommand)]
enum Command {
    Start(start::Start),
    Check(check::Check),
    Compare(compare::Compare),
    Tidy(tidy::Tidy),
    Explain(explain::Explain),
    Print(print::Print),
    Translate(translate::Translate),
    Issue(issue::Issue),
    Verify(verify::Verify),
    Status(status::Status),
    Release(release::Release),
    GitSetup(git_setup::GitSetup),
    GitDiff(git_diff::GitDiff),
    GitMerge(git_merge::GitMerge),
    GitTextconv(git_textconv::GitTextconv),
    Completions(completions::Completions),
    Manual(manual::Manual),
    Schema(schema::Schema),
}

/// How a run ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ending {
    /// Nothing at DANGER or WARNING.
    Clear,
    /// Something at DANGER or WARNING.
    Grave,
    CouldNotRun,
}

impl From<Ending> for ExitCode {
    fn from(ending: Ending) -> ExitCode {
        ExitCode::from(match ending {
            Ending::Clear => 0,
            Ending::Grave => 1,
            Ending::CouldNotRun => COULD_NOT_RUN,
        })
    }
}

pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    // Where signals cannot be watched, the system's own way of stopping is left.
    let _ = ctrlc::set_handler(|| crate::faces::outbox::abandon(STOPPED));
    let matches = Arguments::command().try_get_matches_from(arguments);
    let arguments = match matches.and_then(|matches| Arguments::from_arg_matches(&matches)) {
        Ok(arguments) => arguments,
        Err(error) => return refusal::answer(&error).into(),
    };
    let mut screen = Screen::new(arguments.plain);
    let ending = match arguments.command {
        Command::Start(start) => start.run(&mut screen),
        Command::Check(check) => check.run(&mut screen),
        Command::Compare(compare) => compare.run(&mut screen),
        Command::Tidy(tidy) => tidy.run(&mut screen),
        Command::Explain(explain) => explain.run(&mut screen),
        Command::Print(print) => print.run(&mut screen),
        Command::Translate(translate) => translate.run(&mut screen),
        Command::Issue(issue) => issue.run(&mut screen),
        Command::Verify(verify) => verify.run(&mut screen),
        Command::Status(status) => status.run(&mut screen),
        Command::Release(release) => release.run(&mut screen),
        Command::GitSetup(setup) => setup.run(&mut screen),
        Command::GitDiff(diff) => diff.run(&mut screen),
        Command::GitMerge(merge) => merge.run(&mut screen),
        Command::GitTextconv(textconv) => textconv.run(&mut screen),
        Command::Completions(completions) => completions.run(&mut screen),
        Command::Manual(manual) => manual.run(&mut screen),
        Command::Schema(schema) => schema.run(&mut screen),
    };
    screen.end(ending).into()
}

/// A date as a command line gives it.
fn day(text: &str) -> Result<Day, String> {
    Day::from_iso(text).ok_or_else(|| "write a date of the calendar as 2026-11-30".to_string())
}

/// A language that the aids speak, by its tag.
fn language(text: &str) -> Result<String, String> {
    if is_tag(text) && aids::speaks(text) {
        return Ok(text.to_owned());
    }
    Err(format!("the aids speak {}", aids::languages().join(", ")))
}

/// The day on the computer's calendar.
fn today() -> Day {
    Day(jiff::ZonedDateTime::now().date())
}

/// What is said when the program itself breaks.
pub fn own_fault(fault: &str) -> String {
    format!(
        "\nanteroom has broken down. This is a fault of the program, not of your policy and not of anything you did.\n\
         Nothing that was already written is lost, and no half-written file is left.\n\
         Please send your policy file, the command you gave and these lines to whoever looks after the program:\n  \
         anteroom {}\n  {}\n",
        env!("CARGO_PKG_VERSION"),
        fault.replace('\n', "\n  ")
    )
}
