//! What a rig or a recording does wrong, with its true power known: taken out and said, or refused with its mend.
#![allow(clippy::unwrap_used, clippy::panic, clippy::expect_used)]

mod made;

use fairpull_reduction::{Job, Outcome, ReduceError, reduce};
use made::{Kind, Log};

fn alone(log: &Log) -> Outcome {
    made::reduced(&made::job(log.kind, &[1], ""), &|_| log.text()).unwrap_or_else(|e| panic!("{e}"))
}

/// Largest relative error of the crank power from 2500 1/min up.
fn error(log: &Log, out: &Outcome) -> f64 {
    let state = &out.states[0];
    let points = state.curve.iter().filter(|p| p.rpm >= 2500.0);
    points
        .map(|p| (p.power.value / state.pulls[0].factor / log.crank(log.when(p.rpm)) - 1.0).abs())
        .fold(0.0, f64::max)
}

fn flags(out: &Outcome) -> String {
    out.states.iter().flat_map(|s| &s.pulls).flat_map(|p| p.flags.clone()).collect::<Vec<_>>().join("\n")
}

/// The reading of the released brake is taken off and said from 0.2 % of full load; a brake that is on is none.
#[test]
fn the_zero_of_a_load_cell() {
    let mut log = Log::new(Kind::Braked);
    for zero in [-30.0, 14.0] {
        log.zero = zero;
        let out = alone(&log);
        let said = format!("the force reads {zero:+.1} N with the brake released (");
        assert!(flags(&out).contains(&said), "{}", flags(&out));
        assert!(flags(&out).contains(&format!("{zero:+.1} N is taken off in the pull")), "{}", flags(&out));
        assert!(error(&log, &out) < 3e-4, "{}", error(&log, &out));
    }
    log.zero = 4.0;
    let out = alone(&log);
    assert!(!flags(&out).contains("the force reads") && error(&log, &out) < 3e-4, "{}", flags(&out));
    log.zero = 150.0;
    let out = alone(&log);
    assert!(flags(&out).contains("the force reads 150 N in the coast-down, which is more than a zero error"));
    // it stays in the figure: 150 of some 4000 N
    assert!((0.02..0.05).contains(&error(&log, &out)), "{}", error(&log, &out));
    // a hub keeps its torque in the coast-down: that is drag, not zero
    let mut hub = Log::new(Kind::Hub);
    hub.zero = 30.0;
    assert!(!flags(&alone(&hub)).contains("the force reads"));
}

/// A zero that wanders by 3 N a second is followed to the middle of the pull.
#[test]
fn a_zero_that_wanders() {
    let log = Log::new(Kind::Braked);
    let text: String = log
        .text()
        .lines()
        .enumerate()
        .map(|(i, line)| {
            let cells: Vec<&str> = line.split(',').collect();
            if i == 0 {
                return format!("{line}\n");
            }
            let (t, f): (f64, f64) = (cells[0].parse().unwrap(), cells[3].parse().unwrap());
            format!("{},{},{},{:.4}\n", cells[0], cells[1], cells[2], f + 1.5 * t - 20.0)
        })
        .collect();
    let out = made::reduced(&made::job(Kind::Braked, &[1], ""), &|_| text.clone()).unwrap();
    assert!(flags(&out).contains("(+90.0 N a minute)"), "{}", flags(&out));
    assert!(error(&log, &out) < 2e-3, "{}", error(&log, &out));
}

/// A delay of 120 ms is found, and its line says where it is from.
#[test]
fn a_delay_that_shows() {
    let found = {
        let mut shown = Log::new(Kind::Hub);
        shown.late = 0.12;
        alone(&shown)
    };
    let line = found.states[0].budget.iter().find(|b| b.source == "delay of the force channel").unwrap();
    assert!(line.input.starts_with("12") && line.input.ends_with("ms, from the pulls"), "{}", line.input);
    assert!(!found.notices.iter().any(|n| n.contains("delay of the force channel does not show")));
}

