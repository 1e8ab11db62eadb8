//! The command line: arguments, progress, exit codes.
//! Results go to standard output, everything else to standard error.

mod args;
mod board;
mod commands;
mod cost;
mod cues;
mod figures;
mod fix;
mod listen;
mod motion;
mod moving;
mod prices;
mod proof;
mod reel;
mod shoot;
mod slates;
mod stamps;
mod start;
mod table;
mod terminal;
mod timeline;

use crate::desk::Fault;
use crate::diag::Findings;
use crate::span::Texts;
use clap::Parser as _;
use std::ffi::OsString;
use std::io;

/// Why a command did not do what it was asked to.
enum Failure {
    /// The command line is at fault; says what to write.
    CommandLine(String),
    /// The sources or the output folder are; every finding, and the texts it points into.
    Findings(Findings, Texts),
    /// Something published is no longer so, or something said is not; standard output says what.
    Untrue,
    /// Standard output can't be written to.
    Output(io::Error),
    /// The machine would not do something else.
    Machine(io::Error),
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

impl From<Fault> for Failure {
    fn from(fault: Fault) -> Self {
        match fault {
            Fault::Request(why) | Fault::Meanwhile(why) => Self::CommandLine(why),
            Fault::Findings(findings, texts) => Self::Findings(findings, texts),
            Fault::Io(error) => Self::Machine(error),
        }
    }
}

/// Runs a command line and returns the exit code: 0 done, 1 the sources are at fault, 2 the command line is.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> u8 {
    let cli = match args::Cli::try_parse_from(arguments) {
        Ok(cli) => cli,
        Err(told) => {
            // Help and the version come this way too, and go to standard output.
            if told.use_stderr() {
                terminal::tell(told.render().to_string().trim_end());
                return 2;
            }
            let _ = told.print();
            return 0;
        }
    };
    match commands::run(&cli) {
        Ok(()) => 0,
        Err(Failure::CommandLine(why)) => {
            terminal::tell(&format!("error: {why}"));
            2
        }
        Err(Failure::Findings(findings, texts)) => {
            terminal::report(&findings, &texts);
            1
        }
        Err(Failure::Untrue) => 1,
        Err(Failure::Output(error)) => {
            terminal::tell(&format!("error: can't write the result: {error}"));
            1
        }
        Err(Failure::Machine(error)) => {
            terminal::tell(&format!("error: the machine would not: {error}"));
            1
        }
    }
}
