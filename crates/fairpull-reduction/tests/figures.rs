//! Figures of a few jobs to eight digits, as they were when each was last looked into: a change that moves one shows here
//! and belongs into the changelog. That they are right is for the other tests to say; these cover what those pass through.
#![allow(clippy::unwrap_used, clippy::panic)]

mod made;

use std::fmt::Write;

use fairpull_reduction::{Bounded, Job, Outcome, reduce};
use made::{Kind, Log};

fn n(x: f64) -> String {
    format!("{x:.7e}")
}

fn b(x: &Bounded) -> String {
    format!("{} [{}, {}]", n(x.value), n(x.low), n(x.high))
}

/// Every figure and word of an outcome; curves at every fifth point and at their ends.
fn figures(out: &Outcome) -> String {
    let mut t = String::new();
    let few = |k: usize, of: usize| k.is_multiple_of(5) || k < 2 || k + 2 >= of;
    let (first, last) = (out.grid[0], out.grid[out.grid.len() - 1]);
    writeln!(
        t,
        "grid {} to {} in {}, band {} to {}",
        n(first),
        n(last),
        out.grid.len(),
        n(out.band.0),
        n(out.band.1)
    )
    .unwrap();
    let d = &out.drive;
    writeln!(
        t,
        "{}; travel {}, slip {}, delay {}, {}",
        out.loss_model,
        n(d.travel_per_turn),
        n(d.slip_per_kilonewton),
        n(d.delay),
        d.measured
    )
    .unwrap();
    for s in &out.states {
        writeln!(t, "state {}", s.name).unwrap();
        for p in &s.pulls {
            writeln!(t, "  pull {}: {} s for {} s, {} rows, {} to {}, factor {}, blind {}, peak {} at {}, level {}, loss {}", p.name, n(p.start), n(p.seconds), p.samples, n(p.reach.0), n(p.reach.1), n(p.factor), n(p.blind), n(p.peak.0), n(p.peak.1), n(p.level), n(p.loss)).unwrap();
            writeln!(t, "    {}; {:?}; {:?}; {:?}", p.coast, p.repairs, p.flags, p.factor_notes).unwrap();
            let curve: Vec<String> = p
                .curve
                .iter()
                .enumerate()
                .filter(|(k, _)| few(*k, p.curve.len()))
                .map(|(_, x)| n(*x))
                .collect();
            writeln!(t, "    {}", curve.join(" ")).unwrap();
        }
        for (_, p) in s.curve.iter().enumerate().filter(|(k, _)| few(*k, s.curve.len())) {
            writeln!(
                t,
                "  {} {}: {} band {} wheel {} of {}, run {} rig {}",
                p.index,
                n(p.rpm),
                b(&p.power),
                b(&p.band),
                b(&p.wheel),
                p.pulls,
                n(p.run),
                n(p.rig)
            )
            .unwrap();
        }
        for (what, p) in [("power", &s.peak_power), ("torque", &s.peak_torque)] {
            writeln!(t, "  peak {what} {} at {} {}", b(&p.value), n(p.rpm), p.at_edge).unwrap();
        }
        writeln!(
            t,
            "  repeat {} on {} {}; drawn {} to {}",
            n(s.repeatability.0),
            n(s.repeatability.1),
            s.repeatability_assumed,
            n(s.monte_carlo.0),
            n(s.monte_carlo.1)
        )
        .unwrap();
        if let Some(k) = &s.soak {
            writeln!(t, "  soak {} {} {} {}", b(&k.per_pull), n(k.first_to_last), n(k.heat), k.in_kelvin)
                .unwrap();
        }
        for r in &s.restated {
            writeln!(
                t,
                "  {}: {:?} {} {:?}",
                r.standard,
                r.figure.as_ref().map(|(f, x)| (n(*f), b(x))),
                r.outside,
                r.notes
            )
            .unwrap();
        }
        for x in &s.budget {
            writeln!(t, "  {} ({:?}, {}): {}", x.source, x.part, x.input, n(x.relative)).unwrap();
        }
        for c in &s.channels {
            let few: Vec<String> = c.curve.iter().step_by(9).map(|x| n(*x)).collect();
            writeln!(
                t,
                "  {:?}: {} scatter {} of {}, at peak {}, {} to {}; {:?}; {}",
                c.role,
                b(&c.mean),
                n(c.scatter.0),
                c.scatter.1,
                b(&c.at_peak),
                n(c.extremes.0),
                n(c.extremes.1),
                c.per_pull.iter().map(|x| n(*x)).collect::<Vec<_>>(),
                few.join(" ")
            )
            .unwrap();
        }
    }
    for c in &out.comparisons {
        writeln!(t, "{} to {}: {:?}, mean {} = {} W, peak {} = {} W, smallest {}, within {}, more {:?}, soak {}, compensated {:?}", c.from, c.to, c.verdict, b(&c.mean), b(&c.mean_watts), b(&c.peak), b(&c.peak_watts), n(c.smallest_detectable), n(c.within), c.more_pulls, n(c.soak_removed), c.if_compensated.map(n)).unwrap();
        for (_, (rpm, x, band)) in c.curve.iter().enumerate().filter(|(k, _)| few(*k, c.curve.len())) {
            writeln!(t, "  {}: {} band {}", n(*rpm), b(x), b(band)).unwrap();
        }
        for r in &c.remarks {
            writeln!(t, "  {r}").unwrap();
        }
        for (role, x, y, change) in &c.channels {
            writeln!(t, "  {role:?} {} {} {}", n(*x), n(*y), b(change)).unwrap();
        }
    }
    for x in &out.notices {
        writeln!(t, "{x}").unwrap();
    }
    if let Some(w) = &out.worked {
        let all = [
            w.rpm,
            w.v,
            w.a,
            w.mass,
            w.brake,
            w.parasitic,
            w.contact,
            w.slip,
            w.rim,
            w.rim_acceleration,
            w.rotating,
            w.wheel,
            w.crank,
            w.corrected,
            w.factor,
            w.total_kpa,
            w.vapour_kpa,
            w.temperature_c,
            w.drag,
            w.handed,
            w.share,
        ];
        writeln!(t, "worked {}: {}", w.pull, all.map(n).join(" ")).unwrap();
    }
    t
}