/// Standing channels: left out and said, and the power hardly moves.
#[test]
fn channels_that_stand_still() {
    let log = Log::new(Kind::Braked);
    let held = |column: usize, from: f64, to: f64| -> String {
        let mut keep: Option<String> = None;
        let mut out = String::new();
        for (i, line) in log.text().lines().enumerate() {
            let mut cells: Vec<String> = line.split(',').map(String::from).collect();
            if i > 0 && (from..to).contains(&cells[0].parse::<f64>().unwrap()) {
                cells[column] = keep.get_or_insert_with(|| cells[column].clone()).clone();
            }
            out.push_str(&cells.join(","));
            out.push('\n');
        }
        out
    };
    for (column, what, most) in [
        (1, "the speed stands still from", 1e-2),
        (2, "the engine speed stands still from", 2e-3),
        (3, "the force or torque stands still from", 1e-2),
    ] {
        let text = held(column, 6.0, 6.5);
        let out = made::reduced(&made::job(Kind::Braked, &[1], ""), &|_| text.clone()).unwrap();
        assert!(flags(&out).contains(what), "{}", flags(&out));
        assert!(flags(&out).contains("6.00 s to 6.4"), "{}", flags(&out));
        assert!(error(&log, &out) < most, "{what}: {}", error(&log, &out));
    }
    // four rows of one value are coarse, not standing
    let text = held(1, 6.0, 6.08);
    let out = made::reduced(&made::job(Kind::Braked, &[1], ""), &|_| text.clone()).unwrap();
    assert!(!flags(&out).contains("stands still"), "{}", flags(&out));
}

/// A pull without coast-down takes the mean drag of the others; without any the prior band stands in and says so.
#[test]
fn pulls_without_a_coast_down() {
    let text = |name: &str| {
        let mut log = Log::new(Kind::Inertia);
        log.coast = if name == "0-1.csv" { 0.0 } else { 40.0 };
        log.text()
    };
    let out = made::reduced(&made::job(Kind::Inertia, &[3], ""), &text).unwrap();
    let said = "0-1.csv: no coast-down of its own (the recording ends with the pull); the mean drag of the other pulls is used";
    assert!(out.notices.iter().any(|n| n == said), "{:?}", out.notices);
    assert_eq!(out.loss_model, "coast-down");
    let at = |k: usize| out.states[0].pulls[k].curve.iter().copied().filter(|x| x.is_finite()).sum::<f64>();
    assert!((at(1) / at(0) - 1.0).abs() < 1e-2 && out.states[0].pulls[1].coast.starts_with("none: "));
    let none = |_: &str| {
        let mut log = Log::new(Kind::Inertia);
        log.coast = 0.0;
        log.text()
    };
    let out = made::reduced(&made::job(Kind::Inertia, &[2], ""), &none).unwrap();
    assert_eq!(out.loss_model, "prior-band");
    assert!(out.notices.iter().any(|n| n.starts_with("no log holds a usable coast-down")));
    // three times its own uncertainty, everywhere and along the speed
    let line =
        |source: &str| out.states[0].budget.iter().find(|b| b.source == source).map(|b| b.relative).unwrap();
    assert!(line("loss model") > 0.05 && line("loss model, along the speed") > 0.0);
}

