//! Each figure beside its limit in the same run: `cargo xtask bench`, or `cargo run --release -p fairpull-bench --bin fairpull-bench`;
//! `fairpull-bench small` stops after the single calls.
#![forbid(unsafe_code)]

mod jobs;
mod memory;
mod parsing;
mod small;

use fairpull_bench::table;

fn main() {
    table::head();
    small::run();
    if std::env::args().nth(1).as_deref() == Some("small") {
        return;
    }
    memory::run();
    parsing::run();
    jobs::run();
}
