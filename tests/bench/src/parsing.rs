//! A log read, beside the raw file, a bare scan for separators, and a general-purpose reader on the same columns.

use std::fs::File;
use std::hint::black_box as see;
use std::io::Read;
use std::process::ExitCode;

use fairpull_bench::table::Line;
use fairpull_bench::{by_turns, inputs, keep};
use fairpull_recordings::{Column, Layout, Role, read, read_from};

/// Reads logs with the columns of the demo and says how many rows there are.
pub fn only(logs: &[String]) -> ExitCode {
    let of = |role, name| Column::new(role, name);
    let layout = Layout::of(vec![
        of(Role::Time, "Time"),
        of(Role::RollerSpeed, "Roller"),
        of(Role::EngineSpeed, "Engine"),
        of(Role::IntakeTemperature, "Intake"),
    ]);
    let mut rows = 0;
    for log in logs {
        let read = File::open(log).map_err(|e| e.to_string());
        match read.and_then(|mut f| read_from(&mut f, log, &layout).map_err(|e| e.to_string())) {
            Ok(recording) => rows += recording.rows,
            Err(e) => {
                println!("{log}: {e}");
                return ExitCode::FAILURE;
            }
        }
    }
    println!("{rows} rows");
    ExitCode::SUCCESS
}

pub fn run() {
    let log = inputs::log(200_000);
    let layout = inputs::layout();
    let path = std::env::temp_dir().join(format!("fairpull-bench-{}.csv", std::process::id()));
    if let Err(e) = std::fs::write(&path, &log) {
        println!("| log read | not measured: {}: {e} | | |", path.display());
        return;
    }
    let mut buffer = vec![0; 1 << 18];
    let [file, memory, raw, scan, plain] = by_turns(
        9,
        [
            &mut || keep(File::open(&path).map(|mut f| read_from(&mut f, "log.csv", &layout))),
            &mut || keep(read(log.as_bytes(), "log.csv", &layout)),
            &mut || {
                if let Ok(mut f) = File::open(&path) {
                    while f.read(see(&mut buffer)).is_ok_and(|n| n > 0) {}
                }
            },
            &mut || keep(memchr::memchr2_iter(b';', b'\n', log.as_bytes()).count()),
            &mut || keep(inputs::plain_read(log.as_bytes())),
        ],
    );
    let megabytes = log.len() as f64 / 1e6;
    let line =
        |what, ours, limit| Line { what, units: megabytes, unit: "MB", ours, limit: Some(limit) }.print();
    line("log read from a file, 5 of 12 columns", file, ("raw file read", raw));
    line("log read from memory, 5 of 12 columns", memory, ("scan for separators", scan));
    line(
        "log read from memory, 5 of 12 columns",
        memory,
        ("split and convert only (csv, fast-float2)", plain),
    );
    let _ = std::fs::remove_file(&path);
}