#[test]
fn ranges_grids_and_logs_that_do_not_fit() {
    let log = Log::new(Kind::Inertia);
    let job = |grid: &str| made::job(Kind::Inertia, &[1], grid);
    let said = |text: &str| match made::reduced(text, &|_| log.text()) {
        Ok(out) => {
            format!("{:.0} to {:.0}, {} points", out.grid[0], out.grid[out.grid.len() - 1], out.grid.len())
        }
        Err(e) => e.to_string(),
    };
    assert_eq!(said(&job("from = \"3010rpm\"\nto = \"4990rpm\"")), "3100 to 4900, 19 points");
    assert_eq!(said(&job("from = \"3000rpm\"\nto = \"5000rpm\"")), "3000 to 5000, 21 points");
    let none = said(&job("from = \"3000rpm\"\nto = \"3150rpm\""));
    assert!(
        none.contains("no grid of engine speed is left: the pulls run from 22")
            && none.contains("leave 3000 to 3150 in steps of 100"),
        "{none}"
    );
    assert!(said(&job("from = \"3000rpm\"\nto = \"3200rpm\"")).starts_with("3000 to 3200"));
    // pulls that share no speeds
    let apart = |name: &str| {
        let mut log = Log::new(Kind::Inertia);
        log.acceleration = if name == "0-0.csv" { 3.4 } else { 3.0 };
        let text = log.text();
        let from = if name == "0-0.csv" { 6.0 } else { 0.0 };
        let to = if name == "0-0.csv" { 99.0 } else { 6.0 };
        text.lines()
            .enumerate()
            .filter(|(i, l)| {
                *i == 0 || (from..to).contains(&l.split(',').next().unwrap().parse::<f64>().unwrap())
            })
            .map(|(_, l)| format!("{l}\n"))
            .collect()
    };
    let e = made::reduced(&made::job(Kind::Inertia, &[2], ""), &apart).unwrap_err();
    assert!(matches!(e, ReduceError::NoOverlap(_)), "{e}");
    assert!(e.to_string().contains("0-0.csv") && e.to_string().contains("0-1.csv"), "{e}");
}

#[test]
fn unknown_plug_ins_missing_logs_and_a_cancelled_job() {
    let log = Log::new(Kind::Inertia);
    let job = made::job(Kind::Inertia, &[2], "");
    let said =
        |text: &str| made::reduced(text, &|_| log.text()).map_or_else(|e| e.to_string(), |_| "done".into());
    let standard = said(&job.replace("\"iso-1585\"", "\"iso-1558\""));
    assert!(
        standard.starts_with("basis.standard \"iso-1558\" is not in the catalogue; nearest: iso-1585"),
        "{standard}"
    );
    let loss = said(&job.replace("[loss]\n", "[loss]\nmodel = \"coast-up\"\n"));
    assert!(
        loss.starts_with("loss.model \"coast-up\" is not in the catalogue; nearest: coast-down, "),
        "{loss}"
    );
    let parsed = Job::parse(&job, "job.toml").unwrap();
    let mut seen = Vec::new();
    let mut read =
        |name: &str| Ok::<_, String>(made::another(&log.text(), u64::from(name == "0-1.csv")).into_bytes());
    let e = reduce(&parsed, &made::catalogue(), &mut read, &mut |done, of| {
        seen.push((done, of));
        done < 2
    })
    .unwrap_err();
    assert_eq!((e, seen), (ReduceError::Cancelled, vec![(1, 2), (2, 2)]));
    let mut gone =
        |name: &str| if name == "0-1.csv" { Err("no such file".into()) } else { Ok(log.text().into_bytes()) };
    let e = reduce(&parsed, &made::catalogue(), &mut gone, &mut |_, _| true).unwrap_err();
    assert_eq!(e.to_string(), "0-1.csv: no such file");
    let mut short = |_: &str| {
        Ok::<_, String>(
            log.text().lines().take(16).map(|l| format!("{l}\n")).collect::<String>().into_bytes(),
        )
    };
    let e = reduce(&parsed, &made::catalogue(), &mut short, &mut |_, _| true).unwrap_err();
    assert!(e.to_string().contains("only 15 rows have a speed"), "{e}");
    let all_skipped = job.replace("start = ", "skip = \"slipped\"\nstart = ");
    assert!(
        said(&all_skipped).contains("every log of state \"state 0\" is left out"),
        "{}",
        said(&all_skipped)
    );
    let one_skipped = job.replacen("start = ", "skip = \"slipped\"\nstart = ", 1);
    let out = made::reduced(&one_skipped, &|_| log.text()).unwrap();
    assert_eq!(out.states[0].pulls.len(), 1);
    assert!(out.notices.iter().any(|n| n == "0-0.csv is left out by the job: slipped"), "{:?}", out.notices);
}

