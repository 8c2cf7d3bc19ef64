//! The commands. `serve` and `make` answer through the same router.

mod args;
mod make;
mod print;
mod start;

use crate::{examples, openapi};
use args::{Cli, Command};
use clap::Parser;
use std::ffi::OsString;
use std::process::ExitCode;

/// How a command ended, as its exit code.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Exit {
    /// Done; for `make`: ok or warn.
    Done = 0,
    /// A fault of ours.
    Broken = 1,
    /// Refused: nothing was written.
    Refused = 2,
    /// The input cannot be read: no such file, no JSON, not a request, no such option.
    Unreadable = 3,
    /// The output cannot be written, or the address not be bound.
    CannotWrite = 4,
    /// Not done within the deadline.
    OutOfTime = 5,
}

impl From<Exit> for ExitCode {
    fn from(e: Exit) -> Self {
        Self::from(e as u8)
    }
}

/// Runs the command that the arguments name.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(e) => {
            let _ = e.print();
            return if e.use_stderr() { Exit::Unreadable } else { Exit::Done }.into();
        }
    };
    match cli.command {
        Command::Serve(a) => start::serve(a),
        Command::Make(a) => make::make(&a),
        Command::Openapi => print::text(&openapi::text()),
        Command::Example(a) => example(a.name.as_deref()),
    }
    .into()
}

/// One example as it stands in its file, or the names of all.
fn example(name: Option<&str>) -> Exit {
    let names = || examples::all().iter().map(|e| e.name).collect::<Vec<_>>();
    match name {
        None => print::text(&(names().join("\n") + "\n")),
        Some(name) => match examples::named(name) {
            Some(e) => print::text(&examples::text(&e)),
            None => {
                print::fault(Exit::Unreadable, &format!("no example of this name; there are: {}", names().join(", ")))
            }
        },
    }
}
