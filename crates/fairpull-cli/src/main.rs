//! The `fairpull` command: engine power figures on one footing.

mod air;
mod archive;
mod archive_desk;
mod args;
mod brief;
mod catalogue;
mod columns;
mod convert;
mod factors;
mod fail;
mod figures;
mod files;
mod fuel;
mod knock;
mod out;
mod place;
mod progress;
mod reduce;
mod restate;
mod road;
mod road_car;
mod stress;
mod stress_args;
mod table;
mod unused;
mod vet;

use std::process::ExitCode;

use clap::{CommandFactory, Parser};
use fairpull::report::escape::clean_line;

use args::{Args, Command};
use fail::Fail;

fn main() -> ExitCode {
    let done = match Args::try_parse() {
        Ok(args) => run(args),
        Err(e) if e.use_stderr() => {
            let e = cleaned().and_then(|args| Args::try_parse_from(args).err()).unwrap_or(e);
            out::told_styled(|colour| usage(&e, colour));
            return ExitCode::from(2);
        }
        // help and version are results like any other: a full disk is no success
        Err(e) => out::styled(|colour| usage(&e, colour)),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(Fail::Pipe) => ExitCode::SUCCESS,
        Err(fail) => {
            fail.print();
            ExitCode::from(fail.status())
        }
    }
}

/// The arguments as one line each, when they are not: a complaint about them shows them.
fn cleaned() -> Option<Vec<String>> {
    let lines = || std::env::args_os().map(|a| a.to_string_lossy().into_owned());
    lines().any(|a| clean_line(&a) != a).then(|| lines().map(|a| clean_line(&a)).collect())
}

fn usage(e: &clap::Error, colour: bool) -> String {
    if colour { e.render().ansi().to_string() } else { e.to_string() }
}

fn run(args: Args) -> Result<(), Fail> {
    match args.command {
        Command::Convert(a) => convert::run(&a),
        Command::Air(a) => air::run(&a),
        Command::Factors(a) => factors::run(&a),
        Command::Restate(a) => restate::run(&a),
        Command::Columns(a) => columns::run(&a),
        Command::Reduce(a) => reduce::run(&a),
        Command::Fuel(a) => fuel::run(&a),
        Command::Knock(a) => knock::run(&a),
        Command::Stress(a) => stress::run(&a),
        Command::Road(a) => road::run(&a),
        Command::Vet(a) => vet::run(&a),
        Command::Catalogue(a) => catalogue::run(&a),
        Command::Completions { shell } => {
            let mut buffer = Vec::new();
            clap_complete::generate(shell, &mut Args::command(), "fairpull", &mut buffer);
            out::data(&buffer)
        }
        Command::Man => {
            let mut buffer = Vec::new();
            clap_mangen::Man::new(Args::command())
                .render(&mut buffer)
                .map_err(|e| Fail::plain(e.to_string()))?;
            out::data(&buffer)
        }
    }
}
