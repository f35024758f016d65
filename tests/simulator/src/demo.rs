//! The demo job: an invented hatchback and an invented workshop, a stage package before and after.

use crate::{
    Declared, Dialect, Drag, EngineSensor, Fault, ForceSensor, Gain, Header, Instrument, LogPlan, Program,
    Resolution, Response, Rig, RigKind, Role, Scenario, Soak, SpeedSensor, State, Stress, TorqueCurve,
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
        displacement_cm3: 1950.0,
        cylinders: 4,
        stroke_mm: 90.0,
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
        // A workshop with good certificates, so that the demo shows the method more than the rig.
        declared: Declared {
            roller_inertia: 0.002,
            roller_radius: 0.0003,
            engine_inertia: 0.03,
            load_share: 0.0015,
            humidity: 0.02,
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