/// Noise as of a recording on top: cells of the columns named by their places, each with what it may be off.
fn noisy(text: &str, seed: u64, by: &[f64]) -> String {
    let mut state = seed;
    let mut draw = move || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) as f64 / 1_073_741_824.0 - 1.0
    };
    let mut out = String::new();
    for (i, line) in text.lines().enumerate() {
        let cells: Vec<String> = line
            .split(',')
            .enumerate()
            .map(|(k, c)| match by.get(k) {
                Some(off) if i > 0 && *off > 0.0 => {
                    format!("{:.4}", c.parse::<f64>().unwrap() + off * (draw() + draw()))
                }
                _ => c.into(),
            })
            .collect();
        writeln!(out, "{}", cells.join(",")).unwrap();
    }
    out
}

fn numbers(name: &str) -> (usize, usize) {
    (usize::from(name.as_bytes()[0] - b'0'), usize::from(name.as_bytes()[2] - b'0'))
}

/// Logs of a kind that differ from pull to pull, the second state 3 % stronger.
fn log(kind: Kind, name: &str) -> Log {
    let (state, pull) = numbers(name);
    let mut log = Log::new(kind);
    log.acceleration *= [1.0, 0.996, 1.005, 0.999][pull] * [1.0, 1.03][state];
    log
}

fn reduced(job: &str, logs: &dyn Fn(&str) -> String) -> String {
    figures(&made::reduced(job, logs).unwrap_or_else(|e| panic!("{e}")))
}

#[test]
fn inertia_roller_with_channels() {
    let columns = "[columns.intake_temperature]\nname = \"Intake\"\nunit = \"C\"\n[columns.charge_temperature]\nname = \"Charge\"\nunit = \"C\"\n[columns.manifold_pressure]\nname = \"Manifold\"\nunit = \"kPa\"\nreference = \"gauge\"\n[columns.lambda]\nname = \"Lambda\"\n";
    let job = made::job(Kind::Inertia, &[4, 3], "")
        .replace("[columns.time]", &format!("{columns}[columns.time]"))
        .replace("standard = \"iso-1585\"\n", "standard = \"iso-1585\"\nalso = [\"iso-1585-2020\"]\n");
    insta::assert_snapshot!(reduced(&job, &|name| {
        let (state, pull) = numbers(name);
        let mut log = log(Kind::Inertia, name);
        log.coast = if name == "0-2.csv" { 0.0 } else { 30.0 };
        log.more = vec![
            ("Intake", 25.0 + 2.0 * pull as f64),
            ("Charge", 38.0 + 4.0 * pull as f64),
            ("Manifold", 80.0 + 9.0 * state as f64),
            ("Lambda", 0.9),
        ];
        noisy(&log.text(), 11 + 7 * (4 * state + pull) as u64, &[0.0, 0.04, 4.0, 0.3, 0.3, 0.5, 0.01])
    }));
}

#[test]
fn braked_roller_late_and_off_zero() {
    insta::assert_snapshot!(reduced(
        &made::job(Kind::Braked, &[3, 2], "from = \"2450rpm\"\nsmoothing = \"150rpm\""),
        &|name| {
            let (state, pull) = numbers(name);
            let mut log = log(Kind::Braked, name);
            (log.late, log.zero) = (0.08, 25.0 + 3.0 * pull as f64);
            noisy(&log.text(), 5 + 7 * (4 * state + pull) as u64, &[0.0, 0.04, 4.0, 9.0])
        }
    ));
}

