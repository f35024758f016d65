//! Hostile input: every input that once broke something, and every seed of the fuzz targets with pieces missing,
//! through the same functions that the fuzz targets call. No panic, no number that is none.
#![allow(clippy::panic)]

#[path = "fuzz/src/lib.rs"]
mod fuzz;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};

fn fixtures() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../fixtures")
}

fn run(target: &str, name: &str, data: &[u8], failed: &mut Vec<String>) {
    let Some((_, f)) = fuzz::targets::ALL.iter().find(|(t, _)| *t == target) else {
        failed.push(format!("{name}: no target is called {target}"));
        return;
    };
    if let Err(e) = catch_unwind(AssertUnwindSafe(|| f(data))) {
        let why = e.downcast_ref::<String>().cloned();
        let why = why.or_else(|| e.downcast_ref::<&str>().map(|s| (*s).to_owned())).unwrap_or_default();
        failed.push(format!("{target} {name}: {why}"));
    }
}

fn report(failed: &[String]) {
    assert!(failed.is_empty(), "{} inputs broke something:\n{}", failed.len(), failed.join("\n"));
}

/// Found inputs: the first word of the file name is the target.
#[test]
fn found_inputs_stay_harmless() {
    let mut failed = Vec::new();
    let files = fuzz::seeds::files(&fixtures().join("hostile"), "");
    assert!(files.len() > 5, "the corpus is missing");
    for path in files {
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if name == "README.md" {
            continue;
        }
        let target = name.split(['.', '-']).next().unwrap_or("");
        run(target, &name, &std::fs::read(&path).unwrap(), &mut failed);
    }
    report(&failed);
}

/// Each seed whole; with a stretch missing, doubled, or one byte changed, at places drawn from a fixed seed.
/// `FAIRPULL_HOSTILE_ROUNDS` asks for more than the usual rounds.
#[test]
fn damaged_seeds_stay_harmless() {
    let asked = std::env::var("FAIRPULL_HOSTILE_ROUNDS").ok().and_then(|n| n.parse::<usize>().ok());
    let mut failed = Vec::new();
    let mut state = 0x9E37_79B9_7F4A_7C15u64;
    let mut draw = |below: usize| {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        usize::try_from(state % (below.max(1) as u64)).unwrap()
    };
    for (target, name, data) in fuzz::seeds::all(&fixtures()) {
        run(target, &name, &data, &mut failed);
        for round in 0..asked.unwrap_or(if target == "reduction" { 4 } else { 16 }) {
            let at = draw(data.len());
            let end = (at + 1 + draw(40)).min(data.len());
            let mut bad = data.clone();
            match round % 4 {
                0 => drop(bad.drain(at..end)),
                1 => bad.truncate(at),
                2 => drop(bad.splice(at..at, data[at..end].iter().copied())),
                _ => bad[at] = [b'9', b'-', b'"', b'\n', b',', b'e', 0, 0xff][draw(8)],
            }
            run(target, &format!("{name}, round {round}"), &bad, &mut failed);
        }
    }
    report(&failed);
}

/// Rows longer than what is looked at first: 50,000 columns.
#[test]
fn rows_may_be_wide() {
    use fairpull::recordings::{Column, Layout, Role, read};
    let names: Vec<String> = (0..50_000).map(|n| format!("c{n}")).collect();
    let mut log = format!("Time,{},Roller\n", names.join(","));
    for row in 0..6 {
        log += &format!("0.{row},{}{}\n", "1.5,".repeat(names.len()), 100 + row);
    }
    let layout = Layout::of(vec![
        Column::new(Role::Time, "Time").unit("s"),
        Column::new(Role::RollerSpeed, "Roller").unit("km/h"),
    ]);
    let recording = read(log.as_bytes(), "wide.csv", &layout).unwrap();
    assert_eq!(recording.rows, 6);
    let last = recording.channel(Role::RollerSpeed).unwrap().values[5];
    assert!((last - 105.0 / 3.6).abs() < 1e-12);
}

/// Writes the seeds for the fuzzer where the environment says; the place is checked in any case.
#[test]
fn seeds_reach_every_target() {
    let seeds = fuzz::seeds::all(&fixtures());
    for (target, _) in fuzz::targets::ALL {
        assert!(seeds.iter().any(|(t, _, data)| *t == target && !data.is_empty()), "no seed for {target}");
    }
    let Ok(folder) = std::env::var("FAIRPULL_FUZZ_CORPUS") else { return };
    for (target, name, data) in seeds {
        let folder = Path::new(&folder).join(target);
        std::fs::create_dir_all(&folder).unwrap();
        std::fs::write(folder.join(format!("seed-{name}")), data).unwrap();
    }
}

/// A recipe that were refused at the door would test little: the ordinary ones reach a report.
#[test]
fn ordinary_recipes_reduce() {
    for kind in [0, 1, 2] {
        for choices in [vec![kind], vec![kind, 1, 1], [vec![kind], vec![0; 70]].concat()] {
            let (job, logs) = fuzz::recipe::made(&choices);
            let logs: Vec<&[u8]> = logs.iter().map(Vec::as_slice).collect();
            fuzz::targets::reduced(&job, &logs).unwrap_or_else(|e| panic!("{choices:?}: {e}\n{job}"));
        }
    }
}

/// The browser module answers questions by name; each name stands in its source as an arm, and has a seed here.
#[test]
fn every_question_of_the_browser_has_a_seed() {
    let source = std::fs::read_to_string(fixtures().join("../wasm/src/questions.rs")).unwrap();
    let arms =
        source.lines().filter_map(|l| l.trim().strip_prefix('"')?.split_once("\" => ").map(|(name, _)| name));
    let seeds = fuzz::seeds::all(&fixtures());
    let asked: Vec<String> = seeds.iter().map(|(_, _, d)| String::from_utf8_lossy(d).into_owned()).collect();
    let mut count = 0;
    for name in arms {
        assert!(
            asked.iter().any(|q| q.starts_with(&format!("@{name}\n"))),
            "no seed asks the browser's {name}"
        );
        count += 1;
    }
    assert!(count >= 15, "only {count} questions found in the source");
}
