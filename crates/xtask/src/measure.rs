//! Times, instruction counts and sizes: of the command as a whole here, of its parts by `tests/bench`.

use crate::step::{Failure, Plan, cargo, output};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

const JOB: &str = "fixtures/demo/job.toml";

/// What is counted: name, what a call is, and what the same by hand is called.
const COUNTED: [(&str, &str, &[&str]); 7] = [
    ("factor", "correction factor", &["factor-bare", "factor-unchecked"]),
    ("catalogue", "factor of DIN 70020 by the catalogue, air at hand, with its remark", &[]),
    ("moist-air", "moist air from relative humidity", &["moist-air-bare"]),
    ("conversion", "unit conversion", &["conversion-bare"]),
    ("corrected", "one corrected figure", &["corrected-bare"]),
    ("power", "power from torque and speed", &["power-bare"]),
    ("slice", "slice of 1000 figures", &["slice-bare"]),
];

/// Release builds, then every measurement; `python` adds the side-by-side run against general-purpose libraries.
pub fn bench(plan: &mut Plan, python: bool) -> Result<(), Failure> {
    build(plan)?;
    plan.step("command", |p| {
        let program = program(p, "fairpull");
        let start = median(&program, &["--version"], &p.root, 41)?;
        let out = p.target().join("bench-report");
        let out = out.to_string_lossy().into_owned();
        let job = median(&program, &["reduce", JOB, "--out", &out, "--force"], &p.root, 11)?;
        println!("   start:    {start:>7.1} ms (promised: under 15)");
        println!("   demo job: {job:>7.1} ms (promised: under 300)");
        if let Ok(m) = std::fs::metadata(&program) {
            println!(
                "   command: {} kB (cargo xtask wasm prints the sizes of the browser modules)",
                m.len() / 1000
            );
        }
        Ok(())
    })?;
    let parts = Command::new(program(plan, "fairpull-bench"));
    plan.command("parts, each beside its limit", parts)?;
    count(plan)?;
    if python { crate::reference::side_by_side(plan) } else { Ok(()) }
}

/// The instruction counts alone.
pub fn counts(plan: &mut Plan) -> Result<(), Failure> {
    build(plan)?;
    count(plan)
}

fn build(plan: &mut Plan) -> Result<(), Failure> {
    let words =
        ["build", "--locked", "--release", "--package", "fairpull-cli", "--package", "fairpull-bench"];
    let build = cargo(plan, &words);
    plan.command("release build", build)
}

fn program(plan: &Plan, name: &str) -> std::path::PathBuf {
    plan.target().join("release").join(format!("{name}{}", std::env::consts::EXE_SUFFIX))
}

/// Instructions of one typed call beside those of the same by hand.
fn count(plan: &mut Plan) -> Result<(), Failure> {
    plan.step("instructions a call", |p| {
        if output("valgrind", &["--version"]).is_none() {
            println!("   not counted: valgrind is not installed (Debian: apt-get install valgrind)");
            return Ok(());
        }
        let counts = program(p, "counts");
        println!("   | call | typed | by hand |");
        for (name, what, others) in COUNTED {
            let typed = instructions(&counts, name)?;
            let mut bare = Vec::new();
            for other in others {
                bare.push(format!("{other} {:.1}", instructions(&counts, other)?));
            }
            println!("   | {what} | {typed:.1} | {} |", bare.join(", "));
        }
        Ok(())
    })
}

/// Instructions of one call: those of a run with calls less those of a run without.
fn instructions(counts: &Path, name: &str) -> Result<f64, Failure> {
    const CALLS: u32 = 2000;
    let run = |calls: u32| -> Result<f64, Failure> {
        let again = format!("valgrind --tool=callgrind {} {name} {calls}", counts.display());
        let failed = |why: &str| Failure::new(format!("`{again}`: {why}"), &*again);
        let done = Command::new("valgrind")
            .args(["--tool=callgrind", "--callgrind-out-file=/dev/null"])
            .arg(counts)
            .args([name, &calls.to_string()])
            .output()
            .map_err(|e| failed(&e.to_string()))?;
        let said = String::from_utf8_lossy(&done.stderr).into_owned();
        let total = said.lines().find_map(|l| l.split_once("Collected : ")).map(|(_, n)| n.trim().to_owned());
        let total = total.filter(|_| done.status.success()).and_then(|n| n.parse::<f64>().ok());
        total.ok_or_else(|| failed("no count"))
    };
    Ok((run(CALLS)? - run(0)?) / f64::from(CALLS))
}

/// Milliseconds, median of `runs` after one that warms the caches.
fn median(program: &Path, words: &[&str], folder: &Path, runs: usize) -> Result<f64, Failure> {
    let again = format!("{} {}", program.display(), words.join(" "));
    let mut times = Vec::with_capacity(runs);
    for _ in 0..=runs {
        let begun = Instant::now();
        let status = Command::new(program)
            .args(words)
            .current_dir(folder)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .map_err(|e| Failure::new(format!("{}: {e}", program.display()), &*again))?;
        if !status.success() {
            return Err(Failure::new(format!("`{again}` ended with {status}"), again));
        }
        times.push(begun.elapsed().as_secs_f64() * 1e3);
    }
    times.remove(0);
    times.sort_by(f64::total_cmp);
    Ok(times[times.len() / 2])
}
