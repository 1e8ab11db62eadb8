//! The thin binary: hands the command line to the library and exits with its code.

use std::process::ExitCode;

fn main() -> ExitCode {
    tallyspoon::cli::run(std::env::args_os()).into()
}