#[test]
fn hub_rig_in_one_day() {
    let job = made::job(Kind::Hub, &[3, 3], "").replace("2026-05-12T1", "2026-05-11T2");
    insta::assert_snapshot!(reduced(&job, &|name| {
        let (state, pull) = numbers(name);
        let mut log = log(Kind::Hub, name);
        log.late = 0.05;
        noisy(&log.text(), 2 + 7 * (4 * state + pull) as u64, &[0.0, 0.3, 4.0, 3.0])
    }));
}

/// No engine speed, no start times, no coast-down.
#[test]
fn inertia_roller_with_little_else() {
    let job = made::job(Kind::Inertia, &[2, 1], "")
        .replace("[columns.engine_speed]\nname = \"Engine\"\nunit = \"rpm\"\n", "");
    let job: String = job.lines().filter(|l| !l.starts_with("start = ")).map(|l| format!("{l}\n")).collect();
    insta::assert_snapshot!(reduced(&job, &|name| {
        let (state, pull) = numbers(name);
        let mut log = log(Kind::Inertia, name);
        (log.engine, log.coast) = (false, 0.0);
        noisy(&log.text(), 3 + 7 * (4 * state + pull) as u64, &[0.0, 0.04])
    }));
}

/// Ten rows a second, full load held from the beginning, a throttle, a speed that stands for half a second, and a clock that
/// starts anew with a second pull.
#[test]
fn braked_roller_coarse_and_faulty() {
    let columns = "[columns.throttle]\nname = \"Throttle\"\nunit = \"%\"\n";
    let job = made::job(Kind::Braked, &[1, 1], "")
        .replace("[columns.time]", &format!("{columns}[columns.time]"))
        .replace("\"100rpm\"", "\"250rpm\"");
    insta::assert_snapshot!(reduced(&job, &|name| {
        let (state, pull) = numbers(name);
        let mut log = log(Kind::Braked, name);
        (log.rate, log.hold) = (if state == 0 { 10.0 } else { 50.0 }, if state == 0 { 100.0 } else { 1.4 });
        log.more = vec![("Throttle", 92.0)];
        let text = noisy(&log.text(), 9 + 7 * (4 * state + pull) as u64, &[0.0, 0.03, 3.0, 6.0, 0.2]);
        if state == 0 {
            return text;
        }
        let mut held = String::new();
        let mut kept = String::new();
        for line in text.lines() {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            let at = cells[0].parse::<f64>().unwrap_or(0.0);
            if (6.0..6.5).contains(&at) {
                cells[1].clone_from(&kept);
            }
            // foot off before the pull and after it
            if !(1.0..=10.4).contains(&at) {
                cells[4] = if at == 0.0 { cells[4].clone() } else { "0.5".into() };
            }
            kept.clone_from(&cells[1]);
            writeln!(held, "{}", cells.join(",")).unwrap();
        }
        let again: String = text.lines().skip(1).map(|l| format!("{l}\n")).collect();
        format!("{held}{again}")
    }));
}

/// Losses of elements, of a gearbox and of a band instead of coast-downs.
#[test]
fn other_losses() {
    let job = made::job(Kind::Inertia, &[1], "");
    let share = "load_share = \"2%\"\nload_share_u = \"0.3%\"\n";
    assert!(job.contains(share));
    let mut all = String::new();
    for loss in [
        "model = \"element-efficiencies\"\nelements = [\"helical-gear\", \"bevel-gear\"]\n",
        "model = \"ec-light-duty-gearbox\"\n",
        "model = \"eu-2017-2400\"\nmax_input_torque = \"500Nm\"\ndirect_gear = false\n",
        "model = \"prior-band\"\n",
        "model = \"coast-down\"\nconstant_drag = \"900W\"\nconstant_drag_u = \"200W\"\n",
        "model = \"coast-down\"\nload_share = \"3%\"\n",
    ] {
        let gearbox = "engine_inertia_u = \"3%\"\n";
        let job = job.replace(share, loss).replace(gearbox, &format!("{gearbox}gearbox = \"manual\"\n"));
        match made::reduced(&job, &|name| noisy(&log(Kind::Inertia, name).text(), 8, &[0.0, 0.04, 4.0])) {
            Ok(out) => writeln!(all, "{loss}{}", figures(&out)).unwrap(),
            Err(e) => writeln!(all, "{loss}{e}").unwrap(),
        }
    }
    insta::assert_snapshot!(all);
}

/// The committed demo job on its own standard.
#[test]
fn the_demo_job() {
    let folder = format!("{}/../../fixtures/demo", env!("CARGO_MANIFEST_DIR"));
    let job = std::fs::read_to_string(format!("{folder}/job.toml")).unwrap();
    let job = job.replace("also = [\"sae-j1349\", \"din-70020\"]", "also = [\"iso-1585-2020\"]");
    let job = Job::parse(&job, "job.toml").unwrap_or_else(|e| panic!("{e}"));
    let mut read = |name: &str| std::fs::read(format!("{folder}/{name}")).map_err(|e| e.to_string());
    let out = reduce(&job, &made::catalogue(), &mut read, &mut |_, _| true).unwrap_or_else(|e| panic!("{e}"));
    insta::assert_snapshot!(figures(&out));
}
