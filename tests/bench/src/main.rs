//! Each figure beside its limit in the same run: `cargo xtask bench`, or `cargo run --release -p fairpull-bench --bin fairpull-bench`;
//! `fairpull-bench small` stops after the single calls; `fairpull-bench read LOG...` only reads logs of the demo's form.
#![forbid(unsafe_code)]

mod jobs;
mod memory;
mod parsing;
mod small;

use std::process::ExitCode;

use fairpull_bench::table;

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let Some(("read", logs)) = words.split_first().map(|(w, logs)| (w.as_str(), logs)) {
        return parsing::only(logs);
    }
    table::head();
    small::run();
    if words.first().is_some_and(|w| w == "small") {
        return ExitCode::SUCCESS;
    }
    memory::run();
    parsing::run();
    jobs::run();
    ExitCode::SUCCESS
}