/// Other columns travel with the pull; an intake that is warmer than the job's air is said.
#[test]
fn columns_beside_the_power() {
    let columns = "[columns.intake_temperature]\nname = \"Intake\"\nunit = \"C\"\n[columns.manifold_pressure]\nname = \"Manifold\"\nunit = \"kPa\"\nreference = \"gauge\"\n";
    let job =
        made::job(Kind::Inertia, &[2, 1], "").replace("[columns.time]", &format!("{columns}[columns.time]"));
    let text = |name: &str| {
        let mut log = Log::new(Kind::Inertia);
        let intake = if name == "0-1.csv" { 29.5 } else { 24.5 };
        log.more = vec![("Intake", intake), ("Manifold", 80.0)];
        log.text()
    };
    let out = made::reduced(&job, &text).unwrap_or_else(|e| panic!("{e}"));
    let said = out.notices.iter().find(|n| n.contains("recorded intake temperature")).unwrap();
    assert!(
        said.starts_with("0-1.csv, 1-0.csv: the recorded intake temperature is -2.5 to +5.5 K from"),
        "{said}"
    );
    let pressure = |s: usize| {
        let c = out.states[s]
            .channels
            .iter()
            .find(|c| c.role == fairpull_recordings::Role::ManifoldPressure)
            .unwrap();
        (c.mean.value / 1e3, c.at_peak.value / 1e3, c.per_pull.len())
    };
    // on the barometer of each state
    let near = |(a, b, n): (f64, f64, usize), kpa: f64, pulls: usize| {
        assert!((a - kpa).abs() < 1e-3 && (b - kpa).abs() < 1e-3 && n == pulls, "{a} {b} {n}");
    };
    near(pressure(0), 178.5, 2);
    near(pressure(1), 177.8, 1);
    let change = out.comparisons[0]
        .channels
        .iter()
        .find(|c| c.0 == fairpull_recordings::Role::ManifoldPressure)
        .unwrap();
    assert!((change.2 - change.1 - change.3.value).abs() < 1.0 && change.3.low.is_nan());
}

/// A force channel that is late by 0.1 s has forgotten the take-up of the brake three times that later: the pull begins there.
#[test]
fn a_late_channel_begins_later() {
    let start = |late: f64| {
        let mut log = Log::new(Kind::Hub);
        log.late = late;
        alone(&log).states[0].pulls[0].start
    };
    let later = start(0.1) - start(0.0);
    assert!((0.28..0.33).contains(&later), "{later}");
}

/// A charge temperature makes the heat of the pulls one of kelvins; an intake temperature does not.
#[test]
fn heat_in_kelvins_of_the_charge() {
    for (column, in_kelvin) in [("charge_temperature", true), ("intake_temperature", false)] {
        let columns = format!("[columns.{column}]\nname = \"Air\"\nunit = \"C\"\n[columns.time]");
        let job = made::job(Kind::Inertia, &[4, 3], "").replace("[columns.time]", &columns);
        let text = |name: &str| {
            let pull = f64::from(name.as_bytes()[2] - b'0');
            let mut log = Log::new(Kind::Inertia);
            log.acceleration *= 1.0 - 0.002 * pull;
            log.more = vec![("Air", 40.0 + 5.0 * pull)];
            log.text()
        };
        let out = made::reduced(&job, &text).unwrap_or_else(|e| panic!("{e}"));
        let soak = out.states[0].soak.unwrap();
        assert_eq!(soak.in_kelvin, in_kelvin);
        assert!(if in_kelvin { soak.heat > 5.0 } else { soak.heat <= 1.0 }, "{soak:?}");
    }
}
