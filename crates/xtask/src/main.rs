//! Chores of the repository: `cargo xtask <chore>`. Standard library only, so that it is built in a second or two.

mod api;
mod bare;
mod chores;
mod dependencies;
mod every;
mod licence;
mod measure;
mod reference;
mod release;
mod setup;
mod step;
mod supply;
mod wasm;

use std::process::ExitCode;
use step::{Failure, Plan};

const HELP: &str = "\
cargo xtask <chore>

  test [--no-browser]   every check, from a clean clone: setup, format, lints, tests, doc tests, documentation,
                        bare-metal build, link proof, browser module and its tests, SQL functions; stops at the first
                        failure
  setup [--no-browser]  only what `test` needs: targets, npm packages, Chromium
  supply [--write]      licences, doubled versions, sources, oldest compiler; --write: the table of docs/dependencies.md
  api [--write]         the public items of each library against docs/api; --write: accept the change
  release-check         `supply`, `api`, then a dry run of every publication (cargo and npm)
  bare [--write]        the bare-metal build and the link proof alone; --write: name the functions of docs/api in it
  wasm                  the browser module and the npm package in wasm/
  sql                   the SQL functions in their own workspace: format, lints, tests
  bench                 starting time of the command, time of the demo job, sizes; every part beside its limit in the
                        same run; instructions of the typed calls (needs valgrind)
  bench --counts        the instructions alone
  bench --python        also the same work by general-purpose Python libraries, versions pinned
  truth                 the reduction against the known truth of the simulator, many seeds (release build)
  faults                runs over an archive killed 200 times, logs of a gigabyte (release build, minutes)
  reference             the fixtures again from their reference libraries (Python), and what changed
  docs                  the documentation of every crate, warnings refused

--no-browser leaves out what needs Chromium.";

fn main() -> ExitCode {
    if let Some(code) = api::as_rustdoc() {
        return code;
    }
    let words: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["test"] => run(|p| chores::test(p, true)),
        ["test", "--no-browser"] => run(|p| chores::test(p, false)),
        ["setup"] => run(|p| setup::all(p, true)),
        ["setup", "--no-browser"] => run(|p| setup::all(p, false)),
        ["supply"] => run(|p| supply::check(p, false)),
        ["supply", "--write"] => run(|p| supply::check(p, true)),
        ["api"] => run(|p| api::check(p, false)),
        ["api", "--write"] => run(|p| api::check(p, true)),
        ["release-check"] => run(release::check),
        ["bare"] => run(|p| chores::bare_alone(p, false)),
        ["bare", "--write"] => run(|p| chores::bare_alone(p, true)),
        ["wasm"] => run(chores::wasm_alone),
        ["sql"] => run(chores::sql),
        ["bench"] => run(|p| measure::bench(p, false)),
        ["bench", "--python"] => run(|p| measure::bench(p, true)),
        ["bench", "--counts"] => run(measure::counts),
        ["truth"] => run(chores::truth),
        ["faults"] => run(chores::faults),
        ["reference"] => run(reference::all),
        ["docs"] => run(chores::docs),
        ["help" | "--help" | "-h"] => {
            println!("{HELP}");
            return ExitCode::SUCCESS;
        }
        _ => {
            eprintln!("unknown chore: {}\n\n{HELP}", words.join(" "));
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("\nfailed: {}\nrun again: {}", failure.what, failure.again);
            ExitCode::FAILURE
        }
    }
}

fn run(chore: impl FnOnce(&mut Plan) -> Result<(), Failure>) -> Result<(), Failure> {
    let mut plan = Plan::new();
    let done = chore(&mut plan);
    plan.report(done.is_ok());
    done
}
