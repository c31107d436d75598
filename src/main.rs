//! The program: arguments in, exit status out. Everything else is the library's.

use std::process::ExitCode;

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|fault| eprint!("{}", anteroom::faces::cli::own_fault(&fault.to_string()))));
    std::panic::catch_unwind(|| anteroom::faces::cli::run(std::env::args_os()))
        .unwrap_or(ExitCode::from(anteroom::faces::cli::COULD_NOT_RUN))
}
