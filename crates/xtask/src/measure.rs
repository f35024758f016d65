//! Times and sizes that the project promises.

use crate::step::{Failure, Plan, cargo};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Instant;

const JOB: &str = "fixtures/demo/job.toml";

/// Release build, then the median of repeated runs.
pub fn bench(plan: &mut Plan) -> Result<(), Failure> {
    let build = cargo(plan, &["build", "--locked", "--release", "--package", "fairpull-cli"]);
    plan.command("release build", build)?;
    plan.step("measure", |p| {
        let program = p.target().join("release").join(format!("fairpull{}", std::env::consts::EXE_SUFFIX));
        let start = median(&program, &["--version"], &p.root, 41)?;
        let out = p.target().join("bench-report");
        let out = out.to_string_lossy().into_owned();
        let job = median(&program, &["reduce", JOB, "--out", &out, "--force"], &p.root, 11)?;
        println!("   start:    {start:>7.1} ms (promised: under 15)");
        println!("   demo job: {job:>7.1} ms (promised: under 300)");
        for (name, file) in
            [("command", program), ("browser module", p.root.join("wasm/lib/fairpull_bg.wasm"))]
        {
            if let Ok(m) = std::fs::metadata(&file) {
                println!("   {name}: {} kB", m.len() / 1000);
            }
        }
        Ok(())
    })
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
