//! Logs beyond measure: an answer, and a bound on memory.
//!
//! The quick part runs with every test; the long part (logs of a gigabyte) by `cargo xtask faults`.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::panic)]

mod shop;

use std::fs::{self, File};
use std::io::Write;
use std::process::{Command, Output};
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use shop::{Shop, words};

/// A run with its largest memory, kB, as the system counts it; nothing where it does not.
fn measured(mut command: Command) -> (Output, Option<u64>) {
    let child = command.spawn().unwrap();
    let status = format!("/proc/{}/status", child.id());
    let over = AtomicBool::new(false);
    thread::scope(|s| {
        let watch = s.spawn(|| {
            let mut most = None;
            while !over.load(Ordering::Relaxed) {
                let text = fs::read_to_string(&status).unwrap_or_default();
                let line = text.lines().find_map(|l| l.strip_prefix("VmHWM:"));
                let now = line.and_then(|l| l.trim().trim_end_matches(" kB").parse::<u64>().ok());
                most = most.max(now);
                thread::sleep(Duration::from_millis(2));
            }
            most
        });
        let o = child.wait_with_output().unwrap();
        over.store(true, Ordering::Relaxed);
        (o, watch.join().unwrap())
    })
}

/// One job with this log as its first, reduced alone; peak memory in MB.
fn beyond_measure(name: &str, write: impl FnOnce(&mut dyn Write, &str)) -> (Output, u64, Option<u64>) {
    let shop = Shop::with(name, 1);
    let log = shop.dir.join("in/2025/car-000/before-1.csv");
    let text = fs::read_to_string(&log).unwrap();
    let mut file = std::io::BufWriter::new(File::create(&log).unwrap());
    write(&mut file, &text);
    file.flush().unwrap();
    drop(file);
    let size = fs::metadata(&log).unwrap().len();
    let begun = Instant::now();
    let (o, peak) = measured(shop.command(&shop.dir.join("out"), &["--json"]));
    let peak = peak.map(|kb| kb / 1024);
    println!(
        "{name}: log of {} MB, peak memory {peak:?} MB, {:.1} s, status {:?}\n{:.600}",
        size / 1_000_000,
        begun.elapsed().as_secs_f64(),
        o.status.code(),
        words(&o)
    );
    (o, size / 1_000_000, peak)
}

/// What became of the job with the log; another job of the shop is always refused, so the exit status says nothing.
fn answer(o: &Output) -> String {
    let lines = String::from_utf8_lossy(&o.stdout).into_owned();
    let jobs = lines.lines().filter_map(|l| serde_json::from_str::<serde_json::Value>(l).ok());
    let mut ours = jobs.filter(|j| j["job"] == "2025/car-000/job.toml");
    ours.next().and_then(|j| j["status"].as_str().map(String::from)).unwrap_or_default()
}

fn many_columns(name: &str, rows: usize) -> (Output, u64, Option<u64>) {
    beyond_measure(name, |file, text| {
        for (i, line) in text.lines().take(rows).enumerate() {
            write!(file, "{line}").unwrap();
            for c in 0..100_000 {
                if i == 0 { write!(file, ",x{c}") } else { write!(file, ",{}", c % 10) }.unwrap();
            }
            writeln!(file).unwrap();
        }
    })
}

#[test]
fn a_hundred_thousand_columns_are_answered() {
    let (o, size, peak) = many_columns("columns", 40);
    assert_eq!(o.status.code(), Some(1));
    assert!(words(&o).contains("before-1.csv: "), "{}", words(&o));
    assert!(peak.is_none_or(|p| p < 250 + 2 * size), "{peak:?}");
}

#[test]
#[ignore = "minutes and a gigabyte; run by cargo xtask faults"]
fn a_hundred_thousand_columns_of_a_whole_pull() {
    let (o, size, peak) = many_columns("all-columns", usize::MAX);
    assert_eq!(answer(&o), "done", "{}", words(&o));
    assert!(peak.is_none_or(|p| p < 300 + 2 * size), "{peak:?}");
}

#[test]
#[ignore = "minutes and a gigabyte; run by cargo xtask faults"]
fn ten_million_rows_of_waiting() {
    let (o, size, peak) = beyond_measure("rows", |file, text| {
        file.write_all(text.as_bytes()).unwrap();
        let last = text.lines().last().unwrap();
        let (time, rest) = last.split_once(',').unwrap();
        let (_, rest) = rest.split_once(',').unwrap();
        let start: f64 = time.parse().unwrap();
        // the car stands, the logger runs on
        for i in 1..10_000_000_u32 {
            let standing = 0.01 * f64::from(i % 7);
            writeln!(file, "{:.3},{standing:.2},{rest}", start + 0.02 * f64::from(i)).unwrap();
        }
    });
    assert_eq!(answer(&o), "refused", "{}", words(&o));
    assert!(words(&o).contains("before-1.csv:2:7: "), "{}", words(&o));
    assert!(peak.is_none_or(|p| p < 500 + 4 * size), "{peak:?}");
}

#[test]
#[ignore = "minutes and a gigabyte; run by cargo xtask faults"]
fn a_gigabyte_of_pulls() {
    let (o, size, peak) = beyond_measure("pulls", |file, text| {
        let (header, rows) = text.split_once('\n').unwrap();
        writeln!(file, "{header}").unwrap();
        // the clock starts again with each: the reader makes segments of them; one more digit of speed by a seed, since the
        // same pull would be refused
        let mut seed = 1_u64;
        for _ in 0..1_000_000_000 / rows.len() {
            for row in rows.lines() {
                let (time, rest) = row.split_once(',').unwrap();
                let (speed, rest) = rest.split_once(',').unwrap();
                seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                writeln!(file, "{time},{speed}{},{rest}", (seed >> 33) % 10).unwrap();
            }
        }
    });
    assert_eq!(answer(&o), "done", "{}", words(&o));
    assert!(peak.is_none_or(|p| p < 500 + 4 * size), "{peak:?}");
}
