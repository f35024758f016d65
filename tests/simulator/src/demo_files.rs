//! The demo job as files: recordings, job file, truth, README.

use core::fmt::Write;

use crate::{PLANTED, Run, demo_scenario};

/// The text of the demo's `truth.toml`.
#[must_use]
pub fn truth_toml(run: &Run, seed: u64) -> String {
    let mut out =
        String::from("# Invented data: no real car, shop or person. What the demo's generator put in.\n");
    let _ = writeln!(out, "schema = \"fairpull-truth-1\"\nseed = {seed}\n");
    let grid: Vec<f64> = (20..=65).map(|k| f64::from(k) * 100.0).collect();
    let list = |f: &dyn Fn(f64) -> f64, decimals: usize| {
        let items: Vec<String> = grid.iter().map(|n| format!("{:.decimals$}", f(*n))).collect();
        format!("[{}]", items.join(", "))
    };
    let truth = &run.truth;
    let _ = writeln!(out, "# Crank figures on reference air (ISO 1585), without heat soak and scatter.");
    let _ = writeln!(out, "engine_speed_rpm = {}", list(&|n| n, 0));
    let _ = writeln!(out, "gain_percent = {}\n", list(&|n| 100.0 * truth.gain(0, 1, n), 4));
    let h = &truth.hidden;
    let _ = writeln!(out, "# True value against the declared one.\n[hidden]");
    let _ = writeln!(out, "roller_inertia_percent = {:.4}", 100.0 * h.roller_inertia);
    let _ = writeln!(out, "roller_radius_percent = {:.4}", -100.0 * h.roller_radius);
    let _ = writeln!(out, "engine_inertia_percent = {:.4}", 100.0 * h.engine_inertia);
    let _ = writeln!(out, "load_share_percent = {:.4}", 100.0 * h.load_share);
    let _ = writeln!(out, "slip_per_newton = {:?}", run.job.vehicle.slip_per_newton);
    for (k, s) in truth.states.iter().enumerate() {
        let (peak_rpm, peak_w) = truth.peak_power(k, 2000.0, 6500.0);
        let _ = writeln!(out, "\n[[state]]\nname = \"{}\"", s.name);
        let _ = writeln!(out, "peak_power_kw = {:.3}\npeak_power_rpm = {peak_rpm:.0}", peak_w / 1000.0);
        let _ = writeln!(
            out,
            "true_air = {{ pressure_kpa = {:.4}, temperature_c = {:.3}, humidity_percent = {:.2} }}",
            s.air.pressure_kpa,
            s.air.temperature_c,
            100.0 * s.air.humidity
        );
        let _ = writeln!(out, "# Share of the power that heat soak leaves, mean over the pulls.");
        let _ = writeln!(out, "soak_share = {:.6}", truth.soak_share(k));
        let _ = writeln!(out, "crank_power_kw = {}", list(&|n| truth.crank_power_w(k, n) / 1000.0, 3));
        let _ = writeln!(out, "crank_torque_nm = {}", list(&|n| truth.crank_torque_nm(k, n), 3));
        for p in &s.pulls {
            let _ = writeln!(out, "\n[[state.pull]]\nfile = \"{}\"", p.file);
            let _ = writeln!(out, "level = {:.6}\nsoak_k = {:.3}", p.level, p.soak_k);
            let _ = writeln!(out, "from_s = {:.3}\nto_s = {:.3}", p.span_s.0, p.span_s.1);
        }
    }
    for (file, what) in PLANTED {
        let _ = writeln!(out, "\n[[planted]]\nfile = \"{file}\"\nwhat = \"{what}\"");
    }
    out
}

/// The demo's README.
#[must_use]
pub fn demo_readme(seed: u64) -> String {
    let mut out = String::from(
        "# Demo job\n\n**Everything here is invented.** No real car, workshop, person or recording stands behind it; \
         the figures are ours\nand prove nothing about any product.\n\n\
         - `job.toml`: what an invented workshop declares about car, rig, weather and logs.\n\
         - `before-*.csv`, `after-*.csv`: eight recordings on an inertia roller, each a pull with its coast-down, \
         at about 50 Hz.\n\
         - `truth.toml`: what the generator put in. The reduction never reads it; a test holds its result against it.\n\n\
         `cargo run --release -- reduce fixtures/demo/job.toml` reduces it.\n\
         Made by `cargo run -p fairpull-simulator --bin demo -- fixtures/demo`",
    );
    let _ = writeln!(out, " with seed {seed}; the same seed gives the same bytes.\n");
    let _ = writeln!(out, "| log | planted on purpose |\n|---|---|");
    for (file, what) in PLANTED {
        let _ = writeln!(out, "| `{file}` | {what} |");
    }
    out
}

/// Every file of the demo: name and content.
#[must_use]
pub fn demo_files(seed: u64) -> Vec<(String, Vec<u8>)> {
    let run = demo_scenario().run(seed);
    let mut files = vec![
        ("README.md".to_string(), demo_readme(seed).into_bytes()),
        ("truth.toml".to_string(), truth_toml(&run, seed).into_bytes()),
    ];
    files.extend(run.files());
    files
}
