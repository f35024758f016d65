//! The demo job: an invented hatchback and an invented workshop, a stage package before and after.

use core::fmt::Write;

use crate::{
    Declared, Dialect, Drag, EngineSensor, Fault, ForceSensor, Gain, Header, Instrument, LogPlan, Program,
    Resolution, Response, Rig, RigKind, Role, Run, Scenario, Soak, SpeedSensor, State, Stress, TorqueCurve,
    Vehicle, Weather,
};

/// Seed of the committed files: the first whose hidden errors and levels all stay within 1.5 standard deviations, so
/// that the demo shows an ordinary job and not a freak.
pub const DEMO_SEED: u64 = 3;

/// The invented car.
#[must_use]
pub fn demo_vehicle() -> Vehicle {
    Vehicle {
        name: "Demo hatch (invented)".into(),
        torque: TorqueCurve {
            plateau_nm: 297.0,
            rise_at: 1500.0,
            rise_width: 260.0,
            fall_at: 6900.0,
            fall_width: 700.0,
            ripple: 0.004,
            ripple_period: 1900.0,
        },
        response: Response::Density,
        turbocharged: true,
        displacement_cm3: 1984.0,
        cylinders: 4,
        stroke_mm: 92.8,
        driven_wheels: 2,
        tyre_radius_m: 0.316,
        ratio: 5.62,
        engine_inertia: 0.16,
        gearbox_inertia: 0.02,
        wheel_inertia: 1.1,
        load_share: 0.02,
        drag: Drag { a: 240.0, b: 4.5, c: 0.05, per_kelvin: -0.004 },
        slip_per_newton: 4.0e-6,
        torque_per_soak_kelvin: 0.001,
        idle_rpm: 850.0,
        start_rpm: 1700.0,
        end_rpm: 6600.0,
        fuel: "RON 98".into(),
    }
}

/// The invented roller.
#[must_use]
pub fn demo_rig() -> Rig {
    Rig {
        kind: RigKind::InertiaRoller,
        inertia: 21.5,
        radius_m: 0.159,
        parasitic: [12.0, 0.3, 0.01],
        ramp: 0.0,
        brake_lag_s: 0.1,
    }
}

/// A common measuring system: 50 Hz, speed from a wheel of 360 pulses, ignition pick-up.
#[must_use]
pub fn demo_instrument() -> Instrument {
    Instrument {
        rate_hz: 50.0,
        jitter: 0.02,
        speed: SpeedSensor {
            resolution: Resolution::Step(0.01),
            pitch_error: 0.0002,
            noise_kmh: 0.05,
            lag_s: 0.0,
            delay_s: 0.0,
        },
        engine: EngineSensor { present: true, noise_rpm: 12.0, dropout: 0.0, delay_s: 0.02 },
        force: ForceSensor { noise_n: 8.0, drift_n_per_min: 0.0, lag_s: 0.03, delay_s: 0.0 },
        stress: vec![
            Role::IntakeTemperature,
            Role::ChargeTemperature,
            Role::ManifoldPressure,
            Role::PreTurbinePressure,
            Role::ExhaustTemperature,
            Role::Lambda,
            Role::SparkAdvance,
        ],
        stress_noise: 1.0,
        gauge: vec![Role::PreTurbinePressure],
    }
}

/// One pull with its coast-down, as the demo car is driven.
#[must_use]
pub fn usual_program(end_rpm: f64) -> Program {
    Program { lead_s: 1.5, open_s: 0.3, end_rpm, coast_to: 12.5, coast_s: 60.0, brake_after: false }
}

fn plans() -> Vec<LogPlan> {
    let run = usual_program(demo_vehicle().end_rpm);
    let plain = |state: usize| LogPlan {
        state,
        programs: vec![run],
        faults: Vec::new(),
        dialect: Dialect::default(),
        extra: None,
    };
    let units_row = Dialect { header: Header::UnitsRow, ..Dialect::default() };
    let first =
        LogPlan { faults: vec![Fault::Spike { role: Role::RollerSpeed, at_s: 5.0, by: 34.0 }], ..plain(0) };
    let second = LogPlan {
        dialect: Dialect { delimiter: ';', decimal: ',', crlf: true, ..Dialect::default() },
        ..plain(0)
    };
    let third = LogPlan {
        dialect: Dialect {
            preamble: vec![
                "Invented recording, no real car, shop or person".into(),
                "Gear 4, cell fan on".into(),
            ],
            ..units_row.clone()
        },
        faults: vec![Fault::Gap { from_s: 24.0, length_s: 0.36 }],
        ..plain(0)
    };
    let fourth = LogPlan {
        faults: vec![Fault::RepeatedStamp { at_s: 4.2 }, Fault::BackwardStamp { at_s: 30.0 }],
        dialect: Dialect { bom: true, ..Dialect::default() },
        ..plain(0)
    };
    let fifth = LogPlan {
        faults: vec![Fault::Dropout { role: Role::EngineSpeed, from_s: 5.6, length_s: 0.24 }],
        dialect: Dialect { quoted: true, ..Dialect::default() },
        ..plain(1)
    };
    let sixth = LogPlan {
        dialect: Dialect { latin1: true, delimiter: ';', ..units_row },
        extra: Some(("Öltemperatur".into(), "°C".into())),
        ..plain(1)
    };
    let again = Program { coast_s: 26.0, ..run };
    let seventh = LogPlan { programs: vec![Program { brake_after: true, ..again }, again], ..plain(1) };
    let eighth = LogPlan {
        dialect: Dialect { delimiter: '\t', ..Dialect::default() },
        faults: vec![Fault::Blank { role: Role::Lambda, from_s: 20.0, length_s: 0.5 }],
        ..plain(1)
    };
    vec![first, second, third, fourth, fifth, sixth, seventh, eighth]
}

/// What is planted in each log of the demo, in words.
pub const PLANTED: [(&str, &str); 8] = [
    ("before-1.csv", "spike of +34 km/h in the roller speed at 5.0 s"),
    ("before-2.csv", "semicolons, decimal comma, CRLF line ends"),
    ("before-3.csv", "comment lines, units row, gap of 0.36 s in the coast-down at 24.0 s"),
    ("before-4.csv", "byte order mark, repeated time stamp at 4.2 s, backward time stamp at 30.0 s"),
    ("after-1.csv", "quoted header, engine speed reads 0 from 5.6 s for 0.24 s"),
    ("after-2.csv", "Latin-1 header, units row, a column nobody asked for"),
    ("after-3.csv", "two pulls in one recording, braked back between them"),
    ("after-4.csv", "tabs, blank lambda cells from 20.0 s for 0.5 s"),
];

/// The demo job.
#[must_use]
pub fn demo_scenario() -> Scenario {
    let before = Stress {
        boost_kpa: 82.0,
        back_pressure_kpa: 128.0,
        charge_rise_k: 24.0,
        exhaust_c: 905.0,
        lambda: 0.86,
        spark_deg: 17.0,
        efficiency: 0.29,
    };
    let after = Stress {
        boost_kpa: 90.0,
        back_pressure_kpa: 93.0,
        charge_rise_k: 19.0,
        exhaust_c: 880.0,
        lambda: 0.88,
        spark_deg: 18.5,
        efficiency: 0.30,
    };
    Scenario {
        title: "Stage package, invented demo".into(),
        vehicle: demo_vehicle(),
        rig: demo_rig(),
        instrument: demo_instrument(),
        declared: Declared {
            roller_inertia: 0.0025,
            roller_radius: 0.0003,
            load_share: 0.002,
            ..Declared::USUAL
        },
        hide: true,
        ratio_error: 0.0,
        repeatability: 0.004,
        soak: Soak { charge_k: 5.0, driveline_k: 8.0, pulls: 2.0, continues: false },
        states: vec![
            State {
                name: "before".into(),
                gain: Gain::NONE,
                air: Weather::new(985.0, 24.0, 55.0),
                stress: before,
                date: "2026-05-11".into(),
                first_minute: 602,
            },
            State {
                name: "after".into(),
                gain: Gain { base: 0.06, top: 0.032, at: 4900.0, width: 350.0 },
                air: Weather::new(1002.0, 17.0, 48.0),
                stress: after,
                date: "2026-05-13".into(),
                first_minute: 561,
            },
        ],
        logs: plans(),
        spacing_minutes: 7,
        standards: vec!["iso-1585".into(), "sae-j1349".into(), "din-70020".into()],
        step: 0.001,
    }
}

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
        ("job.toml".to_string(), run.job.to_toml().into_bytes()),
        ("truth.toml".to_string(), truth_toml(&run, seed).into_bytes()),
    ];
    files.extend(run.logs.into_iter().map(|log| (log.file, log.bytes)));
    files
}
